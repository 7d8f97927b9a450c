//! Names cut short enough to stand in running text.

use borewright_planner::plan::Subject;

/// Longest name of a bank, sleeve or tool in running text; more is cut with an ellipsis.
const LONGEST_NAME: usize = 36;

/// A name short enough for running text.
pub(crate) fn shorten(name: &str) -> String {
    one_line(name, LONGEST_NAME)
}

/// A bank as it is called: "bank left", and one whose name says that it is a bank by its name alone.
pub(crate) fn bank(name: &str) -> String {
    let name = shorten(name);
    let says = name.split(|c: char| !c.is_alphanumeric()).any(|word| word.eq_ignore_ascii_case("bank"));
    if says { name } else { format!("bank {name}") }
}

/// A bank's name at the head of a line, with a capital.
pub(crate) fn bank_first(name: &str) -> String {
    first_large(&bank(name))
}

/// Words as they begin a line.
pub(crate) fn first_large(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// What a finding is of, as it is called: a bank's name may say that it is one.
pub(crate) fn subject(of: &Subject, longest: usize) -> String {
    match of {
        Subject::Bank(name) if bank(name) == shorten(name) => one_line(name, longest),
        _ => one_line(&of.to_string(), longest),
    }
}

/// At most so many characters, without line breaks.
pub(crate) fn one_line(text: &str, longest: usize) -> String {
    let words: Vec<&str> = text.split_whitespace().take(longest).collect();
    let line = words.join(" ");
    if line.chars().count() <= longest {
        return line;
    }
    let kept: String = line.chars().take(longest.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

#[cfg(test)]
mod tests {
    use super::{Subject, bank, bank_first, subject};

    #[test]
    fn a_bank_is_called_one_once() {
        assert_eq!((bank("left"), bank_first("left")), ("bank left".into(), "Bank left".into()));
        assert_eq!((bank("bank"), bank_first("bank")), ("bank".into(), "Bank".into()));
        assert_eq!((bank("Bank A"), bank("embankment")), ("Bank A".into(), "bank embankment".into()));
        assert_eq!(subject(&Subject::bank("bank"), 20), "bank");
        assert_eq!(subject(&Subject::bank("left"), 20), "bank left");
        assert_eq!(subject(&Subject::cylinder(3), 20), "cylinder 3");
    }
}
