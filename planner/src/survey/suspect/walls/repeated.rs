//! Walls that repeat to the last digit: one bore's copied to another, or one figure for all.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{SetUp, Surface};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::say;
use borewright_geometry::sample::count;

/// Fewer rows may agree by chance.
const FEWEST: usize = 5;

/// Rows that must differ from each other: walls that are all alike have their own question.
const DISTINCT: usize = 3;

/// One bore's walls by where they were read.
type Walls = BTreeMap<(u64, u64, Surface), f64>;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut bores: BTreeMap<u32, Walls> = BTreeMap::new();
    for wall in asked.job.set_ups.iter().flat_map(|s| &s.walls) {
        let Some(read) = wall.wall_mm else { continue };
        let place = (wall.depth_mm.to_bits(), wall.clock_deg.to_bits(), wall.surface);
        bores.entry(wall.cylinder).or_default().insert(place, read);
    }
    let alike: Vec<Suspicion> = asked.job.set_ups.iter().filter_map(all_alike).collect();
    if alike.is_empty() { copies(&bores) } else { alike }
}

/// A whole table of one figure.
fn all_alike(set_up: &SetUp) -> Option<Suspicion> {
    let walls = || set_up.walls.iter().filter_map(|w| w.wall_mm);
    let (first, n) = (walls().next()?, walls().count());
    let mut cylinders: Vec<u32> = set_up.walls.iter().map(|w| w.cylinder).collect();
    cylinders.sort_unstable();
    cylinders.dedup();
    (n >= FEWEST && walls().all(|w| w.to_bits() == first.to_bits())).then(|| Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!("all its {n} walls read {} to the last digit, which no casting's do", mm(first, 3)),
        likely: "one figure filled in for all, or a gauge that stood still".into(),
        ask: "was each of these walls read? Read them again".into(),
        evidence: figures([("wall", first), ("rows", count(n))]),
        cylinders: cylinders.into(),
    })
}

fn copies(bores: &BTreeMap<u32, Walls>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    let mut told: Vec<u32> = Vec::new();
    for (first, own) in bores {
        if told.contains(first) {
            continue;
        }
        let alike: Vec<u32> =
            bores.range(first + 1..).filter(|(_, other)| copied(own, other)).map(|(n, _)| *n).collect();
        if alike.is_empty() {
            continue;
        }
        told.extend(&alike);
        found.push(Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::Cylinders(alike.clone()),
            found: say!("its {} walls repeat those of cylinder {first} to the last digit", own.len()),
            likely: "one bore's walls copied to another".into(),
            ask: say!("of which bore are these walls? Read those of {} again", cylinder_words(&alike)),
            evidence: figures([("rows", count(own.len()))]),
            cylinders: std::iter::once(*first).chain(alike).collect(),
        });
    }
    found
}

/// Whether two bores' walls are one table: the same places, all alike.
fn copied(own: &Walls, other: &Walls) -> bool {
    let mut values: Vec<u64> = own.values().map(|w| w.to_bits()).collect();
    values.sort_unstable();
    values.dedup();
    own.len() >= FEWEST
        && values.len() >= DISTINCT
        && own.len() == other.len()
        && own.iter().zip(other).all(|(a, b)| a.0 == b.0 && a.1.to_bits() == b.1.to_bits())
}
