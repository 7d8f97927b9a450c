//! A diameter that contradicts its own points, or the liner the block is described with.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::duplicates::circle;
use super::evidence::figures;
use super::readings::Reading;
use super::{Asked, Suspicion};
use crate::job::{Bank, Surface};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::bore::FoundCircle;

/// A gauge and a probe agree within this, mm, whatever their uncertainties. Common practice, no source.
const AGREE_MM: f64 = 0.03;

/// The most that a worn or rebored liner differs from its description without a question, mm.
const LINER_MM: f64 = 1.0;

/// The most that a liner is bored over, mm. Common practice, no source.
const OVERSIZE_MM: f64 = 4.0;

/// Where half of a bank's liners are wider than described by more than this, mm, they are another block's, or were bored over
/// by more than one step of oversize with its wear: clean up is judged by the outside described with them. Common practice, no source.
const BANK_MM: f64 = 1.35;

/// The most that a liner reads under its description, mm: none wears narrower. Common practice, no source.
const NARROWER_MM: f64 = 0.5;

/// A liner read this near to its outside is worn or bored through, mm on diameter. Common practice, no source.
const THROUGH_MM: f64 = 0.6;

/// A radius in place of a diameter is a half within this share.
pub(super) const HALF: f64 = 0.03;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = against_points(asked);
    // A contradiction between the job's own tables is asked about before one with the description.
    let liner = against_liner(asked).into_iter();
    let liner: Vec<Suspicion> = liner.filter(|l| !found.iter().any(|f| f.cylinders == l.cylinders)).collect();
    found.extend(liner);
    found
}

/// Asks about each circle whose typed diameter or centre differs from the one fitted through its own points.
fn against_points(asked: &Asked<'_>) -> Vec<Suspicion> {
    let i = &asked.job.instruments;
    let allowed = AGREE_MM.max(6.0 * i.diameter_mm);
    let centre_allowed = AGREE_MM.max(6.0 * std::f64::consts::SQRT_2 * i.centre_mm);
    let mut found = Vec::new();
    for index in 0..asked.job.set_ups.len() {
        let rows = asked.readings.of_set_up(index);
        let mut fits: BTreeMap<_, Vec<&Reading>> = BTreeMap::new();
        for row in rows.iter().filter(|r| r.from_points) {
            fits.entry(circle(row)).or_default().push(row);
        }
        for typed in rows.iter().filter(|r| !r.from_points) {
            for fitted in fits.get(&circle(typed)).into_iter().flatten() {
                let wider = typed.diameter_mm - fitted.diameter_mm;
                let apart = (typed.at_mm[0] - fitted.at_mm[0]).hypot(typed.at_mm[1] - fitted.at_mm[1]);
                if wider.abs() <= allowed && apart <= centre_allowed {
                    continue;
                }
                let cylinder = typed.cylinder;
                let half = (2.0 * typed.diameter_mm / fitted.diameter_mm - 1.0).abs() < HALF;
                found.push(Suspicion {
                    code: Code::DiameterContradictsPoints,
                    verdict: Verdict::Hold,
                    subject: Subject::cylinder(cylinder),
                    found: say!("at depth {} the table of bores says diameter {}, the points say {}; the centres lie {} \
             apart", mm(typed.depth_mm, 1), before_mm(typed.diameter_mm, 3), before_mm(fitted.diameter_mm, 3), mm(apart, 3)),
                    likely: if half {
                        "a radius typed for a diameter".into()
                    } else {
                        "a wrong digit, or the points of another bore or depth".into()
                    },
                    ask: say!("gauge cylinder {cylinder} at depth {} again: which table is right?", mm(typed.depth_mm, 1)),
                    evidence: figures([
                        ("diameter_typed", typed.diameter_mm),
                        ("diameter_of_points", fitted.diameter_mm),
                        ("centres_apart", apart),
                    ]),
                    cylinders: vec![cylinder].into(),
                });
            }
        }
    }
    found
}

