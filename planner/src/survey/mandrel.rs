//! A mandrel swept at each main, turned by half and swept there again: its run-out goes into both sweeps, turned about, and
//! out of their middle.

use std::collections::BTreeSet;

use borewright_geometry::sample::count;

use super::significance::NO_CHANCE;
use crate::job::AxisReading;

/// A mandrel whose two sweeps lie farther apart than this is bent, or was read in another clamping, mm. Common practice, no
/// source.
const RUN_OUT_MM: f64 = 0.05;

/// One point for each main (x, y, z, mm), the middle of its two sweeps; `None` where the mains were not swept so.
/// `at_mm`: where each of `centres` stands; `u_mm`: the standard uncertainty of one sweep.
pub(super) fn middles(centres: &[AxisReading], at_mm: &[[f64; 3]], u_mm: f64) -> Option<Vec<[f64; 3]>> {
    let pairs = pairs(centres.iter().zip(at_mm).map(|(centre, at)| (&*centre.main, centre.line, *at)))?;
    let middle = |[a, b]: &[[f64; 3]; 2]| [0, 1, 2].map(|k| f64::midpoint(a[k], b[k]));
    is_half_turn(&pairs, u_mm).then(|| pairs.iter().map(middle).collect())
}

/// The two readings of each main (x, y, z, mm) of readings with their main and line, in the table's order; `None` where any was
/// read once or oftener, or not twice in a row: a block that moved between two sweeps of all mains would stand off as a run-out does.
pub(crate) fn pairs<'m>(
    readings: impl Iterator<Item = (&'m str, usize, [f64; 3])>,
) -> Option<Vec<[[f64; 3]; 2]>> {
    let mut all: Vec<(&str, usize, [f64; 3])> = readings.collect();
    all.sort_by_key(|reading| reading.1);
    let (swept, rest) = all.as_chunks::<2>();
    let in_a_row = rest.is_empty() && swept.iter().all(|[a, b]| a.0 == b.0);
    let mains: BTreeSet<&str> = swept.iter().map(|[a, _]| a.0).collect();
    (in_a_row && mains.len() == swept.len()).then(|| swept.iter().map(|[a, b]| [a.2, b.2]).collect())
}

/// Whether the second readings stand off the first alike at every main, and by more than chance: so does a mandrel that
/// runs out, turned by half at each. A slip at one main stands alone, and no mandrel runs out by [`RUN_OUT_MM`].
pub(crate) fn is_half_turn(pairs: &[[[f64; 3]; 2]], u_mm: f64) -> bool {
    let off: Vec<[f64; 2]> = pairs.iter().map(|[a, b]| [1, 2].map(|k| b[k] - a[k])).collect();
    let n = count(off.len());
    let mean = [0, 1].map(|k| off.iter().map(|o| o[k]).sum::<f64>() / n);
    let apart_mm = NO_CHANCE * std::f64::consts::SQRT_2 * u_mm;
    // One that is off draws the mean to itself.
    let from_mean_mm = apart_mm * ((n - 1.0) / n).sqrt();
    let alike = off.iter().all(|o| (o[0] - mean[0]).hypot(o[1] - mean[1]) <= from_mean_mm);
    let run_out = mean[0].hypot(mean[1]);
    off.len() > 1 && alike && (apart_mm / n.sqrt()..=RUN_OUT_MM).contains(&run_out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn swept(off: &[[f64; 2]]) -> Vec<[[f64; 3]; 2]> {
        off.iter().zip([0.0, 100.0, 200.0]).map(|([y, z], x)| [[x, 0.0, 0.0], [x, *y, *z]]).collect()
    }

    #[test]
    fn two_sweeps_of_all_mains_are_no_pairs() {
        let of = |mains: &[&'static str]| {
            pairs((2..).zip(mains).map(|(line, main)| (*main, line, [0.0; 3]))).is_some()
        };
        assert!(of(&["1", "1", "2", "2"]));
        assert!(!of(&["1", "2", "1", "2"]) && !of(&["1", "1", "2"]) && !of(&["1", "1", "1", "1"]));
    }

    #[test]
    fn a_run_out_is_alike_at_every_main_and_a_slip_is_not() {
        let run_out = swept(&[[0.016, 0.012], [0.017, 0.011], [0.015, 0.012]]);
        assert!(is_half_turn(&run_out, 0.004));
        // One sweep of one main read 0.03 beside: nobody's run-out.
        assert!(!is_half_turn(&swept(&[[0.016, 0.012], [0.046, 0.011], [0.015, 0.012]]), 0.004));
        // Scatter of two readings is no run-out, and 0.08 is another clamping.
        assert!(!is_half_turn(&swept(&[[0.003, 0.001], [0.002, -0.002], [0.001, 0.002]]), 0.004));
        assert!(!is_half_turn(&swept(&[[0.08, 0.0], [0.08, 0.0], [0.08, 0.0]]), 0.004));
    }
}
