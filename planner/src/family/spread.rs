//! A quantity over the blocks of a family: mean, spread, and what the next block will be like.

use borewright_geometry::sample::{self, ends};

use super::intervals::{
    SURELY, least_for_prediction, least_for_tolerance, prediction, prediction_one_sided, usual_tolerance,
};
pub use crate::plan::prior::Spread;

impl Spread {
    /// The spread of one figure a block; `None` of no figure.
    #[must_use]
    pub fn of(figures: &[f64]) -> Option<Self> {
        let blocks = u32::try_from(figures.len()).ok().filter(|n| *n > 0)?;
        let n = f64::from(blocks);
        let mean = sample::mean(figures)?;
        let square: f64 = figures.iter().map(|f| (f - mean).powi(2)).sum();
        let sd = (blocks > 1).then(|| (square / (n - 1.0)).sqrt());
        let enough = |least: u32, k: Option<f64>| sd.zip(k).filter(|_| blocks >= least).map(|(sd, k)| k * sd);
        let predicted = least_for_prediction();
        Some(Self {
            blocks,
            mean,
            sd,
            found: ends(figures)?,
            next: enough(predicted, prediction(blocks, SURELY)).map(|half| [mean - half, mean + half]),
            next_least: enough(predicted, prediction_one_sided(blocks, SURELY)).map(|below| mean - below),
            most_least: enough(least_for_tolerance(), usual_tolerance(blocks)).map(|below| mean - below),
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spread_of_five_is_worked_by_hand() {
        // Mean 2, sum of squares 10, s = √(10/4) = 1.5811; next ± 2.776·√1.2·1.5811 = ± 4.808.
        let spread = Spread::of(&[0.0, 1.0, 2.0, 3.0, 4.0]).unwrap();
        assert!((spread.sd.unwrap() - 1.5811).abs() < 1e-4);
        let [low, high] = spread.next.unwrap();
        assert!((low - (2.0 - 4.808)).abs() < 2e-3 && (high - (2.0 + 4.808)).abs() < 2e-3);
        // One-sided: 2.132·√1.2·1.5811 = 3.693.
        assert!((spread.next_least.unwrap() - (2.0 - 3.693)).abs() < 2e-3);
        assert_eq!((spread.found, spread.most_least), ([0.0, 4.0], None));
    }

    #[test]
    fn few_blocks_are_too_few_to_say() {
        assert_eq!(Spread::of(&[]), None);
        let one = Spread::of(&[1.0]).unwrap();
        assert_eq!((one.sd, one.next), (None, None));
        let three = Spread::of(&[1.0, 2.0, 3.0]).unwrap();
        assert_eq!((three.sd, three.next, three.next_least), (Some(1.0), None, None));
        let eight = Spread::of(&[1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0]).unwrap();
        // Owen: k 3.187 at 8 (from memory); s = √6.
        assert!((eight.most_least.unwrap() - (4.5 - 3.187 * 6.0_f64.sqrt())).abs() < 5e-3);
    }
}
