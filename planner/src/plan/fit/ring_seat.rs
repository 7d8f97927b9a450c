//! The fire ring on a flange.

use serde::Serialize;

/// The fire ring of one cylinder at the planned centre, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct RingSeat {
    /// The cylinder.
    pub cylinder: u32,
    /// Least width of the ring that stands on the flange.
    pub on_flange_least: f64,
    /// Where that is, degrees.
    pub least_at: f64,
    /// Width of the ring itself.
    pub ring: f64,
    /// Whether the joint of flange and block runs under the ring anywhere.
    pub joint_under: bool,
    /// Most of the ring that stands on the block's own metal.
    pub on_block_most: f64,
    /// Most of the ring that reaches over the finished bore.
    pub over_bore_most: f64,
}
