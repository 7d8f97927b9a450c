//! Stages of the work, and how long each takes.

use serde::{Deserialize, Serialize};

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
    /// As printed and as used in file names.
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

/// How long a stage takes, minutes.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StageTime {
    /// The stage.
    pub stage: Stage,
    /// In the cut, or by hand where nothing is cut.
    pub work: f64,
    /// Setting tools and measuring: an allowance.
    pub handling: f64,
}
