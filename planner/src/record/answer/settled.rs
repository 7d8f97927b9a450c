//! What several readings of one place come to.

use std::f64::consts::SQRT_2;

use super::bench::{ends, mean};
use crate::plan::judge::FACTOR;

/// Readings of one place that disagree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Apart {
    /// By so much.
    pub(super) by_mm: f64,
    /// Two of one size stay within this.
    pub(super) most_mm: f64,
}

/// Two readings of one thing differ by no more than this, save one in ten: u √2 times the factor of a 95 % bound.
fn most(u: f64) -> f64 {
    FACTOR * SQRT_2 * u
}

impl Apart {
    pub(super) fn of(values: &[f64], u: f64) -> Self {
        let by_mm = ends(values).map_or(0.0, |[least, most]| most - least);
        Self { by_mm, most_mm: most(u) }
    }
}

/// The figure of one place: the mean of readings that agree; of three or more, of those that agree with the one in
/// the middle where they are most of them.
pub(super) fn settle(values: &[f64], u: f64) -> Option<f64> {
    let [low, high] = ends(values)?;
    if high - low <= most(u) {
        return mean(values);
    }
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let middle = *sorted.get(sorted.len() / 2)?;
    let near: Vec<f64> = sorted.iter().copied().filter(|v| (v - middle).abs() <= most(u)).collect();
    (sorted.len() > 2 && 2 * near.len() > sorted.len()).then(|| mean(&near)).flatten()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_that_disagree_settle_nothing_and_a_third_settles_it() {
        // u 0.004: 1.65 x 1.414 x 0.004 = 0.00933.
        assert_eq!(settle(&[89.780, 89.790], 0.004), None);
        assert!((settle(&[89.780, 89.788], 0.004).unwrap() - 89.784).abs() < 1e-12);
        assert!((settle(&[89.780, 89.795, 89.782], 0.004).unwrap() - 89.781).abs() < 1e-12);
        assert!((Apart::of(&[89.78, 89.79], 0.004).most_mm - 0.009_334).abs() < 1e-6);
        assert_eq!(settle(&[], 0.004), None);
    }
}
