//! The least wall left round a step.

use serde::Serialize;

/// Where a wall figure comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum WallFrom {
    /// A reading at the feature's own depth.
    Read,
    /// Readings at other depths only.
    OtherDepths,
    /// No reading: the limit that the wall must keep.
    Limit,
}

/// The least wall left, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct WallLeft {
    /// Its thickness.
    pub wall: f64,
    /// Where it comes from.
    pub from: WallFrom,
    /// At which cylinder; `None` where it was not read.
    pub cylinder: Option<u32>,
}
