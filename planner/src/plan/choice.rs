//! Candidate sleeves, and where each stands worst.

use serde::Serialize;

use super::Verdict;
use super::fit::SleeveFit;
use super::sentence::Sentence;

/// A candidate sleeve's result.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SleeveChoice {
    /// Its name.
    pub sleeve: String,
    /// Whether it is the one planned with.
    pub chosen: bool,
    /// The verdict it ends at.
    pub verdict: Verdict,
    /// Diameter of its largest pocket below the flange, mm.
    pub largest_pocket: f64,
    /// Why it was chosen or not.
    pub why: Sentence,
    /// The bores' limit that stands worst with it; of limits alike the one on metal with the least margin.
    pub worst: Option<WorstMargin>,
    /// How it fits.
    #[serde(flatten)]
    pub fit: SleeveFit,
}

/// Where the bores stand worst with a candidate sleeve.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WorstMargin {
    /// The cylinder.
    pub cylinder: u32,
    /// Which limit.
    pub limit: &'static str,
    /// What there is beyond the limit, mm.
    pub margin: f64,
    /// Standard uncertainty of the margin, mm.
    pub u: f64,
    /// Go, hold or stop.
    pub verdict: Verdict,
}
