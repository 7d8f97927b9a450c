//! The going in of a sleeve: temperatures and gap.

use serde::Serialize;

use crate::plan::worked::Figure;

/// How the sleeve goes in.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct GoingIn {
    /// Temperature of the block at which the gap is there with the most interference, degrees Celsius; 20 where it
    /// goes in cold.
    pub block: f64,
    /// Temperature to soak the block at, °C, so that it is still hot enough when it is on its way.
    pub soak: f64,
    /// Temperature of the sleeve, °C.
    pub sleeve: f64,
    /// Gap on diameter at the tightest register, mm.
    pub clearance: f64,
    /// The register that decides.
    pub decides: String,
    /// Hottest that the block may become, °C.
    pub hottest: f64,
    /// How cold the sleeve must be instead, °C, where the block would be too hot, or be so with what it cools by on
    /// its way.
    pub chilled: Option<f64>,
    /// The gap as the block cools.
    pub gaps: Vec<Gap>,
    /// Block temperature below which the gap is under what is asked, °C: heat again.
    pub reheat_below: Option<f64>,
    /// What the gap is worked from.
    #[serde(skip)]
    pub worked: Vec<Figure>,
}

/// The gap on diameter at a temperature of the block.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Gap {
    /// Temperature of the block, °C.
    pub block: f64,
    /// Gap on diameter, mm; negative is interference.
    pub gap: f64,
}
