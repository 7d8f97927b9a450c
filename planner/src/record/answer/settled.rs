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

/// The figure of one place, its readings in the order in which they were taken: the mean of readings that agree. Where they
/// do not, the last must be borne out, by the one before it or by most of all: what stood there long ago outvotes nothing that
/// was read since.
pub(super) fn settle(values: &[f64], u: f64) -> Option<f64> {
    let [low, high] = ends(values)?;
    if high - low <= most(u) {
        return mean(values);
    }
    let (last, before) = values.split_last()?;
    let agrees = |v: &f64| (v - last).abs() <= most(u);
    let near: Vec<f64> = values.iter().copied().filter(agrees).collect();
    let borne_out = before.last().is_some_and(agrees) || 2 * near.len() > values.len();
    borne_out.then(|| mean(&near)).flatten()
}

/// Whether several places were read anew: the last reading of each is off the one before it, and all by the same.
///
/// What was cut again, driven home again, or has moved since is as it was read last; a slip is of one place.
///
/// `places` are the figures of each place in the order in which they were read; `u` is of one reading.
pub(super) fn read_anew(places: &[Vec<f64>], u: f64) -> Option<f64> {
    let read = places.iter().filter(|values| !values.is_empty()).count();
    let by = places.iter().filter_map(|values| match values.as_slice() {
        [.., before, last] if (last - before).abs() > most(u) => Some(last - before),
        _ => None,
    });
    let by: Vec<f64> = by.collect();
    let (middle, [low, high]) = (mean(&by)?, ends(&by)?);
    let alike = high - low <= (2.0 * most(u)).max(ALIKE * middle.abs());
    (by.len() >= 2 && 2 * by.len() >= read && alike).then_some(middle)
}

/// Places that moved together differ by less than this share of the way. Common practice, no source.
const ALIKE: f64 = 0.2;

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

    #[test]
    fn two_old_readings_do_not_outvote_a_new_one() {
        assert_eq!(settle(&[89.780, 89.782, 89.840], 0.004), None);
        // Read once more it is a slip, or so it stands by now.
        assert!((settle(&[89.780, 89.782, 89.840, 89.781], 0.004).unwrap() - 89.781).abs() < 1e-9);
        assert!((settle(&[89.780, 89.782, 89.840, 89.842], 0.004).unwrap() - 89.841).abs() < 1e-9);
        assert_eq!(settle(&[89.780, 89.840, 89.842, 89.781], 0.004), None);
    }

    #[test]
    fn places_that_are_all_off_by_the_same_were_read_anew() {
        let places = |last: [f64; 3]| last.map(|v| vec![89.780, v]).to_vec();
        assert!((read_anew(&places([89.810, 89.808, 89.811]), 0.004).unwrap() - 0.029_667).abs() < 1e-6);
        assert!(read_anew(&places([89.810, 89.808, 89.781]), 0.004).is_some());
        // One of three is a slip; three that scatter are none of one cut.
        assert_eq!(read_anew(&places([89.810, 89.781, 89.781]), 0.004), None);
        assert_eq!(read_anew(&places([89.810, 89.750, 89.800]), 0.004), None);
    }
}
