//! One column of a table of bores that repeats: another bank's, or one bore's in all.

use crate::survey::suspect::Code;
use std::collections::BTreeSet;

use super::pairs;
use super::ys::{differs, ys};
use crate::job::{BoreReading, ReadingFrame, SetUp};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::{grid_mm, read_unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer rows may agree by chance.
const FEWEST: usize = 5;

/// Of a column's values more than this share must differ from each other: bores that stand alike at all depths make
/// a column of few figures.
const DISTINCT: f64 = 0.6;

/// Bores that must all have one bore's figures.
const BORES: usize = 3;

/// Rows of one figure from which on that is no chance where the gauge tells finer.
const UNREAD: usize = 6;

/// Rows of one figure from which on that is no chance.
const FILLED: usize = 9;

/// A gauge that reads no finer than this may read all bores alike, mm. Common practice, no source.
const COARSE_MM: f64 = 0.01;
/// A column on a grid below this share of it is told finer.
const FINER: f64 = 0.3;

/// A column as compared: depth and value, in the order of the table.
type Column = Vec<[f64; 2]>;

/// Asks about a column of one set-up that repeats another bank's, and within each set-up about figures that repeat
/// from bore to bore.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups = &asked.job.set_ups;
    let mut found = Vec::new();
    for (at, one) in set_ups.iter().enumerate() {
        for (index, other) in set_ups.iter().enumerate().skip(at + 1).filter(|(_, s)| s.bank != one.bank) {
            let column = [
                ("y", across as Reads),
                ("x off its true place", along as Reads),
                ("the diameter", wide as Reads),
            ]
            .into_iter()
            .find(|(_, read)| repeats(&read(asked, one), &read(asked, other)));
            let Some((name, read)) = column else { continue };
            let rows = read(asked, one).len().min(read(asked, other).len());
            let mut cylinders = asked.readings.cylinders(at);
            cylinders.extend(asked.readings.cylinders(index));
            found.push(Suspicion {
                code: Code::Copied,
                verdict: Verdict::Hold,
                subject: Subject::set_up(&other.name),
                found: say!(
                    "{name} of {rows} rows of its bores repeats that of the set-up {} to the last digit",
                    plain(&one.name, 40)
                ),
                likely: "a column of the other bank copied".into(),
                ask: say!("in which of the two set-ups was this {name} read? Read the other one's again"),
                evidence: figures([("rows", count(rows))]),
                cylinders: cylinders.into(),
            });
        }
        match one_for_all(asked, at).or_else(|| one_figure(asked, at)) {
            Some(whole) => found.push(whole),
            None => found.extend(pairs::circles(asked, one)),
        }
        found.extend(pairs::points(one));
    }
    found
}

/// How a column is taken from a set-up.
type Reads = fn(&Asked<'_>, &SetUp) -> Column;

fn across(_: &Asked<'_>, set_up: &SetUp) -> Column {
    set_up.bores.iter().map(|b| [b.depth_mm, b.centre_mm[1]]).collect()
}

fn wide(_: &Asked<'_>, set_up: &SetUp) -> Column {
    set_up.bores.iter().map(|b| [b.depth_mm, b.diameter_mm]).collect()
}

/// x off true, mm, to a thousandth of a micrometre.
fn off_true(asked: &Asked<'_>, bore: &BoreReading) -> f64 {
    let off = bore.centre_mm[0] - asked.readings.true_mm(bore.cylinder)[0];
    (off * 1e6).round() / 1e6
}

/// Depth and x off true of all rows, mm; none of a set-up read in the machine, where x counts from elsewhere.
fn along(asked: &Asked<'_>, set_up: &SetUp) -> Column {
    match set_up.frame {
        ReadingFrame::Journal => set_up.bores.iter().map(|b| [b.depth_mm, off_true(asked, b)]).collect(),
        ReadingFrame::Machine(_) => Column::new(),
    }
}

fn repeats(first: &Column, second: &Column) -> bool {
    let rows = first.len().min(second.len());
    let values: BTreeSet<u64> = first.iter().take(rows).map(|row| row[1].to_bits()).collect();
    rows >= FEWEST
        && count(values.len()) > DISTINCT * count(rows)
        && first.iter().zip(second).all(|(a, b)| a == b)
}

/// The suspicion of a set-up whose bores all have one y at every depth, told finer than a hundredth or not read at all, while x
/// differs.
fn one_figure(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let set_up = &asked.job.set_ups[index];
    let first = set_up.bores.first()?.centre_mm[1];
    // Bores read to a hundredth may well be alike; where y is read finer elsewhere, or is nothing at all beside an x that is told
    // finer, nobody read it.
    let coarse = ((first / COARSE_MM).round() * COARSE_MM - first).abs() < 1e-6;
    let fine = |set_up: &SetUp, k: usize| {
        let all: Vec<f64> = set_up.bores.iter().map(|b| b.centre_mm[k]).collect();
        grid_mm(&all, read_unit_mm(asked.job)).is_some_and(|grid| grid < FINER * COARSE_MM)
    };
    let elsewhere = asked.job.set_ups.iter().any(|other| fine(other, 1));
    let unread = elsewhere || (first.abs() < 1e-9 && fine(set_up, 0));
    let least = if unread { UNREAD } else { FILLED };
    let bores: BTreeSet<u32> = set_up.bores.iter().map(|b| b.cylinder).collect();
    let alike = set_up.bores.iter().all(|b| b.centre_mm[1].to_bits() == first.to_bits());
    let xs: BTreeSet<u64> = set_up.bores.iter().map(|b| off_true(asked, b).to_bits()).collect();
    let told = !coarse || unread;
    (told && alike && set_up.bores.len() >= least && bores.len() >= BORES && xs.len() >= BORES).then(|| {
        Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::set_up(&set_up.name),
            found: say!(
                "y of all its {} rows is one figure to the last digit, and x is not",
                set_up.bores.len()
            ),
            likely: "one y filled down the column".into(),
            ask: "which row was read? Read y of all others again".into(),
            evidence: figures([("rows", count(set_up.bores.len()))]),
            cylinders: bores.into_iter().collect(),
        }
    })
}

/// The suspicion of a set-up in which all bores have one bore's y, depth by depth.
fn one_for_all(asked: &Asked<'_>, index: usize) -> Option<Suspicion> {
    let set_up = &asked.job.set_ups[index];
    let bores = ys(set_up);
    let (first, own) = bores.first_key_value()?;
    let differ = differs(own);
    // Bores that stand alike at every depth may do so; along lines that lean or scatter they do not.
    let alike = bores.len() >= BORES && differ && bores.values().all(|b| b == own);
    alike.then(|| Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!(
            "all its {} bores have the y of cylinder {first} to the last digit, at every depth",
            bores.len()
        ),
        likely: "one bore's y copied to the others".into(),
        ask: say!("which bore was read? Read y of all others again"),
        evidence: figures([("rows", count(set_up.bores.len()))]),
        cylinders: bores.keys().copied().collect(),
    })
}
