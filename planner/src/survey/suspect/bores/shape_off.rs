//! Radial readings and heights that the bores, or the deck, contradict.

use std::collections::BTreeMap;

use borewright_geometry::fit_circle;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::ShapeReading;
use crate::plan::sentence::{before_mm, mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::custom::SAME_DEPTH_MM;
use crate::survey::suspect::Code;

/// A wall farther than this from the circles read there is another bore's, a hole in it, or a wrong figure, mm. Common
/// practice, no source.
const OFF_MM: f64 = 0.30;

/// The middle radius of a ring of readings differs from that of the circle at its depth by no more than this, mm. Common practice,
/// no source.
const RING_MM: f64 = 0.06;
/// Nor by more standard uncertainties than this.
const SIGMAS: f64 = 4.0;
/// Under a torque plate by so much more, mm. Common practice, no source.
const PLATE_MM: f64 = 0.03;

/// A reading off the circle of its own ring by more than this is a groove, a hole or a slip, mm: a worn bore is oval by less. Common
/// practice, no source.
const OF_RING_MM: f64 = 0.12;

/// Fewer readings make no ring.
const RING: usize = 6;

/// Readings under this share of the bore's radius are distances from somewhere else, and no radii.
const RADIUS: f64 = 0.5;

/// A liner or flange that stands farther above the deck than the first of these, or lies farther below it than the second, was read
/// from another deck, mm: a head goes on no liner that stands proud by tenths. Common practice, no source.
const HEIGHT_MM: [f64; 2] = [0.3, 1.0];

/// The most that heights round one liner differ, mm. Common practice, no source.
const LEANS_MM: f64 = 0.5;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let sites = asked.job.block.banks.iter().flat_map(|b| &b.sites);
    sites
        .flat_map(|site| {
            let n = site.cylinder;
            [shape(asked, n).or_else(|| ring(asked, n)), height(asked, n)]
        })
        .flatten()
        .collect()
}

/// The first ring of readings that the circle at its depth denies, or of which one reading is off the ring's own circle.
fn ring(asked: &Asked<'_>, cylinder: u32) -> Option<Suspicion> {
    let instruments = &asked.job.instruments;
    let mut rings: BTreeMap<(u64, bool), Vec<&ShapeReading>> = BTreeMap::new();
    for row in asked.job.set_ups.iter().flat_map(|s| &s.shape).filter(|r| r.cylinder == cylinder) {
        rings.entry((row.depth_mm.to_bits(), row.plate_on)).or_default().push(row);
    }
    rings.into_iter().filter(|(_, rows)| rows.len() >= RING).find_map(|((depth, plate_on), rows)| {
        let depth = f64::from_bits(depth);
        let at = |row: &&ShapeReading| {
            let (sin, cos) = row.clock_deg.to_radians().sin_cos();
            [row.radius_mm * cos, row.radius_mm * sin]
        };
        let points: Vec<[f64; 2]> = rows.iter().map(at).collect();
        let own = fit_circle(&points).ok()?;
        let here = asked.circles.iter().filter(|c| c.cylinder == cylinder);
        // Farther in depth wear is another.
        let here = here.filter(|c| (c.depth_mm - depth).abs() <= SAME_DEPTH_MM).map(|c| c.diameter_mm / 2.0);
        let circle = here.min_by(|a, b| (a - own.radius_mm).abs().total_cmp(&(b - own.radius_mm).abs()))?;
        // Under half of it they are distances from elsewhere, and no radii.
        if own.radius_mm < RADIUS * circle {
            return None;
        }
        let u = (instruments.diameter_mm / 2.0).hypot(instruments.centre_mm);
        let plate = if plate_on { PLATE_MM } else { 0.0 };
        let off = own.radius_mm - circle;
        let found = if off.abs() > RING_MM.max(SIGMAS * u) + plate + 1e-9 {
            say!(
                "at depth {} its radii are {} in the middle, and the bore's circle there has {}",
                mm(depth, 1),
                before_mm(own.radius_mm, 3),
                mm(circle, 3)
            )
        } else {
            let apart = own.residuals_mm(&points);
            let (row, by) = rows.iter().zip(apart).max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
            if by.abs() <= OF_RING_MM.max(SIGMAS * u) + plate + 1e-9 {
                return None;
            }
            say!(
                "at depth {}, clock {:.0} its radius stands {} off the circle of the ring",
                mm(depth, 1),
                row.clock_deg,
                signed_mm(by, 3)
            )
        };
        Some(Suspicion {
            code: Code::ShapeOff,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            found,
            likely:
                "a gauge set to another radius, another bore's rows, a groove in the wall, or a wrong digit"
                    .into(),
            ask: say!(
                "measure cylinder {cylinder} at depth {} again, radii and diameter: which is right?",
                mm(depth, 1)
            ),
            evidence: figures([("radius", own.radius_mm), ("circle", circle), ("off", off)]),
            cylinders: vec![cylinder].into(),
        })
    })
}

