//! The settled figure of one place from its several readings.

use std::f64::consts::SQRT_2;

use crate::plan::judge::FACTOR;
use borewright_geometry::sample::{ends, mean};

/// Readings of one place that disagree.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Apart {
    /// How far apart they are, mm.
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

/// The figure of one place from its readings in the order in which they were taken: the mean of those that agree.
/// Where they do not all agree, the last one must be confirmed by the one before it or by most of all, so that old
/// readings cannot outvote newer ones.
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

/// Places that moved together differ by less than this share of the way. Common practice, no source.
const ALIKE: f64 = 0.2;

/// By how much all places of a kind changed from one round to the next: half of them, two at least, must have
/// changed alike. A slip concerns one place; what was cut again, driven home again or moved concerns all.
///
/// `by` are the differences of the places that were read again, of `places` that were read at all; `u` is of one
/// reading. What a gauge is off by from one round to the next no mean takes away, so that the mean must tell √2 u
/// at the least.
fn anew(by: &[f64], places: usize, u: f64) -> Option<f64> {
    let (middle, [low, high]) = (mean(by)?, ends(by)?);
    let root = f64::from(u32::try_from(by.len()).unwrap_or(u32::MAX)).sqrt();
    let tells = middle.abs() > (most(u) / root).max(SQRT_2 * u);
    let alike = high - low <= (2.0 * most(u)).max(ALIKE * middle.abs());
    (by.len() >= 2 && 2 * by.len() >= places && alike && tells).then_some(middle)
}

/// From which of its readings on a place stands as it does now, the places of its kind in the order in which each
/// was read.
///
/// `only_up`: sizes only grow, so a round of smaller ones is no new state.
pub(super) fn stands_from(places: &[Vec<f64>], own: usize, u: f64, only_up: bool) -> usize {
    let read = places.iter().filter(|values| !values.is_empty()).count();
    let rounds = places.get(own).map_or(0, Vec::len);
    let is_anew = |round: &usize| {
        let by: Vec<f64> =
            places.iter().filter_map(|v| Some(v.get(*round)? - v.get(round.checked_sub(1)?)?)).collect();
        anew(&by, read, u).is_some_and(|by| !only_up || by > 0.0)
    };
    (1..rounds).rev().find(is_anew).unwrap_or(0)
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
        let from = |last: [f64; 3], up: bool| {
            let places: Vec<Vec<f64>> = last.map(|v| vec![89.780, v]).to_vec();
            stands_from(&places, 0, 0.004, up)
        };
        assert_eq!(from([89.810, 89.808, 89.811], true), 1);
        // A hundredth at all of them is a cut too, and no scatter: 0.0093 / √3 and √2 x 0.004 are less.
        assert_eq!(from([89.789, 89.788, 89.789], true), 1);
        assert_eq!(from([89.784, 89.785, 89.784], true), 0);
        // One of three is a slip; three that scatter are none of one cut; and no bore gets smaller.
        assert_eq!(from([89.810, 89.781, 89.781], true), 0);
        assert_eq!(from([89.810, 89.750, 89.800], true), 0);
        assert_eq!(from([89.750, 89.751, 89.749], true), 0);
        assert_eq!(from([89.750, 89.751, 89.749], false), 1);
        // What was read before votes no more, whatever is read after it.
        let back = [[89.780, 89.810, 89.780], [89.781, 89.811, 89.781]].map(|v| v.to_vec());
        assert_eq!(stands_from(&back, 0, 0.004, true), 1);
    }
}
