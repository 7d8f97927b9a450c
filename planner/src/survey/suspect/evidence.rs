//! Figures that several suspicions weigh in the same way.

use std::collections::BTreeMap;

use borewright_geometry::sample::{MAD_TO_SIGMA, median};

use crate::plan::rounding;
use crate::read::inch::MM_PER_INCH;
pub(super) use crate::survey::custom::near;

/// A reading in the wrong unit is 25.4 times too small or too large.
pub(super) const FACTORS: [f64; 2] = [MM_PER_INCH, 1.0 / MM_PER_INCH];

/// The other reading must be this many times nearer before it is worth a question. Common practice, no source.
pub(super) const NEARER: f64 = 5.0;

/// A wrong sign, order or bank is off by more than this; no block is, mm. Common practice, no source.
pub(super) const GROSS_MM: f64 = 2.0;

/// An explanation of a gross error must leave less than this, mm, as a worn, shifted block does. Common practice,
/// no source.
pub(super) const EXPLAINED_MM: f64 = 1.0;

/// "in inches" where multiplying mends it, "in mm in an inch table" where dividing does.
pub(super) fn unit_cause(factor: f64) -> &'static str {
    if factor > 1.0 {
        "read in inches"
    } else {
        "typed in mm where inches were meant, or multiplied by 25.4 once too often"
    }
}

/// "times 25.4" or "divided by 25.4".
pub(super) fn unit_words(factor: f64) -> &'static str {
    if factor > 1.0 { "times 25.4" } else { "divided by 25.4" }
}

/// The largest distance from a value.
pub(super) fn spread(values: &[f64], about: f64) -> f64 {
    values.iter().map(|v| (v - about).abs()).fold(0.0, f64::max)
}

/// Standard deviation by the median of the distances from a value (1.4826 of it, for normal scatter): one slip
/// among them does not widen it.
pub(super) fn robust(values: &[f64], about: f64) -> f64 {
    MAD_TO_SIGMA * median(values.iter().map(|v| (v - about).abs()).collect())
}

/// The root of the mean square.
pub(super) fn rms(values: impl Iterator<Item = f64>) -> f64 {
    let (sum, n) = values.fold((0.0, 0.0), |(sum, n), v| (sum + v * v, n + 1.0));
    if n > 0.0 { f64::sqrt(sum / n) } else { 0.0 }
}

