//! Walls that were not read where walls round them were: the thinnest are the hardest to read, and they are what a cut must leave.

use crate::survey::custom::SAME_DEPTH_MM;
use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::WallReading;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::clock::clocks_apart_deg;
use borewright_geometry::sample::count;

/// Towards the bores beside it a wall need not be read, this near to the row, degrees: a bridge has a limit of its own. Common
/// practice, no source.
const ROW_DEG: f64 = 30.0;

/// Clocks are told to a degree.
const SAME_DEG: f64 = 1.0;

/// A wall read this near along the surface stands for one that was not, mm: nobody reads on a rib or a pit. Common practice, no
/// source.
const BESIDE_MM: f64 = 10.0;

/// So do walls on both sides of it at its depth, this near round the bore, degrees. Common practice, no source.
const SIDES_DEG: i32 = 25;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    (0..asked.job.block.banks.len()).flat_map(|bank| of_bank(asked, bank)).collect()
}

/// Walls that were read, by clock in whole degrees and by cylinder: their depths in mm, in order.
type Read = BTreeMap<i32, BTreeMap<u32, Vec<f64>>>;

/// Asks once about each bore of a bank that has places where no wall was read.
fn of_bank(asked: &Asked<'_>, bank: usize) -> Vec<Suspicion> {
    let walls = || asked.job.set_ups.iter().filter(|s| s.bank == bank).flat_map(|s| &s.walls);
    let mut read = Read::new();
    for wall in walls().filter(|w| w.wall_mm.is_some()) {
        let bores = read.entry(whole(wall.clock_deg)).or_default();
        bores.entry(wall.cylinder).or_default().push(wall.depth_mm);
    }
    read.values_mut().flat_map(BTreeMap::values_mut).for_each(|depths| depths.sort_by(f64::total_cmp));
    let mut left_out: BTreeMap<u32, Vec<&WallReading>> = BTreeMap::new();
    let radius_mm = asked.job.finish.bore_mm / 2.0;
    let left =
        |w: &&WallReading| w.wall_mm.is_none() && is_left_out(&read, w) && !is_beside(&read, w, radius_mm);
    for wall in walls().filter(left) {
        left_out.entry(wall.cylinder).or_default().push(wall);
    }
    left_out.into_iter().filter_map(|(cylinder, places)| asks(cylinder, &places)).collect()
}

fn asks(cylinder: u32, places: &[&WallReading]) -> Option<Suspicion> {
    let first = places.first()?;
    let others = match places.len() {
        1 => String::new(),
        n => format!(", nor at {} more places", n - 1),
    };
    Some(Suspicion {
        code: Code::WallUnread,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!(
            "its wall at clock {:.0}, {} deep, was not read{others}",
            first.clock_deg,
            mm(first.depth_mm, 1)
        ),
        likely: "a place that is hard to read, or a figure left out because it is thin".into(),
        ask: say!(
            "read it, or within {} of it along the surface, or at its depth on both sides of it, within {SIDES_DEG} degrees",
            mm(BESIDE_MM, 0)
        ),
        evidence: figures([
            ("clock", first.clock_deg),
            ("depth", first.depth_mm),
            ("places", count(places.len())),
        ]),
        cylinders: vec![cylinder].into(),
    })
}

/// Whether a place where no wall was read is one where it might have been: not towards the bores beside it, and another bore of the
/// bank was read there.
fn is_left_out(read: &Read, wall: &WallReading) -> bool {
    let to_row = [0.0, 180.0].into_iter().map(|row| clocks_apart_deg(wall.clock_deg, row));
    to_row.fold(f64::INFINITY, f64::min) > ROW_DEG + SAME_DEG
        && (-1..=1).any(|off| there(read, wall, off, BESIDE_MM).any(|cylinder| cylinder != wall.cylinder))
}

/// Whether a bore's own wall was read beside a place where it was not: near it along the surface, or on both sides of it.
fn is_beside(read: &Read, wall: &WallReading, radius_mm: f64) -> bool {
    let own = |off: i32, within_mm: f64| there(read, wall, off, within_mm).any(|n| n == wall.cylinder);
    let near = |off: i32| {
        // What is told as one clock is one.
        let arc = if off.abs() <= 1 { 0.0 } else { f64::from(off).to_radians() * radius_mm };
        let down_mm = (BESIDE_MM * BESIDE_MM - arc * arc).sqrt();
        down_mm.is_finite() && own(off, down_mm)
    };
    let side = |way: i32| (1..=SIDES_DEG).any(|off| own(way * off, SAME_DEPTH_MM));
    (-SIDES_DEG..=SIDES_DEG).any(near) || (side(-1) && side(1))
}

/// The cylinders that were read so many degrees on from a place, within so much of its depth.
fn there(read: &Read, wall: &WallReading, off_deg: i32, within_mm: f64) -> impl Iterator<Item = u32> {
    let clock = (whole(wall.clock_deg) + off_deg).rem_euclid(360);
    let [least, most] = [-within_mm, within_mm].map(|by| wall.depth_mm + by);
    let is_there = move |depths: &[f64]| {
        let next = depths.get(depths.partition_point(|depth| *depth < least));
        next.is_some_and(|depth| *depth <= most)
    };
    let bores = read.get(&clock).into_iter().flatten();
    bores.filter(move |(_, depths)| is_there(depths)).map(|(cylinder, _)| *cylinder)
}

/// A clock in whole degrees from 0 to 359.
pub(super) fn whole(clock_deg: f64) -> i32 {
    // A clock is a finite angle: it was checked as it was read.
    #[allow(clippy::cast_possible_truncation)]
    let degrees = clock_deg.rem_euclid(360.0).round() as i32;
    degrees.rem_euclid(360)
}