/// The radial reading farthest from every circle at its depth.
fn shape(asked: &Asked<'_>, cylinder: u32) -> Option<Suspicion> {
    let circles: Vec<_> = asked.circles.iter().filter(|c| c.cylinder == cylinder).collect();
    let own =
        asked.job.set_ups.iter().flat_map(|s| &s.shape).filter(|r| r.cylinder == cylinder && !r.plate_on);
    let worst = own.filter_map(|row| {
        let off = |c: &&&crate::survey::bore::FoundCircle| row.radius_mm - c.diameter_mm / 2.0;
        // Of each surface the circle nearest in depth: the reading belongs to the one that it fits.
        let near = circles.iter().min_by(|a, b| {
            let apart = |c: &&&crate::survey::bore::FoundCircle| {
                (c.depth_mm - row.depth_mm).abs() + 1000.0 * off(c).abs().min(OFF_MM * 2.0)
            };
            apart(a).total_cmp(&apart(b))
        })?;
        (row.radius_mm > RADIUS * near.diameter_mm / 2.0).then(|| (row, off(&near), near.diameter_mm / 2.0))
    });
    let (row, off, radius) = worst.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs()))?;
    (off.abs() > OFF_MM + 1e-9).then(|| Suspicion {
        code: Code::ShapeOff,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!(
            "at depth {:.1}, clock {:.0} the wall was read {} from the middle, and the bore's circles there have a radius of {}",
            row.depth_mm,
            row.clock_deg,
            mm(row.radius_mm, 3),
            mm(radius, 3)
        ),
        likely: "a hole or groove in the wall that the pocket does not reach, another bore's row, or a wrong digit".into(),
        ask: say!("look into cylinder {cylinder} there: what stands behind the sleeve, and does the pocket clean it up?"),
        evidence: figures([("radius", row.radius_mm), ("circle", radius), ("off", off)]),
        cylinders: vec![cylinder].into(),
    })
}

fn height(asked: &Asked<'_>, cylinder: u32) -> Option<Suspicion> {
    let own = asked.job.set_ups.iter().flat_map(|s| &s.heights).filter(|h| h.cylinder == cylinder);
    let heights: Vec<f64> = own.clone().map(|h| h.height_mm).collect();
    let most = |height: f64| if height > 0.0 { HEIGHT_MM[0] } else { HEIGHT_MM[1] };
    let beyond = |height: f64| height.abs() / most(height);
    let worst = own.max_by(|a, b| beyond(a.height_mm).total_cmp(&beyond(b.height_mm)))?;
    let ends = heights
        .iter()
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[low, high]: [f64; 2], h| [low.min(*h), high.max(*h)]);
    (beyond(worst.height_mm) > 1.0 + 1e-9 || ends[1] - ends[0] > LEANS_MM + 1e-9).then(|| Suspicion {
        code: Code::HeightsOdd,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!(
            "its liner was read {} from the deck at clock {:.0}; liners sink or stand by tenths, and rapids cross {} above the deck",
            signed_mm(worst.height_mm, 2),
            worst.clock_deg,
            mm(asked.job.machine.clearance_mm, 1)
        ),
        likely: "a digit slipped, another unit, or a deck that is not the one that depths count from".into(),
        ask: say!("how high does the liner of cylinder {cylinder} stand (usual: {} below the deck to {} above)?", mm(HEIGHT_MM[1], 1), mm(HEIGHT_MM[0], 1)),
        evidence: figures([("height", worst.height_mm), ("most", most(worst.height_mm))]),
        cylinders: vec![cylinder].into(),
    })
}
