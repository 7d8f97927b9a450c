//! Columns that go on by equal steps, or only ever rise or fall, from row to row: dragged down or sorted in a spreadsheet.

use crate::job::SetUp;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::{grid_mm, unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::{count, ends};

/// Rows that do not go on by equal steps by chance.
const STEPS: usize = 6;

/// Diameters that do not come sorted by chance, and how many of them must differ.
const SORTED: usize = 8;
const DISTINCT: usize = 6;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let of = |(index, set_up): (usize, &SetUp)| {
        let y: Vec<f64> = set_up.bores.iter().map(|b| b.centre_mm[1]).collect();
        let diameters: Vec<f64> = set_up.bores.iter().map(|b| b.diameter_mm).collect();
        let unit = unit_mm(asked.job.units);
        let (name, how) = if by_steps(&y, unit) {
            ("y", "goes on by equal steps")
        } else if by_steps(&diameters, unit) {
            ("diameter", "goes on by equal steps")
        } else if sorted(&diameters) {
            ("diameter", "only ever rises or falls")
        } else {
            return None;
        };
        Some(Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::set_up(&set_up.name),
            found: say!("{name} {how} down all rows of the bores of set-up {}", plain(&set_up.name, 40)),
            likely: "dragged down or sorted in a spreadsheet: rows and figures belong together no longer"
                .into(),
            ask: "what was read at each row? Take it from the slip, or read again".into(),
            evidence: figures([("rows", count(set_up.bores.len()))]),
            cylinders: asked.readings.cylinders(index).into(),
        })
    };
    asked.job.set_ups.iter().enumerate().filter_map(of).collect()
}

fn by_steps(values_mm: &[f64], unit_mm: f64) -> bool {
    let steps: Vec<f64> = values_mm.windows(2).map(|w| w[1] - w[0]).collect();
    let (Some([least, most]), Some(grid)) = (ends(&steps), grid_mm(values_mm, unit_mm)) else { return false };
    values_mm.len() >= STEPS && most - least <= 2.02 * grid && f64::midpoint(least, most).abs() > 3.0 * grid
}

fn sorted(values_mm: &[f64]) -> bool {
    let mut distinct: Vec<u64> = values_mm.iter().map(|mm| mm.to_bits()).collect();
    distinct.sort_unstable();
    distinct.dedup();
    let rises = values_mm.windows(2).all(|w| w[0] <= w[1]);
    let falls = values_mm.windows(2).all(|w| w[0] >= w[1]);
    values_mm.len() >= SORTED && distinct.len() >= DISTINCT && (rises || falls)
}
