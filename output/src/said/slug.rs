//! File name parts made from a shop's own words.

/// Long enough to tell banks apart, short enough for old controls and memory sticks.
const LONGEST: usize = 24;

/// Lower-case letters, digits and single hyphens only, so that no word of a job can name a folder, a
/// device or an option; a word without any of them becomes `bank`.
pub(crate) fn slug(word: &str) -> String {
    let mut made = String::new();
    for c in word.chars() {
        if made.len() >= LONGEST {
            break;
        }
        if c.is_ascii_alphanumeric() {
            made.push(c.to_ascii_lowercase());
        } else if !made.is_empty() && !made.ends_with('-') {
            made.push('-');
        }
    }
    let made = made.trim_end_matches('-');
    if made.is_empty() { "bank".to_owned() } else { made.to_owned() }
}

/// The name itself, or with the first free number behind it where it is taken already.
pub(crate) fn distinct(name: String, taken: &mut Vec<String>) -> String {
    let mut free = name.clone();
    let mut number = 2_u32;
    while taken.contains(&free) {
        free = format!("{name}-{number}");
        number += 1;
    }
    taken.push(free.clone());
    free
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_word_becomes_a_path() {
        assert_eq!(slug("../x"), "x");
        assert_eq!(slug("Left Bank (front)"), "left-bank-front");
        assert_eq!(slug("\u{202e}ÄÖ\n"), "bank");
        assert_eq!(slug("-rf"), "rf");
        assert!(slug(&"long ".repeat(500)).len() <= LONGEST);
    }

    #[test]
    fn equal_names_are_told_apart() {
        let mut taken = Vec::new();
        let names = ["a", "a-2", "a", "a"].map(|n| distinct(n.to_owned(), &mut taken));
        assert_eq!(names, ["a", "a-2", "a-3", "a-4"]);
    }
}
