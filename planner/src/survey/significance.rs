//! From how many standard uncertainties on a figure counts.

/// A figure below twice its own uncertainty is inside what can be measured.
pub(crate) const MEASURABLE: f64 = 2.0;

/// Beyond this many standard uncertainties a figure is no chance: 1 in 370 of normal scatter.
pub(crate) const NO_CHANCE: f64 = 3.0;
