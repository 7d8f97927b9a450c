//! Whether figures that were filed of one job may be of two engines, as where two of one order have one number.

use borewright_geometry::sample::count;

use super::figures::{BoreFound, Figures};

/// Bores that must all be read otherwise: one may have been read wrong and put right.
const BORES: usize = 2;

/// Two readings of one place lie within this many standard uncertainties of their difference, nearly always.
const TIMES: f64 = 3.0;

/// A diameter over this beside another is of another surface, mm: liner and parent stand off by what they please. Common practice,
/// no source.
const SURFACE_MM: f64 = 0.5;

/// How many bores are read otherwise than before in a way that reading the same engine anew does not explain: every one of them, and
/// more than a zero picked up anew, which moves all bores of a bank alike, leaves of them; `None` where it may be one engine.
///
/// The rest of `d`, the difference of both, about its mean over each bank has the rms `√(Σ(d − d̄)² / (2 (n − k)))`, `n` bores in `k`
/// banks; it is held against `√2 · u` of a centre, three times. A zero that stands off in its own uncertainty says nothing, however far.
#[must_use]
pub fn read_as_another(before: &Figures, now: &Figures) -> Option<usize> {
    let then = |own: &BoreFound| before.bores.iter().find(|then| then.cylinder == own.cylinder);
    let both: Vec<(&BoreFound, &BoreFound)> =
        now.bores.iter().filter_map(|own| Some((own, then(own)?))).collect();
    if both.len() < BORES || both.iter().any(|(own, then)| (then.diameter - own.diameter).abs() > SURFACE_MM)
    {
        return None;
    }
    let moved = |(own, then): (&BoreFound, &BoreFound)| [0, 1].map(|k| own.off[k] - then.off[k]);
    let pairs: Vec<(&BoreFound, [f64; 2])> = both.into_iter().map(|pair| (pair.0, moved(pair))).collect();
    let u = 2.0_f64.sqrt() * before.u[0].max(now.u[0]);
    if !u.is_finite() || pairs.iter().any(|(_, d)| d[0].hypot(d[1]) <= u) {
        return None;
    }
    let mut banks: Vec<&str> = pairs.iter().map(|(own, _)| own.bank.as_str()).collect();
    banks.sort_unstable();
    banks.dedup();
    let mut rest = 0.0;
    for bank in &banks {
        let own: Vec<[f64; 2]> = pairs.iter().filter(|(own, _)| own.bank == *bank).map(|(_, d)| *d).collect();
        for k in [0, 1] {
            let mean = own.iter().map(|d| d[k]).sum::<f64>() / count(own.len());
            rest += own.iter().map(|d| (d[k] - mean).powi(2)).sum::<f64>();
        }
    }
    let free = pairs.len().checked_sub(banks.len()).filter(|free| *free > 0)?;
    let rms = (rest / (2.0 * count(free))).sqrt();
    (rms > TIMES * u).then_some(pairs.len())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn figures(off: &[[f64; 2]], diameter: f64) -> Figures {
        let bore = |(cylinder, off): (u32, &[f64; 2])| BoreFound {
            cylinder,
            bank: if cylinder % 2 == 1 { "left" } else { "right" }.to_owned(),
            true_x: 0.0,
            off: *off,
            tilt: None,
            diameter,
        };
        Figures { bores: (1..).zip(off).map(bore).collect(), u: [0.003, 0.015, 0.004], ..Figures::default() }
    }

    #[test]
    fn an_engine_read_anew_is_one_and_bores_that_stand_elsewhere_each_by_itself_are_two() {
        let off = [[0.03, -0.02], [0.05, 0.01], [-0.04, 0.02], [0.02, 0.03], [0.01, -0.05], [-0.03, 0.0]];
        let first = figures(&off, 82.0);
        let by = |d: [[f64; 2]; 6]| {
            let now: Vec<[f64; 2]> = off.iter().zip(d).map(|(a, b)| [a[0] + b[0], a[1] + b[1]]).collect();
            figures(&now, 82.0)
        };
        // Read anew, with a zero that was picked up anew; some bores put right.
        let slip = |sign: f64| [0.020 * sign + 0.002, 0.008 * sign - 0.003];
        assert_eq!(read_as_another(&first, &by([1.0, -1.0, 1.0, -1.0, 1.0, -1.0].map(slip))), None);
        let some = [[0.09, 0.0], [-0.06, 0.08], [0.0; 2], [0.0; 2], [0.0; 2], [0.0; 2]];
        assert_eq!(read_as_another(&first, &by(some)), None);
        assert_eq!(read_as_another(&first, &first), None);
        // Another engine; of one whose liners are out nothing is known.
        let other = figures(
            &[[-0.03, 0.04], [0.0, -0.04], [0.02, 0.05], [0.06, 0.0], [-0.05, 0.0], [0.03, 0.05]],
            82.0,
        );
        assert_eq!(read_as_another(&first, &other), Some(6));
        assert_eq!(read_as_another(&first, &Figures { u: [f64::NAN; 3], ..other.clone() }), Some(6));
        assert_eq!(
            read_as_another(&first, &figures(&other.bores.iter().map(|b| b.off).collect::<Vec<_>>(), 86.0)),
            None
        );
        assert_eq!(read_as_another(&Figures::default(), &Figures::default()), None);
    }
}
