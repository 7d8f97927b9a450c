//! Rounds of measuring: bores read more than once, and what was done with the block between.

use crate::job::{Front, Job, SetUp};

/// What was done with the block before a round, against the first round of its bank.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Handled {
    /// Nothing: read again as it stood.
    Again,
    /// Loosened and clamped again, the same way round.
    Clamped,
    /// Indexed away and back.
    Indexed,
    /// Turned end for end.
    Turned,
}

impl Handled {
    /// What a set's first word says: `clamped`, `indexed`, `turned`; `None` of any other name.
    #[must_use]
    pub fn of_set(set: &str) -> Option<Self> {
        let first = set.split(|c: char| !c.is_alphanumeric()).next().unwrap_or_default();
        match first.to_ascii_lowercase().as_str() {
            "clamped" => Some(Self::Clamped),
            "indexed" => Some(Self::Indexed),
            "turned" => Some(Self::Turned),
            _ => None,
        }
    }

    /// The word that says what was done between two rounds.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Again => "again",
            Self::Clamped => "clamped",
            Self::Indexed => "indexed",
            Self::Turned => "turned",
        }
    }
}

/// One round of one bank.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Round {
    /// Index of its bank.
    pub bank: usize,
    /// Index of its set-up.
    pub set_up: usize,
    /// Its set, where the rows name one.
    pub set: Option<String>,
    /// Which way round the block stood.
    pub way: Front,
    /// What was done since the bank's first round.
    pub handled: Handled,
}

/// All rounds in the order they stand in the job: set-ups, in each the table of bores before that of points, and
/// sets as they first occur. A set-up of its own is at least another clamping, since its datum was picked up anew.
#[must_use]
pub fn rounds(job: &Job) -> Vec<Round> {
    let mut all: Vec<Round> = Vec::new();
    for (index, set_up) in job.set_ups.iter().enumerate() {
        for set in sets(set_up) {
            let said = set.and_then(Handled::of_set);
            let way = if said == Some(Handled::Turned) { turned(set_up.front) } else { set_up.front };
            let first = all.iter().find(|r| r.bank == set_up.bank);
            let handled = match first {
                None => Handled::Again,
                Some(first) if first.way != way => Handled::Turned,
                Some(first) => match said {
                    Some(Handled::Indexed) => Handled::Indexed,
                    Some(_) => Handled::Clamped,
                    None if first.set_up != index => Handled::Clamped,
                    None => Handled::Again,
                },
            };
            let set = set.map(str::to_owned);
            all.push(Round { bank: set_up.bank, set_up: index, set, way, handled });
        }
    }
    all
}

fn turned(front: Front) -> Front {
    match front {
        Front::Left => Front::Right,
        Front::Right => Front::Left,
    }
}

/// The sets of a set-up as they first occur.
fn sets(set_up: &SetUp) -> Vec<Option<&str>> {
    let of_bores = set_up.bores.iter().map(|b| b.set.as_deref());
    let of_points = set_up.points.iter().map(|p| p.set.as_deref());
    let mut sets: Vec<Option<&str>> = Vec::new();
    let mut last = None;
    for set in of_bores.chain(of_points) {
        // The set is only looked up where it differs from the row above: a table may have a million points of one
        // set.
        if last != Some(set) && !sets.contains(&set) {
            sets.push(set);
        }
        last = Some(set);
    }
    sets
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_set_says_what_was_done_by_its_first_word() {
        for (set, handled) in [
            ("turned", Some(Handled::Turned)),
            ("Turned 2", Some(Handled::Turned)),
            ("clamped-b", Some(Handled::Clamped)),
            ("indexed", Some(Handled::Indexed)),
            ("turnedround", None),
            ("second", None),
            ("", None),
        ] {
            assert_eq!(Handled::of_set(set), handled, "{set}");
        }
    }
}
