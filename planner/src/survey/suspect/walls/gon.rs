//! Clocks of walls told in gon, 400 to the circle.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// A circle in gon.
const CIRCLE_GON: f64 = 400.0;

/// Places round a bore that make a pattern.
const FEWEST: u32 = 4;

/// Asks about each table of walls in which a bore's clocks go round in equal steps and meet at 400.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for set_up in &asked.job.set_ups {
        let mut rings: BTreeMap<(u32, u64), Vec<f64>> = BTreeMap::new();
        for wall in &set_up.walls {
            rings.entry((wall.cylinder, wall.depth_mm.to_bits())).or_default().push(wall.clock_deg);
        }
        let Some(step) = rings.into_values().find_map(step_gon) else { continue };
        found.push(Suspicion {
            code: Code::WrongUnit,
            verdict: Verdict::Hold,
            subject: Subject::bank(&asked.job.bank(set_up.bank).name),
            found: say!(
                "the clocks of its walls in set-up {} go round in steps of {step:.0} that meet at {CIRCLE_GON:.0}",
                plain(&set_up.name, 40)
            ),
            likely: "clocks in gon, or read off a head with 400 to the turn".into(),
            ask: "tell them in degrees: 360 to the turn".into(),
            evidence: figures([("step", step)]),
            cylinders: asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder).collect(),
        });
    }
    found
}

/// The one step of clocks that close a circle of 400 by it, gon.
fn step_gon(mut clocks: Vec<f64>) -> Option<f64> {
    clocks.sort_by(f64::total_cmp);
    clocks.dedup();
    let n = u32::try_from(clocks.len()).ok().filter(|n| *n >= FEWEST)?;
    let step = CIRCLE_GON / f64::from(n);
    clocks.windows(2).all(|two| (two[1] - two[0] - step).abs() < 1e-6).then_some(step)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn steps_that_close_at_400_are_gon_and_at_360_are_not() {
        let of = |step: f64, n: u8| (0..n).map(|i| step * f64::from(i)).collect::<Vec<_>>();
        assert_eq!(step_gon(of(50.0, 8)), Some(50.0));
        assert_eq!(step_gon(of(100.0, 4)), Some(100.0));
        assert_eq!(step_gon(of(45.0, 8)), None);
        assert_eq!(step_gon(of(90.0, 4)), None);
        assert_eq!(step_gon(of(50.0, 7)), None);
        assert_eq!(step_gon(Vec::new()), None);
    }
}
