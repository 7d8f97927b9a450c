//! How round a bore reads.

use crate::plan::check::{Asked, WAYS_DEG};

/// Out of round, two ways at one depth, mm. Common practice, no source.
pub(super) const ROUND_MM: f64 = 0.010;

/// The most that two ways at one depth differ by, mm; nought where no depth was read both ways.
pub(super) fn oval_mm(sizes: &[(&Asked, f64)]) -> f64 {
    let at = |depth: Option<f64>, way: f64| {
        sizes.iter().find(|(a, _)| a.depth == depth && a.clock == Some(way)).map(|(_, value)| *value)
    };
    let apart = |(a, _): &(&Asked, f64)| Some((at(a.depth, WAYS_DEG[0])? - at(a.depth, WAYS_DEG[1])?).abs());
    sizes.iter().filter_map(apart).fold(0.0, f64::max)
}