/// Named figures, rounded once.
pub(super) fn figures<const N: usize>(of: [(&'static str, f64); N]) -> BTreeMap<&'static str, f64> {
    of.into_iter().map(|(name, value)| (name, rounding::plan(value))).collect()
}

/// Whether figures are grossly off as typed and fit when read another way.
pub(super) fn explains(as_typed_mm: f64, other_mm: f64) -> bool {
    as_typed_mm > GROSS_MM && other_mm < EXPLAINED_MM && as_typed_mm > NEARER * other_mm
}

/// Figures of one kind, each held in turn against all the others: sorted once, so that a table of thousands is not
/// sorted thousands of times.
pub(super) struct Others {
    sorted: Vec<f64>,
}

impl Others {
    pub(super) fn of(mut values: Vec<f64>) -> Self {
        values.sort_by(f64::total_cmp);
        Self { sorted: values }
    }

    /// The neighbours that all figures but one of that value make; `None` where fewer than `fewest` are left.
    pub(super) fn without(&self, value: f64, fewest: usize) -> Option<Neighbours> {
        let own = self.sorted.partition_point(|v| v.total_cmp(&value).is_lt());
        let n = self.sorted.len().checked_sub(1).filter(|n| *n >= fewest.max(1))?;
        let at = |i: usize| self.sorted[if i < own { i } else { i + 1 }];
        let median = (at((n - 1) / 2) + at(n / 2)) / 2.0;
        Some(Neighbours { median, spread: (at(0) - median).abs().max((at(n - 1) - median).abs()) })
    }

    /// Least and most of all but one figure of that value.
    pub(super) fn ends_without(&self, value: f64) -> Option<[f64; 2]> {
        let own = self.sorted.partition_point(|v| v.total_cmp(&value).is_lt());
        let n = self.sorted.len().checked_sub(1).filter(|n| *n > 0)?;
        let at = |i: usize| self.sorted[if i < own { i } else { i + 1 }];
        Some([at(0), at(n - 1)])
    }
}

/// Figures of one kind, one of which may be in the wrong unit or doubled.
pub(super) struct Neighbours {
    pub(super) median: f64,
    pub(super) spread: f64,
}

impl Neighbours {
    /// The neighbours that these figures make; `None` of fewer than `fewest`, which cannot say which of them is
    /// odd.
    pub(super) fn of(values: Vec<f64>, fewest: usize) -> Option<Self> {
        if values.len() < fewest {
            return None;
        }
        let median = median(values.clone());
        let spread = spread(&values, median);
        Some(Self { median, spread })
    }

    /// Whether `typed` stands far outside neighbours that agree, and `other` right among them.
    ///
    /// Far: ten times what the neighbours scatter or can be measured, and 0.05 mm; ten, so that one bore that
    /// merely stands apart in a scattered bank raises nothing. The figure expected of the reading, `expected_raw`
    /// as it would be typed, must be as far from nothing: any figure divided by 25.4 is near nothing. Common
    /// practice, no source.
    pub(super) fn tell(&self, typed: f64, other: f64, expected_raw: f64, u: f64) -> bool {
        let far = (typed - self.median).abs();
        let near = (other - self.median).abs();
        let distinct = |mm: f64| mm > 0.05 && mm > 10.0 * self.spread.max(u);
        distinct(far)
            && distinct(expected_raw.abs())
            && near <= (3.0 * self.spread).max(5.0 * u)
            && far > NEARER * near
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn neighbours_tell_a_reading_in_inches_and_no_bore_that_merely_stands_apart() {
        let rest = Neighbours::of(vec![0.270, 0.280, 0.280], 3).unwrap();
        assert!(rest.tell(0.011, 0.2794, 0.28, 0.003));
        // Good bores and one off by 0.38: divided by 25.4 it is among them, as any figure would be.
        let rest = Neighbours::of(vec![0.00, 0.01, -0.01], 3).unwrap();
        assert!(!rest.tell(0.38, 0.015, 0.0, 0.003));
        // A scattered bank knows nothing.
        let rest = Neighbours::of(vec![0.10, 0.28, 0.40], 3).unwrap();
        assert!(!rest.tell(0.011, 0.2794, 0.28, 0.003));
        assert!(Neighbours::of(vec![0.28, 0.28], 3).is_none());
    }

    #[test]
    fn all_but_one_are_the_same_as_if_it_had_been_left_out() {
        let values = vec![3.0, 1.0, 4.0, 1.0, 5.0, 9.0, 2.0];
        let others = Others::of(values.clone());
        for (i, value) in values.iter().enumerate() {
            let rest: Vec<f64> =
                values.iter().enumerate().filter(|(j, _)| *j != i).map(|(_, v)| *v).collect();
            let (found, expected) =
                (others.without(*value, 2).unwrap(), Neighbours::of(rest.clone(), 2).unwrap());
            assert_eq!((found.median, found.spread), (expected.median, expected.spread));
            let ends = [
                rest.iter().copied().fold(f64::INFINITY, f64::min),
                rest.iter().copied().fold(0.0, f64::max),
            ];
            assert_eq!(others.ends_without(*value), Some(ends));
        }
        assert!(Others::of(vec![1.0]).without(1.0, 1).is_none());
    }

    #[test]
    fn only_a_gross_error_that_is_taken_away_is_explained() {
        assert!(explains(24.0, 0.05) && !explains(1.5, 0.05) && !explains(24.0, 1.2) && !explains(2.1, 0.9));
    }
}
