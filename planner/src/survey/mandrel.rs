//! A mandrel swept twice at each main and turned by half between: its run-out goes into both sweeps, turned about, and
//! out of their middle.

use std::collections::BTreeMap;

use borewright_geometry::sample::count;

use super::significance::NO_CHANCE;
use crate::job::AxisReading;

/// A mandrel whose two sweeps lie farther apart than this is bent, or was read in another clamping, mm. Common practice, no
/// source.
const RUN_OUT_MM: f64 = 0.05;

/// One point for each main (x, y, z, mm), the middle of its two sweeps; `None` where the mains were not swept so.
/// `at_mm`: where each of `centres` stands; `u_mm`: the standard uncertainty of one sweep.
pub(super) fn middles(centres: &[AxisReading], at_mm: &[[f64; 3]], u_mm: f64) -> Option<Vec<[f64; 3]>> {
    let pairs = pairs(centres.iter().zip(at_mm).map(|(centre, at)| (&*centre.main, *at)))?;
    let middle = |[a, b]: &[[f64; 3]; 2]| [0, 1, 2].map(|k| f64::midpoint(a[k], b[k]));
    is_half_turn(&pairs, u_mm).then(|| pairs.iter().map(middle).collect())
}

/// The two readings of each main (x, y, z, mm), in the mains' order of first reading; `None` where any was read once or oftener.
pub(crate) fn pairs<'m>(readings: impl Iterator<Item = (&'m str, [f64; 3])>) -> Option<Vec<[[f64; 3]; 2]>> {
    let mut of: BTreeMap<&str, usize> = BTreeMap::new();
    let mut mains: Vec<Vec<[f64; 3]>> = Vec::new();
    for (main, at) in readings {
        let own = *of.entry(main).or_insert(mains.len());
        match mains.get_mut(own) {
            Some(swept) => swept.push(at),
            None => mains.push(vec![at]),
        }
    }
    mains.into_iter().map(|swept| swept.try_into().ok()).collect()
}

/// Whether the second readings stand off the first alike at every main, and by more than chance: so does a mandrel that
/// runs out, turned by half. A slip at one main stands alone, and no mandrel runs out by [`RUN_OUT_MM`].
pub(crate) fn is_half_turn(pairs: &[[[f64; 3]; 2]], u_mm: f64) -> bool {
    let off: Vec<[f64; 2]> = pairs.iter().map(|[a, b]| [1, 2].map(|k| b[k] - a[k])).collect();
    let mean = [0, 1].map(|k| off.iter().map(|o| o[k]).sum::<f64>() / count(off.len()));
    let apart_mm = NO_CHANCE * std::f64::consts::SQRT_2 * u_mm;
    let alike = off.iter().all(|o| (o[0] - mean[0]).hypot(o[1] - mean[1]) <= apart_mm);
    let run_out = mean[0].hypot(mean[1]);
    off.len() > 1 && alike && (apart_mm / count(off.len()).sqrt()..=RUN_OUT_MM).contains(&run_out)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn swept(off: &[[f64; 2]]) -> Vec<[[f64; 3]; 2]> {
        off.iter().zip([0.0, 100.0, 200.0]).map(|([y, z], x)| [[x, 0.0, 0.0], [x, *y, *z]]).collect()
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
