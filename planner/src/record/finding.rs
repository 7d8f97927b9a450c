//! A finding on the work as it is recorded: the reason that tells it from another, and how it is told in a plan.

use serde::{Serialize, Serializer};

use super::release::{refused, released};
use super::{Standing, Word};
use crate::plan::sentence::Sentence;
use crate::plan::{Finding, Subject, Verdict};
use crate::say;

/// What findings of the record itself are about: all that is planned by it.
pub const SUBJECT: &str = "the record";

/// Why the work is held, stopped or told of; lines are those of the record's file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Reason {
    /// What was read in a check, of a bore or of the whole bank.
    Reading {
        /// The check's number.
        check: u32,
        /// The bore that was read; of a touch check it holds its bank.
        cylinder: Option<u32>,
    },
    /// A line that held a check was struck by nobody, or for no reason.
    StruckByNobody {
        /// The check's number.
        check: u32,
        /// The line that strikes it.
        line: usize,
    },
    /// Checks were passed over.
    PassedOver {
        /// Their numbers.
        checks: Vec<u32>,
        /// The first line that reads what comes after them.
        line: usize,
    },
    /// A deck was cut before what counts from it as it was.
    DeckEarly {
        /// The deck's check.
        check: u32,
        /// The line that reads it.
        line: usize,
    },
    /// A touch check was not read: it holds what is still to be cut, and says nothing of a reading that is right.
    TouchUnread {
        /// Its number.
        check: u32,
        /// The first line that reads what its list cuts.
        line: usize,
    },
    /// A reading lies inside by a window that is wider than it was.
    Widened {
        /// The check's number.
        check: u32,
        /// The reading's line.
        line: usize,
    },
    /// Words in passing.
    Noted {
        /// The line that they stand in.
        line: usize,
    },
    /// A sleeve cannot go where a line puts it.
    SleeveTwice {
        /// That line.
        line: usize,
    },
    /// A sleeve that a bore was cut for is measured no longer.
    SleeveMissing {
        /// The line that gave it to the bore.
        line: usize,
    },
    /// A bore was begun for another pocket than is planned.
    OtherPocket {
        /// The line that says for which.
        line: usize,
    },
    /// What was cut for one sleeve stands under another.
    Unlike {
        /// The check whose readings show it.
        check: u32,
    },
    /// A bore was begun on another block, machine or set-up, or nothing says where.
    BegunOn {
        /// The line that says so.
        line: usize,
    },
    /// A void or a crack.
    Damage {
        /// Which.
        what: Word,
        /// Its line.
        line: usize,
    },
    /// The block was touched.
    Moved {
        /// The line that says so.
        line: usize,
    },
    /// What was read of a bore is not asked while it is held.
    NotAsked,
    /// A line that does not count, or that was changed.
    Line {
        /// It.
        line: usize,
        /// What stands there.
        stand: String,
    },
}

impl Reason {
    /// The stable word of a finding of it.
    #[must_use]
    pub fn code(&self) -> &'static str {
        match self {
            Self::Reading { .. } | Self::StruckByNobody { .. } => "as_cut",
            Self::PassedOver { .. } => "passed_over",
            Self::DeckEarly { .. } => "deck_early",
            Self::TouchUnread { .. } => "touch_unread",
            Self::Widened { .. } => "window_widened",
            Self::Noted { .. } => "noted",
            Self::SleeveTwice { .. } => "sleeve_twice",
            Self::SleeveMissing { .. } => "sleeve_missing",
            Self::OtherPocket { .. } | Self::Unlike { .. } => "sleeve_changed",
            Self::BegunOn { .. } => "begun_on",
            Self::Damage { what, .. } => what.word(),
            Self::Moved { .. } => "moved",
            Self::NotAsked | Self::Line { .. } => "record",
        }
    }
}

/// What a release came to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Let {
    /// None was given, or none that must be told.
    Nothing,
    /// It lets nothing through, in words behind the hold; empty where there was none.
    Held(String),
    /// It lets the hold through.
    Through {
        /// Who.
        by: String,
        /// Why.
        why: String,
    },
}

