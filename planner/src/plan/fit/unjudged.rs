//! What a sleeve was not judged for.

use std::fmt;

/// A bound for which a figure is missing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unjudged {
    /// What would be judged.
    pub what: &'static str,
    /// Which figure is missing.
    pub missing: &'static str,
}

impl fmt::Display for Unjudged {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} ({})", self.what, self.missing)
    }
}
