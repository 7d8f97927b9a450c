//! Go, hold or stop.

use serde::Serialize;

/// Go, hold or stop (ISO 14253-1 with the 95 % rule); ordered from best to worst.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Verdict {
    /// Proven inside.
    Go,
    /// Neither proven.
    Hold,
    /// Proven outside, or nothing fits.
    Stop,
}

impl Verdict {
    /// The verdict's word as printed.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Go => "go",
            Self::Hold => "hold",
            Self::Stop => "stop",
        }
    }

    /// The verdict that this is the word of.
    #[must_use]
    pub fn of_word(word: &str) -> Option<Self> {
        [Self::Go, Self::Hold, Self::Stop].into_iter().find(|verdict| verdict.word() == word)
    }
}
