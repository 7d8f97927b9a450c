//! One cylinder: where its bore is, belongs and goes, and what keeps it there.

use serde::Serialize;

use super::Verdict;
use super::why::Why;

/// One cylinder.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Cylinder {
    /// Its number.
    pub cylinder: u32,
    /// Its bank's name.
    pub bank: String,
    /// The chosen sleeve.
    pub sleeve: String,
    /// Its verdict.
    pub verdict: Verdict,
    /// Twelve digits of the SHA-256 over what is cut of it and when it is measured: its papers stay good while it
    /// stands.
    pub fingerprint: String,
    /// Whether it may not be cut: no pass, list, drawing or sheet tells where or how wide.
    pub withheld: bool,
    /// The bore as it is.
    pub measured: Measured,
    /// Where it should be.
    #[serde(rename = "true")]
    pub true_position: Xy,
    /// Where it will be bored.
    pub planned: Xy,
    /// Measured less true, at the deck.
    pub off_true: Offset,
    /// Planned less measured, at the deck.
    pub shift: Offset,
    /// What holds it there, in words.
    pub why: Why,
    /// The worst of each limit.
    pub limits: Vec<LimitResult>,
}

/// A measured bore.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Measured {
    /// Along the bank at the deck, by its fitted axis, mm.
    pub x: f64,
    /// Across the bank at the deck, by its fitted axis, mm.
    pub y: f64,
    /// Mean diameter, mm.
    pub diameter: f64,
    /// mm per mm of depth.
    pub tilt: Xy,
    /// Largest peak-to-valley, mm; `None` where only centres were read.
    pub roundness: Option<f64>,
}

/// A vector across the bank.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Offset {
    /// Along the bank, mm.
    pub x: f64,
    /// Across the bank, mm.
    pub y: f64,
    /// Its length, mm.
    pub distance: f64,
    /// Its direction, degrees from the rear towards +Y.
    pub clock: f64,
}

/// An x and a y, mm unless said otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Xy {
    /// Along the bank.
    pub x: f64,
    /// Across the bank.
    pub y: f64,
}

/// One limit's worst place on one cylinder.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct LimitResult {
    /// Which limit.
    pub limit: &'static str,
    /// Which feature of the pocket, and against what.
    pub feature: String,
    /// At which depth, mm, where it has one.
    pub depth: Option<f64>,
    /// At which clock, degrees, where it has one.
    pub clock: Option<f64>,
    /// What there is beyond the limit, mm.
    pub margin: f64,
    /// Standard uncertainty of the margin, mm.
    pub u: f64,
    /// The probability that the limit is kept, by the measuring uncertainty alone.
    pub p: f64,
    /// Go, hold or stop.
    pub verdict: Verdict,
    /// The limit itself, mm.
    pub least: f64,
    /// What is preferred, mm, where stated.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prefer: Option<f64>,
    /// Whether it is told only: a position binds nothing where the bores follow what is there.
    #[serde(skip_serializing_if = "std::ops::Not::not")]
    pub told_only: bool,
}
