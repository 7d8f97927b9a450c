//! One dry step in its pocket, cold and at work.

use serde::Serialize;

use super::WallLeft;
use crate::plan::worked::Figure;

/// One dry step of a sleeve in its pocket.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Register {
    /// The step's name.
    pub feature: String,
    /// The sleeve's outside diameter, mm.
    pub diameter: f64,
    /// Diameter of the pocket, mm.
    pub pocket: f64,
    /// At the ends of both tolerances.
    pub interference: Interference,
    /// The fit's code, where the sleeve states one.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub code: Option<String>,
    /// The sleeve's bore as supplied, mm.
    pub inside: f64,
    /// The pocket plus twice the least wall left, mm; `None` where no wall is known.
    pub outside: Option<f64>,
    /// The least wall left.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wall: Option<WallLeft>,
    /// Contact pressure at the middle interference and 20 °C, MPa; `None` where no wall is known.
    pub pressure: Option<f64>,
    /// Contact pressure at the least interference, bore finished, 20 °C, MPa: what is sure to grip; `None` where no
    /// wall is known.
    pub pressure_least: Option<f64>,
    /// Hoop stress at the middle interference.
    pub hoop: Option<Hoop>,
    /// Hoop stress with the most interference, MPa.
    pub hoop_most: Option<Hoop>,
    /// How much the sleeve's bore closes with it, on diameter, at the middle interference, mm.
    pub closure: Option<f64>,
    /// Largest hoop stress over yield, 1 at yield, in either part, cold or at work; `None` where the yield is not
    /// known.
    pub hoop_ratio: Option<f64>,
    /// Where no wall is known: the most that the hoop ratio can be, 1 at yield, whatever the wall.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub hoop_ratio_at_most: Option<f64>,
    /// Temperature of block and sleeve together at which the middle interference is nothing, °C; `None` where there
    /// is none, or it grows with heat.
    pub gone_at: Option<f64>,
    /// At the temperatures at work, the bore finished.
    pub running: Option<Running>,
    /// What its figures are worked from.
    #[serde(skip)]
    pub worked: Vec<Figure>,
}

/// Interference on diameter, mm; negative is clearance.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Interference {
    /// With the largest pocket and the smallest sleeve.
    pub least: f64,
    /// With the smallest pocket and the largest sleeve.
    pub most: f64,
}

/// Hoop stress, MPa; tension positive.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Hoop {
    /// At the bore of the block.
    pub block: f64,
    /// At the outside of the sleeve.
    pub sleeve: f64,
}

/// A register at work.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Running {
    /// Interference left, on diameter.
    pub interference: Interference,
    /// Contact pressure with the most interference, MPa.
    pub pressure: f64,
    /// Contact pressure with the least interference, MPa: what is sure to grip.
    pub pressure_least: f64,
    /// Hoop stress with the most.
    pub hoop: Hoop,
}
