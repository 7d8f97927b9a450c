//! Walls that were not read where walls round them were: the thinnest are the hardest to read, and they are what a cut must leave.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{SetUp, WallReading};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::clock::clocks_apart_deg;
use borewright_geometry::sample::count;

/// Towards the bores beside it a wall need not be read, this near to the row, degrees: a bridge has a limit of its own. Common
/// practice, no source.
const ROW_DEG: f64 = 30.0;

/// A wall read this near in depth stands for one that was not, mm: nobody reads on a rib or a pit. Common practice, no source.
const BESIDE_MM: f64 = 10.0;

/// Clocks are one within this, degrees.
const SAME_DEG: f64 = 1.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().flat_map(|set_up| of_set_up(asked, set_up)).collect()
}

/// Asks once about each bore of a set-up that has places where no wall was read.
fn of_set_up(asked: &Asked<'_>, set_up: &SetUp) -> Vec<Suspicion> {
    let bores = &asked.job.bank(set_up.bank).sites;
    let of_bore = |cylinder: u32| {
        let own = set_up.walls.iter().filter(|w| w.cylinder == cylinder && is_left_out(asked, set_up, w));
        let left_out: Vec<&WallReading> = own.collect();
        let first = left_out.first()?;
        let others = match left_out.len() {
            1 => String::new(),
            n => format!(", nor at {} more places", n - 1),
        };
        Some(Suspicion {
            code: "wall_unread",
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            found: say!(
                "its wall at clock {:.0}, {} deep, was not read{others}",
                first.clock_deg,
                mm(first.depth_mm, 1)
            ),
            likely: "a place that is hard to read, or a figure left out because it is thin".into(),
            ask: say!("read it, or within {} above or below it", mm(BESIDE_MM, 0)),
            evidence: figures([
                ("clock", first.clock_deg),
                ("depth", first.depth_mm),
                ("places", count(left_out.len())),
            ]),
            cylinders: vec![cylinder],
        })
    };
    bores.iter().filter_map(|site| of_bore(site.cylinder)).collect()
}

/// Whether a place where no wall was read is one where it might have been: not towards the bores beside it, not where no bore of
/// the bank was read, and not where one near it was.
fn is_left_out(asked: &Asked<'_>, set_up: &SetUp, wall: &WallReading) -> bool {
    let to_row = [0.0, 180.0]
        .into_iter()
        .map(|row| clocks_apart_deg(wall.clock_deg, row))
        .fold(f64::INFINITY, f64::min);
    if wall.wall_mm.is_some() || to_row <= ROW_DEG + SAME_DEG {
        return false;
    }
    let there = |other: &&WallReading| clocks_apart_deg(other.clock_deg, wall.clock_deg) <= SAME_DEG;
    let of_job = asked.job.set_ups.iter().flat_map(|s| &s.walls);
    let beside = of_job.filter(there).any(|other| {
        other.cylinder == wall.cylinder
            && other.wall_mm.is_some()
            && (other.depth_mm - wall.depth_mm).abs() <= BESIDE_MM
    });
    let mut others =
        set_up.walls.iter().filter(there).filter(|other| other.cylinder != wall.cylinder).peekable();
    let customary = others.peek().is_some() && others.all(|other| other.wall_mm.is_none());
    !beside && !customary
}
