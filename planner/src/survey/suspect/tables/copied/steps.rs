//! Two columns of figures that go up and down by the same steps: one is the other with an offset added.

use crate::plan::sentence::{Sentence, signed_mm};
use crate::say;
use borewright_geometry::sample::{count, ends};

/// Figures nearer than this are one, mm: files are told to a tenth of a micrometre at the finest.
pub(super) const SAME_MM: f64 = 1e-6;

/// Nothing is asked where as many columns as were read would bring forth two alike by chance more often than this.
/// Common practice, no source.
pub(super) const CHANCE: f64 = 1e-3;

/// The one offset from a column to another of as many figures, mm; `None` where it is not one, or of no figures.
pub(super) fn offset_mm(from: &[f64], to: &[f64]) -> Option<f64> {
    let first = to.first()? - from.first()?;
    let one = from.iter().zip(to).all(|(a, b)| (b - a - first).abs() < SAME_MM);
    (one && from.len() == to.len()).then_some(first)
}

/// How many figures of a column differ from each other.
pub(super) fn different(column: &[f64]) -> usize {
    let mut sorted = column.to_vec();
    sorted.sort_by(f64::total_cmp);
    sorted.dedup_by(|b, a| (*b - *a).abs() < SAME_MM);
    sorted.len()
}

/// How finely figures are told: the least that two different ones are apart, mm; infinite where none differ.
pub(super) fn told_mm(all: impl IntoIterator<Item = f64>) -> f64 {
    let mut sorted: Vec<f64> = all.into_iter().collect();
    sorted.sort_by(f64::total_cmp);
    sorted.windows(2).map(|two| two[1] - two[0]).filter(|step| *step > SAME_MM).fold(f64::INFINITY, f64::min)
}

/// How likely one more figure of a column falls where another column's steps would have it: as if it stood anywhere
/// in the column's range, told as finely as `told_mm`. Readings stand closer about their middle and errors add up,
/// which makes about as much for it as against it.
pub(super) fn chance(column: &[f64], told_mm: f64) -> f64 {
    let [low, high] = ends(column).unwrap_or_default();
    1.0 / ((high - low) / told_mm + 1.0)
}

/// To the power of all figures but the first, which the offset is taken from.
pub(super) fn of_all(one: f64, figures: usize) -> f64 {
    one.powf(count(figures) - 1.0)
}

/// Pairs among so many.
pub(super) fn pairs(n: usize) -> f64 {
    let n = count(n);
    n * (n - 1.0) / 2.0
}

/// An offset in words: "with +0.123 mm added", "to the last digit".
pub(super) fn added(offset_mm: f64) -> Sentence {
    if offset_mm.abs() < SAME_MM {
        "to the last digit".into()
    } else {
        say!("with {} added throughout", signed_mm(offset_mm, 3))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_offset_is_one_or_none() {
        let column = [18.575, 18.576, 18.585];
        let moved = column.map(|y| y - 0.061);
        assert!((offset_mm(&column, &moved).unwrap() + 0.061).abs() < 1e-9);
        assert!(offset_mm(&column, &[18.514, 18.515, 18.525]).is_none());
        assert!(offset_mm(&column, &moved[..2]).is_none());
        assert!(offset_mm(&[], &[]).is_none());
    }

    #[test]
    fn chance_falls_with_the_digits_told() {
        // 1.0 of range: 11 places told to a tenth, 101 to a hundredth.
        assert!((chance(&[4.0, 5.0, 4.6], 0.1) - 1.0 / 11.0).abs() < 1e-9);
        assert!((chance(&[4.0, 5.0, 4.6], 0.01) - 1.0 / 101.0).abs() < 1e-9);
        assert!((of_all(0.1, 4) - 1e-3).abs() < 1e-12);
        // Nothing differs: nothing is told by repeating.
        assert!((chance(&[4.0, 4.0], told_mm([4.0, 4.0])) - 1.0).abs() < 1e-12);
        assert_eq!(different(&[4.0, 5.0, 4.0 + 1e-9]), 2);
    }
}