/// Whether half of a bank's liners or more are wider than described by more than any wear.
fn wide_bank(asked: &Asked<'_>, bank: &Bank, described_mm: f64) -> bool {
    let widest = |cylinder: u32| {
        let own = asked.circles.iter().filter(|c| c.cylinder == cylinder && c.surface == Surface::Liner);
        own.map(|c| c.diameter_mm).max_by(f64::total_cmp)
    };
    let read: Vec<f64> = bank.sites.iter().filter_map(|s| widest(s.cylinder)).collect();
    let wide = read.iter().filter(|d| **d > described_mm + BANK_MM).count();
    wide > 0 && 2 * wide >= read.len()
}

/// Asks about each bore's circle that differs most from the liner as described, one for a bore: a note of wear, a
/// hold where no liner of the block can read so.
fn against_liner(asked: &Asked<'_>) -> Vec<Suspicion> {
    let Some(liner) = &asked.job.block.parent.liner else { return Vec::new() };
    let narrow = |read: f64| read < liner.bore_mm - NARROWER_MM;
    let through = |read: f64| read > liner.outside_mm - THROUGH_MM;
    let other = |read: f64| read > liner.bore_mm + OVERSIZE_MM;
    let mut found = Vec::new();
    for bank in &asked.job.block.banks {
        let wide = wide_bank(asked, bank, liner.bore_mm);
        for site in &bank.sites {
            let of_liner = |c: &&FoundCircle| c.cylinder == site.cylinder && c.surface == Surface::Liner;
            // The bore's worst circle stands for all of them; one that no liner can have counts as worse than any
            // other.
            let worst = asked.circles.iter().filter(of_liner).max_by(|a, b| {
                let off = |d: f64| (d - liner.bore_mm).abs();
                let no_liner = |d: f64| narrow(d) || through(d) || other(d);
                let rank = |d: f64| (no_liner(d), off(d));
                let (a, b) = (rank(a.diameter_mm), rank(b.diameter_mm));
                a.0.cmp(&b.0).then_with(|| a.1.total_cmp(&b.1))
            });
            let Some(circle) = worst else { continue };
            let read = circle.diameter_mm;
            let parent = |c: &FoundCircle| c.cylinder == site.cylinder && c.surface == Surface::Parent;
            let sister = wide && read > liner.bore_mm + BANK_MM && !asked.circles.iter().any(parent);
            let held = narrow(read) || through(read) || other(read) || sister;
            if !held && (read - liner.bore_mm).abs() <= LINER_MM {
                continue;
            }
            let half = (2.0 * read / liner.bore_mm - 1.0).abs() < HALF;
            let outside = through(read) || (read - liner.outside_mm).abs() < LINER_MM / 2.0;
            found.push(Suspicion {
                code: Code::DiameterContradictsLiner,
                verdict: if held { Verdict::Hold } else { Verdict::Go },
                subject: Subject::cylinder(site.cylinder),
                found: say!(
                    "at depth {} the liner reads diameter {}, the block is described with {}",
                    mm(circle.depth_mm, 1),
                    before_mm(read, 3),
                    mm(liner.bore_mm, 3)
                ),
                likely: if half {
                    "a radius typed for a diameter".into()
                } else if outside {
                    "the parent bore read and typed as the liner's".into()
                } else if other(read) {
                    "another block's description, or a wrong digit in it: no rebore is so wide".into()
                } else if sister {
                    "the description of another block of the family, or liners that were bored over: then clean up \
                     rests on an outside that nobody read"
                        .into()
                } else if held {
                    "a wrong digit, a probe's ball not added, or another block: no liner wears narrower"
                        .into()
                } else {
                    "a rebored liner, or a wrong digit".into()
                },
                ask: say!("what does a gauge say of cylinder {}, and on which surface?", site.cylinder),
                evidence: figures([("diameter", read), ("described", liner.bore_mm)]),
                cylinders: vec![site.cylinder].into(),
            });
        }
    }
    found
}
