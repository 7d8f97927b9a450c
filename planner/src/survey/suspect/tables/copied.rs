//! A table, a column or rows that repeat others to the digit, or with one offset throughout: copied.

mod all_down;
mod bank_twice;
mod between;
mod columns;
mod datum_down;
mod described_x;
mod down;
mod dragged;
mod levels;
mod moved_bores;
mod moved_tables;
mod moved_walls;
mod pairs;
mod rows;
mod steps;
mod ys;

use super::{Asked, Suspicion, evidence::figures};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// Fewer rows may agree by chance.
const FEWEST: usize = 3;

/// Share of a table's values that must differ from each other: a table of mostly one figure says nothing by
/// repeating.
const DISTINCT: f64 = 0.5;

/// What of a table's rows would be copied: not the cylinder, nor the mains' names.
type Rows = Vec<[f64; 3]>;

/// A table by its name, and what of its rows is compared.
type Table = (&'static str, fn(&SetUp) -> Rows);

const TABLES: [Table; 5] = [
    ("bores", |s| s.bores.iter().map(|b| [b.depth_mm, b.centre_mm[1], b.diameter_mm]).collect()),
    ("points", |s| s.points.iter().map(|p| [p.depth_mm, p.at_mm[1], 0.0]).collect()),
    ("walls", |s| s.walls.iter().map(|w| [w.depth_mm, w.wall_mm.unwrap_or(-1.0), 0.0]).collect()),
    ("axis", |s| match &s.frame {
        ReadingFrame::Machine(m) => {
            m.axis.iter().chain(&m.mains).map(|a| [a.at_mm[1], a.at_mm[2], 0.0]).collect()
        }
        ReadingFrame::Journal => Vec::new(),
    }),
    ("deck", |s| match &s.frame {
        ReadingFrame::Machine(m) => m.deck_mm.clone(),
        ReadingFrame::Journal => Vec::new(),
    }),
];

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let tables = tables(asked);
    let columns = if tables.is_empty() { columns::suspicions(asked) } else { Vec::new() };
    let alike =
        tables.into_iter().chain(columns).chain(rows::suspicions(asked)).chain(down::suspicions(asked));
    let mut found: Vec<Suspicion> = alike.collect();
    // A copy is asked about once, by the widest that it is of.
    for moved in [moved_tables::suspicions, moved_bores::suspicions, levels::suspicions] {
        let told = |s: &Suspicion| {
            found.iter().any(|f| s.cylinders.named().iter().all(|n| f.cylinders.named().contains(n)))
        };
        let fresh: Vec<Suspicion> = moved(asked).into_iter().filter(|s| !told(s)).collect();
        found.extend(fresh);
    }
    found.extend(moved_walls::suspicions(asked));
    found.extend(datum_down::suspicions(asked));
    found.extend(bank_twice::suspicions(asked));
    if !asked.job.instruments.are_exact() {
        found.extend(all_down::suspicions(asked));
        if found.is_empty() {
            found.extend(described_x::suspicions(asked));
        }
        found.extend(dragged::suspicions(asked));
        found.extend(between::suspicions(asked));
    }
    found
}

/// Whole tables.
fn tables(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups = &asked.job.set_ups;
    let mut found = Vec::new();
    for (at, one) in set_ups.iter().enumerate() {
        for (index, other) in set_ups.iter().enumerate().skip(at + 1) {
            // Two set-ups of one bank may name one file: that is left to the comparison of rounds.
            if one.bank == other.bank {
                continue;
            }
            for (table, rows) in TABLES {
                let (first, second) = (rows(one), rows(other));
                if !copied(&first, &second) {
                    continue;
                }
                let mut cylinders = asked.readings.cylinders(at);
                cylinders.extend(asked.readings.cylinders(index));
                found.push(Suspicion {
                    code: Code::Copied,
                    verdict: Verdict::Hold,
                    subject: Subject::set_up(&other.name),
                    found: say!(
                        "all {} rows of its {table} table repeat those of the set-up {} to the last digit",
                        first.len(),
                        plain(&one.name, 40)
                    ),
                    likely: "the other bank's file copied, or one file named for both".into(),
                    ask: say!(
                        "which of the two set-ups was this {table} table read in? Read the other one's again"
                    ),
                    evidence: figures([("rows", count(first.len()))]),
                    cylinders: cylinders.into(),
                });
            }
        }
    }
    found
}

fn copied(first: &Rows, second: &Rows) -> bool {
    if first.len() < FEWEST || first.len() != second.len() {
        return false;
    }
    let same = |a: &[f64; 3], b: &[f64; 3]| a.iter().zip(b).all(|(a, b)| a.to_bits() == b.to_bits());
    let last = |row: &[f64; 3]| row[1];
    let mut values: Vec<f64> = first.iter().map(last).collect();
    values.sort_by(f64::total_cmp);
    values.dedup();
    count(values.len()) >= DISTINCT * count(first.len())
        && values.len() >= FEWEST
        && first.iter().zip(second).all(|(a, b)| same(a, b))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_to_the_digit_are_copied_and_round_figures_are_not() {
        let rows = |y: &[f64]| -> Rows { y.iter().map(|y| [20.0, *y, 96.0]).collect() };
        assert!(copied(&rows(&[0.112, -0.031, 0.204]), &rows(&[0.112, -0.031, 0.204])));
        assert!(!copied(&rows(&[0.112, -0.031, 0.204]), &rows(&[0.112, -0.031, 0.205])));
        assert!(!copied(&rows(&[0.0, 0.0, 0.0, 0.0]), &rows(&[0.0, 0.0, 0.0, 0.0])));
        assert!(!copied(&rows(&[0.112, -0.031]), &rows(&[0.112, -0.031])));
    }
}
