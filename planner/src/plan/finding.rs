//! A finding that a reader of the plan must know, and the release of a hold.

use serde::Serialize;
use serde::ser::SerializeStruct as _;

use super::sentence::{Parts, Sentence};
use super::{Subject, Verdict};

/// One thing a reader must know.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// A stable word for it.
    pub code: &'static str,
    /// How grave.
    pub verdict: Verdict,
    /// What it is about.
    pub subject: Subject,
    /// The finding in a sentence.
    pub text: Sentence,
}

impl Finding {
    /// Whether a check at the machine holds what is at go now: the lead answers it before the cut.
    #[must_use]
    pub fn is_foreseen(&self) -> bool {
        self.verdict == Verdict::Go && self.code == "flange_leans"
    }
}

/// A finding is written with its text in mm, and beside it the quantities that stand in it.
impl Serialize for Finding {
    fn serialize<S: serde::Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let parts = Parts(&self.text);
        let mut map = serializer.serialize_struct("Finding", if parts.is_empty() { 4 } else { 5 })?;
        map.serialize_field("code", self.code)?;
        map.serialize_field("verdict", &self.verdict)?;
        map.serialize_field("subject", &self.subject)?;
        map.serialize_field("text", &self.text)?;
        if !parts.is_empty() {
            map.serialize_field("parts", &parts)?;
        }
        map.end()
    }
}

/// A release of a plan at hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Release {
    /// Who.
    pub who: String,
    /// Why.
    pub why: String,
}
