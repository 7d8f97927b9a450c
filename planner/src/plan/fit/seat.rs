//! The ledge or step that a sleeve stands on.

use serde::Serialize;

/// The ledge of a pocket.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Seat {
    /// Bearing area of the smallest ledge, mm².
    pub area: f64,
    /// The cylinder that has it; `None` where all are alike.
    pub smallest_at: Option<u32>,
    /// Width of the ledge round the flange, mm.
    pub width: f64,
    /// Its width at the flats, mm, where the flange has them.
    pub width_at_flats: Option<f64>,
    /// Clamp of the bolts on one cylinder, N, where the job gives bolts.
    pub load: Option<f64>,
    /// Bearing pressure under it, MPa.
    pub pressure: Option<f64>,
    /// Bearing pressure under it with every bolt at the most of its scatter, MPa.
    pub pressure_most: Option<f64>,
    /// What the block's metal bears for good at work, MPa: the smaller of its yield and its creep figure; `None`
    /// hotter than their tables reach.
    pub bears: Option<f64>,
    /// Which of the two.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub bears_by: Option<&'static str>,
    /// Pressure over the yield of the block's metal at work, 1 at yield.
    pub ratio: Option<f64>,
    /// The yield of the block's metal at work, MPa; `None` hotter than its table reaches.
    pub yield_at_work: Option<f64>,
    /// Lift of the gas on the head, N, where the job gives its pressure and the block a fire ring.
    pub gas_load: Option<f64>,
    /// Bearing pressure left if all of the gas load came off the seat, with every bolt at the least of its scatter,
    /// MPa: the least that holds it down.
    pub pressure_at_peak: Option<f64>,
    /// Bearing pressure of the fire ring on the flange under the clamp, MPa.
    pub flange_pressure: Option<f64>,
}
