//! A bank's table under two set-ups, or copied: the same readings counted twice look better known than they are.

use crate::job::{SetUp, TableKind};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::{NEVER, chance, grid_mm, read_unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer rows may agree by chance.
const FEWEST: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups = &asked.job.set_ups;
    let mut found = Vec::new();
    for (at, one) in set_ups.iter().enumerate() {
        for other in set_ups.iter().skip(at + 1).filter(|other| other.bank == one.bank) {
            let same = [TableKind::Bores, TableKind::Points].into_iter().find(|table| {
                let [a, b] = [one, other].map(|s| s.files.get(table));
                (a.is_some() && a == b) || alike(asked, &places(one, *table), &places(other, *table))
            });
            let Some(table) = same else { continue };
            let key = table.key();
            found.push(Suspicion {
                code: Code::Copied,
                verdict: Verdict::Hold,
                subject: Subject::set_up(&other.name),
                found: say!(
                    "its {key} are those of the set-up {} of the same bank, to the last digit",
                    plain(&one.name, 40)
                ),
                likely: "one reading listed twice: it counts as two, and seems better known than it is"
                    .into(),
                ask: "was the bank read twice? Name each reading once".into(),
                evidence: figures([("rows", count(places(other, table).len()))]),
                cylinders: asked.readings.cylinders(at).into(),
            });
        }
    }
    found
}

fn places(set_up: &SetUp, table: TableKind) -> Vec<[f64; 3]> {
    match table {
        TableKind::Bores => {
            set_up.bores.iter().map(|b| [b.centre_mm[0], b.centre_mm[1], b.diameter_mm]).collect()
        }
        _ => set_up.points.iter().map(|p| [p.at_mm[0], p.at_mm[1], p.depth_mm]).collect(),
    }
}

/// Whether all of one table's places are the other's to the last digit, where that is no chance.
fn alike(asked: &Asked<'_>, one: &[[f64; 3]], other: &[[f64; 3]]) -> bool {
    if one.len() != other.len() || one.len() < FEWEST || asked.job.instruments.are_exact() {
        return false;
    }
    let all: Vec<f64> = one.iter().flat_map(|row| [row[0], row[1]]).collect();
    let Some(grid) = grid_mm(&all, read_unit_mm(asked.job)) else { return false };
    let same = one.iter().zip(other).all(|(a, b)| a.map(f64::to_bits) == b.map(f64::to_bits));
    same && chance(grid, asked.job.instruments.centre_mm, 2 * one.len()) < NEVER
}
