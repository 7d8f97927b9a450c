//! What is said to a reading or an event, why, and what can still be done.

use serde::Serialize;

use super::head::Head;
use crate::plan::Verdict;
use crate::plan::check::Check;
use crate::plan::sentence::Sentence;
use crate::record::WorkFinding;

/// What is said.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Say {
    /// Go on.
    GoOn,
    /// Read it again before anything else.
    Again,
    /// Wait for the shop lead.
    Hold,
    /// Cut nothing more there.
    Stop,
}

impl Say {
    /// The answer as printed.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::GoOn => "go on",
            Self::Again => "AGAIN",
            Self::Hold => "HOLD",
            Self::Stop => "STOP",
        }
    }

    /// How the work stands by it and by what holds it beside: the worse of the two.
    #[must_use]
    pub fn stands<'f>(self, held: impl IntoIterator<Item = &'f WorkFinding>) -> Verdict {
        let own = match self {
            Self::GoOn => Verdict::Go,
            Self::Again | Self::Hold => Verdict::Hold,
            Self::Stop => Verdict::Stop,
        };
        held.into_iter().map(|f| f.verdict).fold(own, Verdict::max)
    }
}

/// What can be done about a reading outside its window.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Remedy {
    /// Cut it again: there is metal left.
    CutAgain,
    /// Go on with it as it is.
    AsItIs,
    /// Fit another of the sleeves that were measured.
    Sleeve,
    /// Fit a sleeve of a larger outside.
    Oversize,
    /// Lay a shim under the flange.
    Shim,
    /// Fit a sleeve of a thicker flange.
    ThickerFlange,
    /// Take another O-ring.
    Ring,
    /// Take a piston of a larger size.
    Piston,
    /// Have the lead let it through, by name.
    Release,
}

/// Something that can still be done.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Way {
    /// What.
    pub way: Remedy,
    /// In a sentence.
    pub text: Sentence,
    /// The figure that it rests on, mm: least and most where it is a range.
    pub figures: Vec<f64>,
}

/// An answer.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Answer {
    /// What is said.
    pub say: Say,
    /// Why, in a sentence; empty where there is nothing to say.
    pub why: Sentence,
    /// What to set the head to for the next bore.
    pub head: Option<Head>,
    /// What can still be done, best first.
    pub ways: Vec<Way>,
}

impl Answer {
    pub(in crate::record) fn say(say: Say, why: impl Into<Sentence>) -> Self {
        Self { say, why: why.into(), head: None, ways: Vec::new() }
    }

    pub(super) fn with(self, ways: Vec<Way>) -> Self {
        Self { ways, ..self }
    }
}

/// How a touch check is opened afresh once the datum was picked up anew, as it is typed behind `record JOB`.
pub(super) fn afresh(check: &Check) -> String {
    format!("`anew {}`", check.check)
}
