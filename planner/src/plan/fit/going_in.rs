//! How a sleeve goes in.

use serde::Serialize;

use crate::plan::worked::Figure;

/// How the sleeve goes in.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct GoingIn {
    /// Temperature of the block at which the gap is there with the most interference, degrees Celsius; 20 where it
    /// goes in cold.
    pub block: f64,
    /// Temperature to soak it at, so that it is still hot enough when it is on its way.
    pub soak: f64,
    /// Temperature of the sleeve.
    pub sleeve: f64,
    /// Gap on diameter at the tightest register.
    pub clearance: f64,
    /// The register that decides.
    pub decides: String,
    /// Hottest that the block may become.
    pub hottest: f64,
    /// Where the block would be too hot, or be so with what it cools by on its way: how cold the sleeve must be instead.
    pub chilled: Option<f64>,
    /// The gap as the block cools.
    pub gaps: Vec<Gap>,
    /// Below this block temperature the gap is under what is asked: heat again.
    pub reheat_below: Option<f64>,
    /// What the gap is worked from.
    #[serde(skip)]
    pub worked: Vec<Figure>,
}

/// The gap on diameter at a temperature of the block.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Gap {
    /// Of the block.
    pub block: f64,
    /// On diameter; negative is interference.
    pub gap: f64,
}
