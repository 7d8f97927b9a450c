//! A table of one bank that is another bank's with an offset added: bores, mains or deck.

use super::steps::{CHANCE, added, chance, different, of_all, offset_mm, told_mm};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Figures of a column that must differ: a level row goes by no steps.
const DIFFERENT: usize = 3;

/// What of a table's rows must stand in the same place, and two columns of it, mm.
type Row = (u64, [f64; 2]);

/// A kind of table.
struct Table {
    /// Its name.
    name: &'static str,
    /// What its two columns are called.
    columns: [&'static str; 2],
    /// Fewer rows may agree by chance.
    fewest: usize,
    rows: fn(&SetUp) -> Vec<Row>,
    /// Which columns scatter as read, and so tell how likely chance is: x of bores goes by their spacing.
    scatter: &'static [usize],
}

const TABLES: [Table; 3] = [
    Table {
        name: "bores",
        columns: ["x", "y"],
        fewest: 5,
        rows: |s| s.bores.iter().map(|b| (b.depth_mm.to_bits(), b.centre_mm)).collect(),
        scatter: &[1],
    },
    Table {
        name: "axis",
        columns: ["y", "z"],
        fewest: 4,
        rows: |s| match &s.frame {
            ReadingFrame::Machine(m) => {
                m.axis.iter().chain(&m.mains).map(|a| (0, [a.at_mm[1], a.at_mm[2]])).collect()
            }
            ReadingFrame::Journal => Vec::new(),
        },
        scatter: &[0, 1],
    },
    Table {
        name: "deck",
        columns: ["z", "z"],
        fewest: 5,
        rows: |s| match &s.frame {
            ReadingFrame::Machine(m) => m.deck_mm.iter().map(|p| (0, [p[2]; 2])).collect(),
            ReadingFrame::Journal => Vec::new(),
        },
        scatter: &[0],
    },
];

/// Asks about each table of a set-up that is one of another bank's set-up with an offset added to each column.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups = &asked.job.set_ups;
    let mut found = Vec::new();
    for (at, one) in set_ups.iter().enumerate() {
        // Two set-ups of one bank may name one file: that is left to the comparison of rounds.
        for (index, other) in set_ups.iter().enumerate().skip(at + 1).filter(|(_, s)| s.bank != one.bank) {
            for table in &TABLES {
                let rows = (table.rows)(one);
                let Some(off) = moved(table, &rows, &(table.rows)(other)) else { continue };
                let mut cylinders = asked.readings.cylinders(at);
                cylinders.extend(asked.readings.cylinders(index));
                let [first, second] = table.columns;
                let also: Sentence =
                    if first == second { "".into() } else { say!(", {second} {}", added(off[1])) };
                found.push(Suspicion {
                    code: Code::Copied,
                    verdict: Verdict::Hold,
                    subject: Subject::set_up(&other.name),
                    found: say!(
                        "all {} rows of its {} table are those of the set-up {}: {first} {}{also}",
                        rows.len(),
                        table.name,
                        plain(&one.name, 40),
                        added(off[0])
                    ),
                    likely: "the other bank's table copied and moved, and not read".into(),
                    ask: say!(
                        "which of the two set-ups was this {} table read in? Read the other one's again",
                        table.name
                    ),
                    evidence: figures([
                        ("rows", count(rows.len())),
                        ("first_offset", off[0]),
                        ("second_offset", off[1]),
                    ]),
                    cylinders: cylinders.into(),
                });
            }
        }
    }
    found
}

/// The offsets of both columns, mm, where all rows of a table are the other's, moved, and that is no chance.
fn moved(table: &Table, rows: &[Row], others: &[Row]) -> Option<[f64; 2]> {
    let places = |of: &[Row]| -> Vec<u64> { of.iter().map(|(place, _)| *place).collect() };
    if rows.len() < table.fewest || places(rows) != places(others) {
        return None;
    }
    let column = |of: &[Row], k: usize| -> Vec<f64> { of.iter().map(|(_, row)| row[k]).collect() };
    let off = [0, 1].map(|k| offset_mm(&column(rows, k), &column(others, k)));
    let differ = [0, 1].into_iter().all(|k| different(&column(rows, k)) >= DIFFERENT);
    let by_chance: f64 = table
        .scatter
        .iter()
        .map(|k| column(rows, *k))
        .map(|own| of_all(chance(&own, told_mm(own.iter().copied())), own.len()))
        .product();
    match off {
        [Some(first), Some(second)] if differ && by_chance < CHANCE => Some([first, second]),
        _ => None,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_moved_deck_is_told_and_a_level_one_is_not() {
        let deck = |z: &[f64]| -> Vec<Row> { z.iter().map(|z| (0, [*z; 2])).collect() };
        let read = [25.835, 25.819, 25.829, 25.810, 25.822, 25.804];
        let off = moved(&TABLES[2], &deck(&read), &deck(&read.map(|z| z + 0.4))).unwrap();
        assert!((off[0] - 0.4).abs() < 1e-9);
        let mut own = read.map(|z| z + 0.4);
        own[3] += 0.001;
        assert!(moved(&TABLES[2], &deck(&read), &deck(&own)).is_none());
        // Three figures told to a thousandth: any two good decks may do so.
        let level = [25.830, 25.831, 25.830, 25.832, 25.831, 25.830];
        assert!(moved(&TABLES[2], &deck(&level), &deck(&level.map(|z| z + 0.4))).is_none());
    }
}
