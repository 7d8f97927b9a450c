//! A whole table of bores in the wrong unit.

use super::evidence::{FACTORS, figures, unit_cause, unit_words};
use super::unit_bore::far_off;
use super::{Asked, Suspicion};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// Fewer rows than this are cells, not a table.
const FEWEST: usize = 3;

/// Asks about each table of bores or of points of which more than half the circles stand far off as typed and on
/// their true places in the other unit.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        for (from_points, table) in [(false, "bores"), (true, "points")] {
            let rows: Vec<_> = asked
                .readings
                .of_set_up(index)
                .into_iter()
                .filter(|r| r.from_points == from_points)
                .collect();
            for factor in FACTORS {
                let wrong: Vec<_> =
                    rows.iter().filter(|r| (0..2).any(|k| far_off(asked, r, k, factor))).collect();
                if wrong.len() < FEWEST || 2 * wrong.len() <= rows.len() {
                    continue;
                }
                let cylinders = asked.readings.cylinders(index);
                let bank = &asked.job.bank(set_up.bank).name;
                found.push(Suspicion {
                    code: Code::WrongUnit,
                    verdict: Verdict::Hold,
                    subject: Subject::bank(bank),
                    found: say!(
                        "{} of {} circles of the {table} table lie far off their true places and right on them {}",
                        wrong.len(),
                        rows.len(),
                        unit_words(factor)
                    ),
                    likely: say!("the whole table {}", unit_cause(factor)),
                    ask: say!("in which unit was the {table} table of the bank {bank} written?"),
                    evidence: figures([
                        ("circles_off", count(wrong.len())),
                        ("circles", count(rows.len())),
                        ("factor", factor),
                    ]),
                    cylinders: cylinders.into(),
                });
            }
        }
    }
    found
}
