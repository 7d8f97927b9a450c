//! The subject of a finding, and so which bores it holds.

use std::fmt;

use serde::{Serialize, Serializer};

/// What a finding is about.
///
/// Everything but bores and banks concerns the whole block, so that a finding holds every bore it may affect.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Subject {
    /// One bore or several, by their cylinders.
    Cylinders(Vec<u32>),
    /// A bank, by its name as the block's description has it.
    Bank(String),
    /// A set-up, by its name as the job has it.
    SetUp(String),
    /// Anything else: the block, an instrument, a sleeve, a limit.
    Whole(String),
}

impl Subject {
    /// One bore.
    #[must_use]
    pub fn cylinder(number: u32) -> Self {
        Self::Cylinders(vec![number])
    }

    /// A bank.
    pub fn bank(name: impl Into<String>) -> Self {
        Self::Bank(name.into())
    }

    /// A set-up.
    pub fn set_up(name: impl Into<String>) -> Self {
        Self::SetUp(name.into())
    }

    /// Anything but bores, a bank and a set-up.
    pub fn whole(what: impl Into<String>) -> Self {
        Self::Whole(what.into())
    }

    /// One bore, or a bank where none is named.
    #[must_use]
    pub fn of(cylinder: Option<u32>, bank: &str) -> Self {
        cylinder.map_or_else(|| Self::bank(bank), Self::cylinder)
    }

    /// The subject from the words that a plan on the disk has for it.
    #[must_use]
    pub fn read(text: &str) -> Self {
        let numbers = text.strip_prefix("cylinders ").or_else(|| text.strip_prefix("cylinder "));
        let numbers =
            numbers.and_then(|all| all.split(", ").map(|n| n.parse().ok()).collect::<Option<Vec<u32>>>());
        match (numbers, text.strip_prefix("bank "), text.strip_prefix("set-up ")) {
            (Some(numbers), ..) => Self::Cylinders(numbers),
            (None, Some(name), _) => Self::bank(name),
            (None, None, Some(name)) => Self::set_up(name),
            _ => Self::whole(text),
        }
    }

    /// The cylinders of several subjects; none where one of them is of anything but bores.
    pub fn bores<'a>(all: impl IntoIterator<Item = &'a Self>) -> Option<Vec<u32>> {
        let of_bores = |subject: &'a Self| match subject {
            Self::Cylinders(own) => Some(own.as_slice()),
            _ => None,
        };
        let all: Option<Vec<&[u32]>> = all.into_iter().map(of_bores).collect();
        all.map(|bores| bores.concat())
    }

    /// Whether the subject is this bore and no other.
    #[must_use]
    pub fn is_cylinder(&self, number: u32) -> bool {
        matches!(self, Self::Cylinders(own) if own.as_slice() == [number])
    }

    /// Whether the subject concerns a bank as a whole.
    #[must_use]
    pub fn concerns_bank(&self, bank: &str) -> bool {
        match self {
            Self::Cylinders(_) => false,
            Self::Bank(name) => name == bank,
            Self::SetUp(_) | Self::Whole(_) => true,
        }
    }

    /// Whether the subject concerns a bore of this bank.
    #[must_use]
    pub fn concerns(&self, cylinder: u32, bank: &str) -> bool {
        match self {
            Self::Cylinders(own) => own.contains(&cylinder),
            Self::Bank(name) => name == bank,
            Self::SetUp(_) | Self::Whole(_) => true,
        }
    }
}

impl fmt::Display for Subject {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Cylinders(own) => {
                let numbers: Vec<String> = own.iter().map(u32::to_string).collect();
                let word = if own.len() == 1 { "cylinder" } else { "cylinders" };
                write!(f, "{word} {}", numbers.join(", "))
            }
            Self::Bank(name) => write!(f, "bank {name}"),
            Self::SetUp(name) => write!(f, "set-up {name}"),
            Self::Whole(what) => f.write_str(what),
        }
    }
}

/// Bores in a sentence: "cylinder 2", "cylinders 2 and 4", "cylinders 2, 4 and 6".
pub fn cylinder_words<T: fmt::Display>(cylinders: &[T]) -> String {
    let words: Vec<String> = cylinders.iter().map(ToString::to_string).collect();
    match words.as_slice() {
        [] => "no cylinder".to_owned(),
        [one] => format!("cylinder {one}"),
        [before @ .., last] => format!("cylinders {} and {last}", before.join(", ")),
    }
}

impl Serialize for Subject {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.collect_str(self)
    }
}

#[cfg(test)]
mod tests {
    use super::{Subject, cylinder_words};

    #[test]
    fn several_bores_are_named_as_several() {
        assert_eq!(cylinder_words(&[2]), "cylinder 2");
        assert_eq!(cylinder_words(&[2, 4]), "cylinders 2 and 4");
        assert_eq!(cylinder_words(&[2, 4, 6]), "cylinders 2, 4 and 6");
    }

    #[test]
    fn what_is_written_is_read_as_what_it_was() {
        let all = [
            Subject::cylinder(3),
            Subject::Cylinders(vec![1, 3, 5]),
            Subject::bank("left"),
            Subject::bank("cylinder 3"),
            Subject::set_up("left bank up"),
            Subject::whole("block"),
        ];
        for subject in all {
            assert_eq!(Subject::read(&subject.to_string()), subject);
        }
    }

    #[test]
    fn only_what_names_other_bores_or_another_bank_leaves_a_bore_alone() {
        assert!(!Subject::cylinder(1).concerns(3, "left"));
        assert!(!Subject::bank("right").concerns(3, "left"));
        let own = [
            Subject::Cylinders(vec![1, 3]),
            Subject::bank("left"),
            Subject::set_up("right bank up"),
            Subject::whole("sleeves"),
        ];
        assert!(own.iter().all(|s| s.concerns(3, "left")));
    }
}
