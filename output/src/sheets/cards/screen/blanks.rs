//! Lines to write on: paper has them, a screen that takes no writing does not.

use std::borrow::Cow;

/// Words that only name a blank: they go with it.
const NAMES: [&str; 9] = ["found", "Found", "block", "machine", "for", "on", "made", "plan", "\u{b7}"];

/// A text without its blanks. Axes stay: "anew X Y Z" still says what is read anew.
pub(super) fn unwritten(text: &str) -> Cow<'_, str> {
    if !text.contains("____") {
        return text.into();
    }
    let mut kept: Vec<String> = Vec::new();
    for word in text.split(' ') {
        if !word.starts_with("____") {
            kept.push(word.to_owned());
            continue;
        }
        while kept.last().is_some_and(|last| NAMES.contains(&last.as_str())) {
            kept.pop();
        }
        let behind = word.trim_start_matches('_');
        if let Some(last) = kept.last_mut() {
            // What led to the blank leads nowhere now.
            let led = last.trim_end_matches([':', ',', ';']).len();
            last.truncate(led);
            last.push_str(behind);
        }
    }
    kept.join(" ").into()
}

#[cfg(test)]
mod tests {
    use super::unwritten;

    #[test]
    fn a_blank_goes_with_its_name_and_what_leads_to_it() {
        for (text, told) in [
            ("since: anew X ______ Y ______ Z ______. The deck", "since: anew X Y Z. The deck"),
            ("Found Y ______ Z ______; by over 0.010 mm", "Found Y Z; by over 0.010 mm"),
            ("deck: 45.000 mm, found ____________. Another", "deck: 45.000 mm. Another"),
            ("within 2 °C: block ______ machine ______", "within 2 °C"),
            ("says at what: ______________ for ____________. Record", "says at what. Record"),
            ("as measured ________ STOP", "as measured STOP"),
            ("is right. Found ____________", "is right."),
            ("(head_bolts in the job): ______________", "(head_bolts in the job)"),
            ("program 0.1.0 · plan made on ____________", "program 0.1.0"),
            ("a file of_two", "a file of_two"),
        ] {
            assert_eq!(unwritten(text), told);
        }
    }
}