/// A finding on the work.
#[derive(Debug, Clone, PartialEq)]
pub struct WorkFinding {
    /// Why.
    pub reason: Reason,
    /// How grave; go where it was released.
    pub verdict: Verdict,
    /// What it is of.
    pub subject: Subject,
    /// In a sentence, without what became of a release.
    pub text: Sentence,
    /// What a release came to.
    pub release: Let,
}

impl WorkFinding {
    /// One that no release is asked about.
    pub(super) fn new(reason: Reason, verdict: Verdict, subject: Subject, text: impl Into<Sentence>) -> Self {
        Self { reason, verdict, subject, text: text.into(), release: Let::Nothing }
    }

    /// A hold.
    pub(super) fn hold(reason: Reason, subject: Subject, text: impl Into<Sentence>) -> Self {
        Self::new(reason, Verdict::Hold, subject, text)
    }

    /// The same once releases are heard that were recorded after a line, of a cylinder or of no single one: a named one
    /// lets a hold through, and none a stop.
    pub(super) fn judged(self, standing: &Standing, (cylinder, line): (Option<u32>, usize)) -> Self {
        let stop = self.verdict == Verdict::Stop;
        match released(standing, cylinder, line).filter(|_| !stop) {
            Some((by, why)) => Self { verdict: Verdict::Go, release: Let::Through { by, why }, ..self },
            None => Self { release: Let::Held(refused(standing, cylinder, line, stop)), ..self },
        }
    }

    /// Whether it is at go because somebody let it through by name.
    #[must_use]
    pub fn is_released(&self) -> bool {
        matches!(self.release, Let::Through { .. })
    }

    /// Whether it says only that something is still to be read, which a reading that is right does not change.
    #[must_use]
    pub fn is_to_be_read(&self) -> bool {
        matches!(self.reason, Reason::PassedOver { .. } | Reason::TouchUnread { .. })
    }

    /// Whether another is of the same reason and subject, whatever came of a release.
    #[must_use]
    pub fn is_same(&self, other: &Self) -> bool {
        (&self.reason, &self.subject) == (&other.reason, &other.subject)
    }

    /// All that it says.
    #[must_use]
    pub fn whole(&self) -> Sentence {
        match &self.release {
            Let::Nothing => self.text.clone(),
            Let::Held(refused) => say!("{}{}", self.text, refused),
            Let::Through { by, why } => say!("{}; released by {}: {}", self.text, by, why),
        }
    }

    /// As a plan tells it.
    #[must_use]
    pub fn told(&self) -> Finding {
        let code = if self.is_released() { RELEASED } else { self.reason.code() };
        Finding { code, verdict: self.verdict, subject: self.subject.clone(), text: self.whole() }
    }
}

/// The code of whatever was released by name.
const RELEASED: &str = "as_cut_released";

/// Written as a plan tells it.
impl Serialize for WorkFinding {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.told().serialize(serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(check: u32, cylinder: u32) -> WorkFinding {
        let reason = Reason::Reading { check, cylinder: Some(cylinder) };
        WorkFinding::hold(reason, Subject::cylinder(cylinder), "0.010 mm too deep")
    }

    #[test]
    fn what_became_of_a_release_is_told_behind_it_and_makes_it_no_other_finding() {
        let held = WorkFinding { release: Let::Held("; it does not count".into()), ..read(8, 3) };
        assert_eq!(held.told().text, "0.010 mm too deep; it does not count");
        assert_eq!(held.told().code, "as_cut");
        let release = Let::Through { by: "A B".into(), why: "a shim".into() };
        let through = WorkFinding { verdict: Verdict::Go, release, ..read(8, 3) };
        assert_eq!(through.told().text, "0.010 mm too deep; released by A B: a shim");
        assert_eq!(through.told().code, "as_cut_released");
        assert!(through.is_released() && held.is_same(&through) && held.is_same(&read(8, 3)));
    }

    #[test]
    fn another_check_or_bore_is_another_finding_whatever_it_says() {
        assert!(!read(8, 3).is_same(&read(9, 3)));
        assert!(!read(8, 3).is_same(&read(8, 5)));
    }

    #[test]
    fn it_is_written_as_a_plan_tells_it() {
        let own = read(8, 3);
        assert_eq!(serde_json::to_value(&own).unwrap(), serde_json::to_value(own.told()).unwrap());
    }
}
