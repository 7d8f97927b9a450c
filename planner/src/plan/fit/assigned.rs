//! Measured sleeves, each to its bore.

use serde::Serialize;

/// One bore and the sleeve proposed for it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Assigned {
    /// The cylinder.
    pub cylinder: u32,
    /// The number on the sleeve.
    pub number: String,
    /// Its own pocket, step by step: its outside less the interference.
    pub pockets: Vec<OwnPocket>,
    /// Depth of its ledge below the deck as it is, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub ledge: Option<f64>,
    /// Thickness of its flange, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickness: Option<f64>,
    /// How much that thickness differs round the flange, mm.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub thickness_spread: Option<f64>,
}

/// One step's own pocket, mm.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OwnPocket {
    /// The step.
    pub feature: String,
    /// The sleeve's outside as measured.
    pub outside: f64,
    /// The pocket.
    pub diameter: f64,
}
