//! One circle off the line of its bore's other circles: a wrong digit that tilts the bore and moves its cut.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::bore::FoundCircle;
use borewright_geometry::sample::count;

/// A circle nearer than this to the line of the others is not asked about, mm: a worn bore bends as far. Common
/// practice, no source.
const LEAST_MM: f64 = 0.05;

/// A residual must be this many times its own standard uncertainty: of two components chance leaves one in 270 000.
const SIGMAS: f64 = 5.0;

/// The best that a probe is believed to repeat, mm.
const LEAST_U_MM: f64 = 0.003;

/// Without the circle that is off, the rest lies this near their line, in standard uncertainties.
const RESTS: f64 = 3.5;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut bores: BTreeMap<(u32, Surface, usize), Vec<&FoundCircle>> = BTreeMap::new();
    for circle in asked.circles {
        bores.entry((circle.cylinder, circle.surface, circle.round)).or_default().push(circle);
    }
    let u = asked.job.instruments.centre_mm.max(LEAST_U_MM);
    bores.into_values().filter_map(|circles| judge(u, &circles)).collect()
}

/// A circle against the line through all: its residual over that residual's own u, and how far it lies from the line
/// of the others.
#[derive(Debug, Clone, Copy)]
struct Left {
    over_u: f64,
    apart_mm: f64,
}

fn residuals(u: f64, circles: &[&FoundCircle]) -> Vec<Left> {
    let n = count(circles.len());
    let depth = circles.iter().map(|c| c.depth_mm).sum::<f64>() / n;
    let square: f64 = circles.iter().map(|c| (c.depth_mm - depth).powi(2)).sum();
    let mean = [0, 1].map(|k| circles.iter().map(|c| c.centre_mm[k]).sum::<f64>() / n);
    let slope = [0, 1].map(|k| {
        circles.iter().map(|c| (c.depth_mm - depth) * (c.centre_mm[k] - mean[k])).sum::<f64>() / square
    });
    let of = |c: &&FoundCircle| {
        let at = c.depth_mm - depth;
        let free = 1.0 - 1.0 / n - at * at / square;
        let [x, y] = [0, 1].map(|k| c.centre_mm[k] - mean[k] - slope[k] * at);
        // A circle that alone decides the line's end has no residual to judge by.
        if free < 1e-6 {
            return Left { over_u: 0.0, apart_mm: 0.0 };
        }
        Left { over_u: x.hypot(y) / (u * free.sqrt()), apart_mm: x.hypot(y) / free }
    };
    circles.iter().map(of).collect()
}

fn depths(circles: &[&FoundCircle]) -> usize {
    let mut depths: Vec<f64> = circles.iter().map(|c| c.depth_mm).collect();
    depths.sort_by(f64::total_cmp);
    depths.dedup_by(|a, b| (*a - *b).abs() < 0.5);
    depths.len()
}

/// The suspicion of one bore's circles on one surface, from three depths on; names the circle where only one can be
/// it. `u` is that of a centre, mm.
fn judge(u: f64, circles: &[&FoundCircle]) -> Option<Suspicion> {
    // Two depths make a line whatever they are.
    if depths(circles) < 3 {
        return None;
    }
    let left = residuals(u, circles);
    let worst = left.iter().copied().max_by(|a, b| a.over_u.total_cmp(&b.over_u))?;
    let apart = left.iter().map(|l| l.apart_mm).fold(0.0, f64::max);
    if worst.over_u < SIGMAS || apart < LEAST_MM {
        return None;
    }
    // A circle is named only where the rest without it lies on a line and the rest without any other does not.
    let named: Vec<usize> = (0..circles.len())
        .filter(|i| {
            let rest: Vec<&FoundCircle> =
                circles.iter().enumerate().filter(|(k, _)| k != i).map(|(_, c)| *c).collect();
            depths(&rest) > 2 && residuals(u, &rest).iter().all(|l| l.over_u < RESTS)
        })
        .collect();
    let first = circles.first()?;
    let cylinder = first.cylinder;
    let all = circles.iter().map(|c| format!("{:.1}", c.depth_mm)).collect::<Vec<_>>().join(", ");
    let (found, ask, at, by) = match named.as_slice() {
        [only] => {
            let (depth, by) = (circles[*only].depth_mm, left[*only].apart_mm);
            (
                say!(
                    "the circle at depth {} lies {} off the line of the bore's other {}",
                    mm(depth, 1),
                    mm(by, 3),
                    circles.len() - 1
                ),
                say!(
                    "clean cylinder {cylinder} at depth {} and read it again, in the place of its old row",
                    mm(depth, 1)
                ),
                depth,
                by,
            )
        }
        _ => (
            say!(
                "its circles at depths {all} lie on no line: one is up to {} off that of the others, and they \
             cannot say which",
                mm(apart, 3)
            ),
            say!(
                "read cylinder {cylinder} again at all of them, in the place of the old rows, and at one depth more"
            ),
            first.depth_mm,
            apart,
        ),
    };
    Some(Suspicion {
        code: Code::CircleOffLine,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found,
        likely: "a wrong digit, a chip under the probe, wear on one side alone, or a bore bent as no boring bar bends one".into(),
        ask,
        evidence: figures([
            ("depth", at),
            ("off", by),
            ("over_u", worst.over_u),
            ("circles", count(circles.len())),
        ]),
        cylinders: vec![cylinder].into(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn bore(depths: &[f64], slip: Option<(usize, f64)>) -> Vec<FoundCircle> {
        let circle = |(i, depth): (usize, &f64)| FoundCircle {
            cylinder: 3,
            bank: 0,
            set_up: 0,
            depth_mm: *depth,
            // Leaning a thousandth, as bores may.
            centre_mm: [60.0 + 0.001 * depth, slip.filter(|s| s.0 == i).map_or(0.0, |s| s.1)],
            diameter_mm: 96.0,
            surface: Surface::Liner,
            set: None,
            round: 0,
            planned: true,
            roundness_mm: None,
            metal_mm: [0.0; 2],
            u_mm: 0.003,
            gap_deg: None,
        };
        depths.iter().enumerate().map(circle).collect()
    }

    fn judged(depths: &[f64], slip: Option<(usize, f64)>) -> Option<Suspicion> {
        let bore = bore(depths, slip);
        judge(0.003, &bore.iter().collect::<Vec<_>>())
    }

    #[test]
    fn nine_hundredths_at_any_depth_are_told_and_from_four_depths_named() {
        for i in 0..3 {
            let told = judged(&[20.0, 70.0, 125.0], Some((i, 0.09))).unwrap();
            assert!(told.found.contains("cannot say which"), "{told:?}");
        }
        for i in 0..4 {
            let told = judged(&[20.0, 50.0, 90.0, 125.0], Some((i, 0.09))).unwrap();
            assert!((told.evidence["off"] - 0.09).abs() < 1e-9, "{told:?}");
        }
    }

    #[test]
    fn a_leaning_bore_and_two_depths_raise_nothing() {
        assert!(judged(&[20.0, 70.0, 125.0], None).is_none());
        assert!(judged(&[20.0, 70.0, 125.0], Some((1, 0.02))).is_none());
        assert!(judged(&[20.0, 125.0], Some((0, 3.0))).is_none());
    }
}
