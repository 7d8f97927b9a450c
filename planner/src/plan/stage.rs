//! Stages of the work, and how long each takes.

use serde::{Deserialize, Serialize};

use super::worked::Figure;

/// A stage of the work.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum Stage {
    /// Old bore to the pocket less its allowance.
    Rough,
    /// The pocket's steps and ledge to size.
    Pocket,
    /// Heat, install, check.
    Fit,
    /// Deck.
    Deck,
    /// Finish bore.
    Finish,
    /// Hone.
    Hone,
}

impl Stage {
    /// The stage's word, as printed and in file names.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Rough => "rough",
            Self::Pocket => "pocket",
            Self::Fit => "fit",
            Self::Deck => "deck",
            Self::Finish => "finish",
            Self::Hone => "hone",
        }
    }
}

/// What one pass on one cylinder takes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Took {
    /// Its step.
    pub step: u32,
    /// Its cylinder.
    pub cylinder: u32,
    /// Minutes in feed, or an allowance for handwork.
    pub minutes: f64,
}

/// How long a stage takes, minutes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct StageTime {
    /// The stage.
    pub stage: Stage,
    /// Minutes in the cut, or by hand where nothing is cut.
    pub work: f64,
    /// Minutes of setting tools and measuring: an allowance.
    pub handling: f64,
    /// What the work adds up from.
    #[serde(skip)]
    pub passes: Vec<Took>,
    /// What the handling is worked from.
    #[serde(skip)]
    pub handled: Option<Figure>,
}
