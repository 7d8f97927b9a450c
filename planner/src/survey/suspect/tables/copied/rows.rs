//! Rows of a table that stand in it twice: one reading counted as two.

use crate::survey::suspect::Code;
use std::collections::BTreeSet;

use crate::job::SetUp;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer rows may have been read again to the same digits.
const FEWEST: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for set_up in &asked.job.set_ups {
        for (table, doubled) in [("bores", circles(set_up)), ("points", points(set_up))] {
            if doubled.len() < FEWEST {
                continue;
            }
            let mut cylinders = doubled.clone();
            cylinders.sort_unstable();
            cylinders.dedup();
            found.push(Suspicion {
                code: Code::Copied,
                verdict: Verdict::Hold,
                subject: Subject::set_up(&set_up.name),
                found: say!(
                    "{} rows of its {table} table stand in it twice, alike to the last digit",
                    doubled.len()
                ),
                likely: "rows copied: one reading counts as two, and is believed more than it is worth"
                    .into(),
                ask: "was each of them read again? Strike the copies, or read again".into(),
                evidence: figures([("rows", count(doubled.len()))]),
                cylinders: cylinders.into(),
            });
        }
    }
    found
}

/// The cylinders of rows that repeat an earlier one.
fn circles(set_up: &SetUp) -> Vec<u32> {
    let mut seen = BTreeSet::new();
    let rows = set_up.bores.iter().filter(|b| {
        let figures = [b.depth_mm, b.centre_mm[0], b.centre_mm[1], b.diameter_mm].map(f64::to_bits);
        !seen.insert((b.cylinder, figures, b.surface, b.set.as_deref()))
    });
    rows.map(|b| b.cylinder).collect()
}

fn points(set_up: &SetUp) -> Vec<u32> {
    let mut seen = BTreeSet::new();
    let rows = set_up.points.iter().filter(|p| {
        let figures = [p.depth_mm, p.at_mm[0], p.at_mm[1]].map(f64::to_bits);
        !seen.insert((p.cylinder, figures, p.surface, p.set.as_deref()))
    });
    rows.map(|p| p.cylinder).collect()
}
