//! Counts as real numbers.

/// A number of points as a real number. More than 2³² points do not fit in a job; they would count as that.
pub(crate) fn count(number: usize) -> f64 {
    u32::try_from(number).map_or(f64::from(u32::MAX), f64::from)
}
