//! Flats of two neighbours.

use serde::Serialize;

/// Two neighbours of a bank, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct FlatPair {
    /// The front one.
    pub front: u32,
    /// The rear one.
    pub rear: u32,
    /// Distance of the planned centres.
    pub distance: f64,
    /// The distance less the nominal one.
    pub off_nominal: f64,
    /// Gap between flats left as supplied.
    pub gap_as_supplied: f64,
    /// Gap aimed at.
    pub gap: f64,
    /// Centre to flat, on both sleeves, that leaves it.
    pub centre_to_flat: f64,
    /// The gap at the temperatures at work.
    pub gap_hot: f64,
}
