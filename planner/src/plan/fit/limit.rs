//! One limit of a sleeve.

use serde::Serialize;

use crate::plan::Verdict;
use crate::plan::sentence::Sentence;

/// One limit of a sleeve, at the worst of its tolerances.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SleeveLimit {
    /// Which limit.
    pub limit: &'static str,
    /// Where.
    pub feature: Sentence,
    /// What there is, in the limit's own unit; `None` where the job does not carry it.
    pub value: Option<f64>,
    /// Whether its figures are lengths, mm; else they are shares, MPa, N or °C, as its feature says.
    #[serde(skip)]
    pub is_length: bool,
    /// What decides, in the limit's own unit.
    pub least: f64,
    /// What is preferred, in the limit's own unit.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prefer: Option<f64>,
    /// What there is beyond the limit, in its own unit.
    pub margin: Option<f64>,
    /// Whether it holds though the job does not set it.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub of_itself: bool,
    /// Why it holds, where the job does not set it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub why: Option<Sentence>,
    /// Go; hold where only the preferred figure is missed, or the figure is not known; stop beyond the limit.
    pub verdict: Verdict,
}
