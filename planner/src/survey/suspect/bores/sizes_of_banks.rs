//! Diameters that no wear explains: one bank's bores of another size than the other's, a circle narrower than its bank's bores, a
//! bank narrower than its liners were made. A gauge set on the wrong ring, or a digit.

use crate::survey::suspect::Code;
use borewright_geometry::sample::median;

use super::diameter_odd::{of_another_size, unless_gauged_again};
use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{Bank, Surface};
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::bore::FoundCircle;

/// Banks bored on one machine differ by no more than this where nothing wears, mm. Common practice, no source.
const BANKS_MM: f64 = 0.15;

/// Farther apart other questions ask of one of them, mm.
const OTHERS_MM: f64 = 1.5;

/// No bore is narrower than all others of its bank by more than this, mm. Common practice, no source.
const NARROWER_MM: f64 = 0.15;

/// No bank of liners is narrower than they were made by more than this, mm. Common practice, no source.
const MADE_MM: f64 = 0.10;

/// A liner that reads narrower than this is asked about bore by bore, mm.
const LINER_MM: f64 = 0.5;

/// Nothing wears below this, as a share of the bore's length: rings turn above it. Common practice, no source.
const UNWORN: f64 = 0.75;

/// Fewer bores say nothing of a bank.
const BORES: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    if asked.job.instruments.are_exact() {
        return Vec::new();
    }
    let surface = if asked.job.block.parent.liner.is_some() { Surface::Liner } else { Surface::Parent };
    let mut found: Vec<Suspicion> =
        asked.job.block.banks.iter().flat_map(|bank| narrow(asked, bank, surface)).collect();
    // A bore that is asked about, or is of another size, stands for no bank.
    let mut odd = of_another_size(&asked.circles.iter().filter(|c| c.surface == surface).collect::<Vec<_>>());
    odd.extend(found.iter().flat_map(|s| s.cylinders.named()));
    let banks: Vec<(&Bank, Vec<f64>)> = asked
        .job
        .block
        .banks
        .iter()
        .map(|bank| (bank, unworn_mm(asked, bank, surface, &odd)))
        .filter(|(_, read)| read.len() >= BORES)
        .collect();
    // The least worn bore of each stands for it.
    let least = |read: &[f64]| read.iter().copied().fold(f64::INFINITY, f64::min);
    let sizes: Vec<(&Bank, f64)> = banks.iter().map(|(bank, read)| (*bank, least(read))).collect();
    if found.iter().all(|s| s.verdict == Verdict::Go) {
        found.extend(apart(&sizes));
    }
    for (bank, read) in banks {
        found.extend(under_made(asked, bank, median(read)));
    }
    found
}

fn own<'c>(asked: &Asked<'c>, cylinder: u32, surface: Surface) -> impl Iterator<Item = &'c FoundCircle> {
    asked.circles.iter().filter(move |c| c.planned && c.cylinder == cylinder && c.surface == surface)
}

/// The diameters of a bank's bores where least is worn, at each one's deepest circle, mm.
fn unworn_mm(asked: &Asked<'_>, bank: &Bank, surface: Surface, odd: &[u32]) -> Vec<f64> {
    let deepest =
        |cylinder: u32| own(asked, cylinder, surface).max_by(|a, b| a.depth_mm.total_cmp(&b.depth_mm));
    let below = UNWORN * asked.job.block.parent.bore_length_mm;
    let unworn = |cylinder: u32| deepest(cylinder).filter(|c| c.depth_mm >= below).map(|c| c.diameter_mm);
    bank.sites.iter().map(|s| s.cylinder).filter(|n| !odd.contains(n)).filter_map(unworn).collect()
}

fn asks(subject: Subject, found: Sentence, cylinders: Vec<u32>, off_mm: f64) -> Suspicion {
    Suspicion {
        code: Code::DiameterOdd,
        verdict: Verdict::Hold,
        subject,
        found,
        likely:
            "a gauge set on the wrong ring, a digit slipped, or another block's figures: no wear leaves that"
                .into(),
        ask: "set the gauge anew and read these bores again: what are they?".into(),
        evidence: figures([("off", off_mm)]),
        cylinders: cylinders.into(),
    }
}

fn of_bank(bank: &Bank) -> Vec<u32> {
    bank.sites.iter().map(|s| s.cylinder).collect()
}

/// Two banks of different size.
fn apart(banks: &[(&Bank, f64)]) -> Option<Suspicion> {
    let [(one, size), (other, its)] = banks else { return None };
    let off = size - its;
    (off.abs() > BANKS_MM + 1e-9 && off.abs() <= OTHERS_MM).then(|| {
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
    // Narrower still has a question of each bore's own.
    let by = made - unworn_mm;
    (by > MADE_MM + 1e-9 && by <= LINER_MM).then(|| {
        let found = say!(
            "the liners of bank {} read {} where nothing wears, and are described with {}",
            plain(&bank.name, 40),
            before_mm(unworn_mm, 3),
            mm(made, 3)
        );
        asks(Subject::bank(&bank.name), found, of_bank(bank), unworn_mm - made)
    })
}

/// Circles narrower than every other bore of the bank where it is worn least, the narrowest of each bore.
fn narrow(asked: &Asked<'_>, bank: &Bank, surface: Surface) -> Vec<Suspicion> {
    let least = |cylinder: u32| {
        // A circle through points has a question of its own, of the points.
        let typed = own(asked, cylinder, surface).filter(|c| c.roundness_mm.is_none());
        typed.min_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm).then(b.depth_mm.total_cmp(&a.depth_mm)))
    };
    let circles: Vec<&FoundCircle> = asked.circles.iter().filter(|c| c.surface == surface).collect();
    let of = |cylinder: u32| {
        let others: Vec<f64> = of_bank(bank)
            .into_iter()
            .filter(|other| *other != cylinder)
            .filter_map(least)
            .filter(|circle| circle.depth_mm >= UNWORN * asked.job.block.parent.bore_length_mm)
            .map(|circle| circle.diameter_mm)
            .collect();
        let unworn = others.iter().copied().min_by(f64::total_cmp).filter(|_| others.len() + 1 >= BORES)?;
        let own = least(cylinder)?;
        let off = own.diameter_mm - unworn;
        (off < -NARROWER_MM - 1e-9).then(|| {
            let found = say!(
                "a diameter of {} at depth {}, where no other bore of its bank is narrower than {}",
                mm(own.diameter_mm, 3),
                mm(own.depth_mm, 1),
                before_mm(unworn, 3)
            );
            let mut asks = asks(Subject::cylinder(cylinder), found, vec![cylinder], off);
            unless_gauged_again(&circles, &mut asks);
            asks
        })
    };
    bank.sites.iter().filter_map(|s| of(s.cylinder)).collect()
}
