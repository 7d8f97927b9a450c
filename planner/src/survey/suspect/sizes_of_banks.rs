//! Diameters that no wear explains: one bank's bores of another size than the other's, a circle narrower than its bank's bores, a
//! bank narrower than its liners were made. A gauge set on the wrong ring, or a digit.

use borewright_geometry::sample::median;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{Bank, Surface};
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::bore::FoundCircle;

/// Banks bored on one machine differ by no more than this where nothing wears, mm. Common practice, no source.
const BANKS_MM: f64 = 0.10;

/// No circle is narrower than where nothing wears by more than this, mm. Common practice, no source.
const NARROWER_MM: f64 = 0.08;

/// No bank of liners is narrower than they were made by more than this, mm. Common practice, no source.
const MADE_MM: f64 = 0.10;

/// Fewer bores say nothing of a bank.
const BORES: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    if asked.job.instruments.are_exact() {
        return Vec::new();
    }
    let surface = if asked.job.block.parent.liner.is_some() { Surface::Liner } else { Surface::Parent };
    let banks: Vec<(&Bank, f64)> = asked
        .job
        .block
        .banks
        .iter()
        .filter_map(|bank| Some((bank, unworn_mm(asked, bank, surface)?)))
        .collect();
    let mut found: Vec<Suspicion> = apart(&banks).into_iter().collect();
    for (bank, unworn) in banks {
        found.extend(under_made(asked, bank, unworn));
        found.extend(narrow(asked, bank, surface, unworn));
    }
    found
}

fn own<'c>(asked: &Asked<'c>, cylinder: u32, surface: Surface) -> impl Iterator<Item = &'c FoundCircle> {
    asked.circles.iter().filter(move |c| c.planned && c.cylinder == cylinder && c.surface == surface)
}

/// The middle of a bank's diameters where least is worn, at each bore's deepest circle, mm; `None` of too few bores.
fn unworn_mm(asked: &Asked<'_>, bank: &Bank, surface: Surface) -> Option<f64> {
    let deepest =
        |cylinder: u32| own(asked, cylinder, surface).max_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm));
    let read: Vec<f64> = bank.sites.iter().filter_map(|s| Some(deepest(s.cylinder)?.diameter_mm)).collect();
    (read.len() >= BORES).then(|| median(read))
}

fn asks(subject: Subject, found: Sentence, cylinders: Vec<u32>, off_mm: f64) -> Suspicion {
    Suspicion {
        code: "diameter_odd",
        verdict: Verdict::Hold,
        subject,
        found,
        likely:
            "a gauge set on the wrong ring, a digit slipped, or another block's figures: no wear leaves that"
                .into(),
        ask: "set the gauge anew and read these bores again: what are they?".into(),
        evidence: figures([("off", off_mm)]),
        cylinders,
    }
}

fn of_bank(bank: &Bank) -> Vec<u32> {
    bank.sites.iter().map(|s| s.cylinder).collect()
}

/// Two banks of different size.
fn apart(banks: &[(&Bank, f64)]) -> Option<Suspicion> {
    let [(one, size), (other, its)] = banks else { return None };
    let off = size - its;
    (off.abs() > BANKS_MM + 1e-9).then(|| {
        let found = say!(
            "where nothing wears the bores of bank {} read {} and those of bank {} {}",
            plain(&one.name, 40),
            before_mm(*size, 3),
            plain(&other.name, 40),
            mm(*its, 3)
        );
        let cylinders = of_bank(one).into_iter().chain(of_bank(other)).collect();
        asks(Subject::whole("banks"), found, cylinders, off)
    })
}

/// A bank of liners narrower than they were made.
fn under_made(asked: &Asked<'_>, bank: &Bank, unworn_mm: f64) -> Option<Suspicion> {
    let made = asked.job.block.parent.liner.as_ref()?.bore_mm;
    (unworn_mm < made - MADE_MM - 1e-9).then(|| {
        let found = say!(
            "the liners of bank {} read {} where nothing wears, and are described with {}",
            plain(&bank.name, 40),
            before_mm(unworn_mm, 3),
            mm(made, 3)
        );
        asks(Subject::bank(&bank.name), found, of_bank(bank), unworn_mm - made)
    })
}

/// Circles narrower than the bank's bores where nothing wears, the narrowest of each bore.
fn narrow(asked: &Asked<'_>, bank: &Bank, surface: Surface, unworn_mm: f64) -> Vec<Suspicion> {
    let of = |cylinder: u32| {
        let least = own(asked, cylinder, surface).min_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm))?;
        let off = least.diameter_mm - unworn_mm;
        (off < -NARROWER_MM - 1e-9).then(|| {
            let found = say!(
                "a diameter of {} at depth {}, where the bores of its bank read {} where nothing wears",
                mm(least.diameter_mm, 3),
                mm(least.depth_mm, 1),
                before_mm(unworn_mm, 3)
            );
            asks(Subject::cylinder(cylinder), found, vec![cylinder], off)
        })
    };
    bank.sites.iter().filter_map(|s| of(s.cylinder)).collect()
}
