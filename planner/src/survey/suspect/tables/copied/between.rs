//! A bore whose circles are the means of those of the bores beside it, to the last digit: filled in between them.

use crate::job::{BoreReading, SetUp};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use crate::survey::suspect::evidence::{figures, robust};
use crate::survey::suspect::grid::{chance, grid_mm, read_unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::fit_bore_axis;
use borewright_geometry::sample::{count, median};

/// Along a table that was dragged a depth slips by less than this, mm.
const DRAGGED_MM: f64 = 0.01;

/// Figures that are written in full agree no better than this, mm.
const FINEST_MM: f64 = 0.000_5;

/// A bore comes out so by chance less often than this; few bores lie between two others.
const SELDOM: f64 = 1e-4;

/// A column of the table: its figure, mm.
type Column = fn(&BoreReading) -> f64;

const COLUMNS: [Column; 2] = [|b| b.centre_mm[1], |b| b.diameter_mm];

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().flat_map(|set_up| of_set_up(asked, set_up)).collect()
}

fn of_set_up(asked: &Asked<'_>, set_up: &SetUp) -> Vec<Suspicion> {
    let Some(bank) = asked.job.block.banks.get(set_up.bank) else { return Vec::new() };
    let cylinders: Vec<u32> = bank.sites.iter().map(|site| site.cylinder).collect();
    let spreads = COLUMNS.map(|figure| spread(set_up, figure));
    if spreads.iter().any(|spread| *spread < 2.0 * FINEST_MM) {
        return Vec::new();
    }
    let u = &asked.job.instruments;
    let diameters: Vec<f64> = set_up.bores.iter().map(|b| b.diameter_mm).collect();
    let told_mm = grid_mm(&diameters, read_unit_mm(asked.job)).unwrap_or(0.0).max(2.0 * FINEST_MM) * 0.51;
    let of = |beside: &[u32]| {
        let &[before, own, after] = beside else { return None };
        let [before_rows, own_rows, after_rows] = [before, own, after].map(|n| rows(set_up, n));
        if own_rows.is_empty() {
            return None;
        }
        let (mut by_chance, mut rows_told) = (1.0, 0);
        for ((figure, spread), u_mm) in COLUMNS.iter().zip(spreads).zip([u.centre_mm, u.diameter_mm]) {
            let mut most = 0.0_f64;
            for row in &own_rows {
                let same = |r: &&&BoreReading| {
                    (r.depth_mm - row.depth_mm).abs() < DRAGGED_MM
                        && r.surface == row.surface
                        && r.set == row.set
                };
                let (one, other) = before_rows.iter().find(same).zip(after_rows.iter().find(same))?;
                most = most.max((figure(row) - f64::midpoint(figure(one), figure(other))).abs());
            }
            rows_told = own_rows.len();
            if most > told_mm {
                return None;
            }
            let width = (2.0 * most).max(2.0 * FINEST_MM);
            // Bores differ as a whole; their depths then only scatter.
            by_chance *= chance(width, spread, 1) * chance(width, u_mm, rows_told - 1);
        }
        (by_chance < SELDOM).then(|| Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(own),
            found: say!("y and diameter of its circles are the means of those of cylinders {before} and {after}, to the last digit"),
            likely: "filled in between the bores beside it, and not read".into(),
            ask: say!("was cylinder {own} read? Read it again at each depth"),
            evidence: figures([("rows", count(rows_told))]),
            cylinders: vec![own].into(),
        })
    };
    cylinders.windows(3).filter_map(of).collect()
}

fn rows(set_up: &SetUp, cylinder: u32) -> Vec<&BoreReading> {
    set_up.bores.iter().filter(|b| b.cylinder == cylinder).collect()
}

/// By as much two bores differ beside how the block lay, mm: a column about a straight line along the bank, in spite of a slip.
fn spread(set_up: &SetUp, figure: Column) -> f64 {
    let at: Vec<(f64, [f64; 2])> = set_up.bores.iter().map(|b| (b.centre_mm[0], [figure(b), 0.0])).collect();
    let Some(line) = fit_bore_axis(&at) else { return 0.0 };
    let left: Vec<f64> = at.iter().map(|(x, own)| own[0] - line.at(*x)[0]).collect();
    let middle = median(left.clone());
    robust(&left, middle)
}
