//! A clock off the raster that all other walls were read on, with its own place of the raster empty.

use crate::survey::suspect::Code;
use std::collections::{BTreeMap, BTreeSet};

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{SetUp, WallReading};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;

/// Rings of readings that must keep one raster before a clock off it is asked about.
const FEWEST: usize = 2;

/// Places that make a raster.
const PLACES: usize = 3;

/// Clocks nearer than this are one, degrees.
const SAME_DEG: f64 = 0.5;

/// A clock in whole half degrees, so that places can be sorted and compared.
type Place = i64;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().flat_map(judge).collect()
}

#[expect(
    clippy::cast_possible_truncation,
    reason = "a clock is an angle of one turn: some hundreds of half degrees"
)]
fn place(wall: &WallReading) -> Place {
    (wall.clock_deg.rem_euclid(360.0) / SAME_DEG).round() as Place
}

fn degrees(place: Place) -> f64 {
    f64::from(i32::try_from(place).unwrap_or_default()) * SAME_DEG
}

/// How far two clocks are apart round the circle, degrees.
fn apart(a: Place, b: Place) -> f64 {
    let off = (degrees(a) - degrees(b)).abs();
    off.min(360.0 - off)
}

/// Asks about each wall of a set-up at a clock that no other ring has, where its own ring lacks one place that all
/// others have.
fn judge(set_up: &SetUp) -> Vec<Suspicion> {
    let mut rings: BTreeMap<(u32, u64), BTreeMap<Place, &WallReading>> = BTreeMap::new();
    for wall in &set_up.walls {
        rings.entry((wall.cylinder, wall.depth_mm.to_bits())).or_default().insert(place(wall), wall);
    }
    // How many rings have each place.
    let mut kept: BTreeMap<Place, usize> = BTreeMap::new();
    for at in rings.values().flat_map(BTreeMap::keys) {
        *kept.entry(*at).or_default() += 1;
    }
    let others = rings.len().saturating_sub(1);
    if others < FEWEST {
        return Vec::new();
    }
    let raster: BTreeSet<Place> = kept.iter().filter(|(_, n)| **n >= others).map(|(at, _)| *at).collect();
    let mut found = Vec::new();
    for ring in rings.values().filter(|_| raster.len() >= PLACES) {
        let empty: Vec<Place> = raster.iter().copied().filter(|at| !ring.contains_key(at)).collect();
        let [empty] = empty.as_slice() else { continue };
        let step = raster.iter().filter(|at| *at != empty).map(|at| apart(*at, *empty));
        let half = step.fold(360.0, f64::min) / 2.0;
        // A clock just beside the empty place is where the gauge could stand, and no slip.
        let odd = ring.iter().filter(|(at, _)| kept.get(at) == Some(&1) && apart(**at, *empty) > half);
        for wall in odd.map(|(_, wall)| wall) {
            let n = wall.cylinder;
            found.push(Suspicion {
                code: Code::WallOdd,
                verdict: Verdict::Hold,
                subject: Subject::cylinder(n),
                found: say!(
                    "a wall at depth {} at clock {:.1}, where no other was read, and none at {:.1}, where all others were",
                    mm(wall.depth_mm, 1),
                    wall.clock_deg,
                    degrees(*empty)
                ),
                likely: "a digit of the clock slipped".into(),
                ask: say!("at which clock was that wall of cylinder {n} read?"),
                evidence: figures([("clock", wall.clock_deg), ("empty", degrees(*empty))]),
                cylinders: vec![n].into(),
            });
        }
    }
    found
}
