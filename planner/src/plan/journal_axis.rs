//! The journal axis in a machine set-up.

use serde::Serialize;

use super::Xy;

/// The journal axis of one machine set-up.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct JournalAxis {
    /// The set-up's name.
    pub set_up: String,
    /// Each main's offset across from the fitted line.
    pub mains: Vec<MainOffset>,
    /// Diameter of the thinnest cylinder that holds all, mm.
    pub straightness: f64,
    /// Largest step from one main to the next, mm.
    pub largest_step: f64,
    /// Lean of the bank's Z from the machine's Z along X and Y, mm over the bore length.
    pub squareness: Xy,
    /// Height of the deck as it was read, above the foot of the datum, mm; `None` where no deck was read.
    pub deck_height: Option<f64>,
}

/// One main's offset from the fitted line.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MainOffset {
    /// The main's name.
    pub main: String,
    /// Across the bank, mm.
    pub y: f64,
    /// Along the bores, mm.
    pub z: f64,
    /// Diameter of its housing bore, where raw points on it were read, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub diameter: Option<f64>,
    /// Peak-to-valley of its housing bore about the least-squares circle, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub roundness: Option<f64>,
}
