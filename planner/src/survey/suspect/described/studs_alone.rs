//! A stud without a partner: one whose place was mistyped overlaps another hole, or stands alone in a pattern of pairs.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Stud;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::clock::distance_mm;

/// Holes nearer to each other than this many diameters break into one another under load. Common practice, no source.
const APART: f64 = 1.5;
/// Partners across the row stand opposite within this, mm. Common practice, no source.
const OPPOSITE_MM: f64 = 1.0;
/// So few may lack a partner in a pattern of pairs; more are a pattern of another kind.
const FEW: usize = 2;
/// Studs of a bank from which on they make a pattern.
const PATTERN: usize = 6;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    (0..asked.job.block.banks.len()).filter_map(|bank| of_bank(asked, bank)).collect()
}

fn of_bank(asked: &Asked<'_>, bank: usize) -> Option<Suspicion> {
    let own: Vec<&Stud> = asked.job.block.studs.iter().filter(|s| s.bank == bank).collect();
    let layout = asked.job.bank(bank);
    let (found, stud) = near(&own).or_else(|| without_partner(&own, layout.axis_offset_mm))?;
    let [x, y] = stud.centre_mm;
    Some(Suspicion {
        code: Code::StudOdd,
        verdict: Verdict::Hold,
        subject: Subject::bank(&layout.name),
        found,
        likely: "a digit or a sign slipped in its place: a stud told elsewhere guards nothing where it is"
            .into(),
        ask: "where does it stand, by the head gasket? A hole that takes no head stud is told under `coolant_holes`".into(),
        evidence: figures([("x", x), ("y", y)]),
        cylinders: layout.sites.iter().map(|s| s.cylinder).collect(),
    })
}

/// "the stud at x 9.2, y 52.0".
fn place(stud: &Stud) -> Sentence {
    let [x, y] = stud.centre_mm;
    say!("the stud at x {}, y {}", before_mm(x, 1), mm(y, 1))
}

/// Two holes that all but meet; the same place told twice has a question of its own.
fn near<'s>(own: &[&'s Stud]) -> Option<(Sentence, &'s Stud)> {
    own.iter().enumerate().find_map(|(at, stud)| {
        let other = own.iter().skip(at + 1).find(|other| {
            let apart = distance_mm(stud.centre_mm, other.centre_mm);
            apart > OPPOSITE_MM && apart < APART * stud.diameter_mm.max(other.diameter_mm)
        })?;
        let apart = distance_mm(stud.centre_mm, other.centre_mm);
        Some((say!("{} stands {} from {}", place(other), mm(apart, 1), place(stud)), *other))
    })
}

/// The one stud, or one of two, that has none opposite across the row where all others have.
fn without_partner<'s>(own: &[&'s Stud], middle_mm: f64) -> Option<(Sentence, &'s Stud)> {
    let opposite = |a: &Stud, b: &Stud| {
        let [across, other] = [a, b].map(|stud| stud.centre_mm[1] - middle_mm);
        (a.centre_mm[0] - b.centre_mm[0]).abs() <= OPPOSITE_MM && (across + other).abs() <= OPPOSITE_MM
    };
    let alone: Vec<&'s Stud> =
        own.iter().copied().filter(|stud| !own.iter().any(|other| opposite(stud, other))).collect();
    let first = alone.first()?;
    let pattern = own.len() >= PATTERN && alone.len() <= FEW;
    pattern.then(|| {
        let others = match alone.len() {
            1 => "all others have".to_owned(),
            n => format!("all others but {} have", n - 1),
        };
        (say!("{} has none opposite across the row, and {others}", place(first)), *first)
    })
}
