//! A bank whose bores all lean against its deck: the deck as it was read, or the index.

use super::evidence::figures;
use super::lines::{BankLines, lines, mean_tilt};
use super::{Asked, Suspicion};
use crate::plan::sentence::{mm, signed_before_mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;

/// The most that a bank's bores lean against their deck, by the median, mm per mm: 0.1 over the length of a bore is
/// much, and this is 0.36 over 140. Common practice, no source.
const LEAN: f64 = 0.0026;

/// The lean is told over this length, mm.
const OVER_MM: f64 = 100.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    lines(asked.job, asked.circles).iter().filter_map(|bank| leans(asked, bank)).collect()
}

fn leans(asked: &Asked<'_>, bank: &BankLines) -> Option<Suspicion> {
    let tilt =
        mean_tilt(&bank.lines).filter(|_| bank.lines.iter().filter(|l| l.tilt.is_some()).count() > 1)?;
    let k = if tilt[0].abs() > tilt[1].abs() { 0 } else { 1 };
    let (lean, way) = (tilt[k], ["along", "across"][k]);
    if lean.abs() <= LEAN {
        return None;
    }
    let layout = asked.job.bank(bank.bank);
    let name = plain(&layout.name, 40);
    let at_axis = lean * layout.deck_height_mm;
    Some(Suspicion {
        code: Code::BankLeans,
        verdict: Verdict::Hold,
        subject: Subject::bank(&name),
        found: say!(
            "all its bores lean {} over {} {way} against its deck, which is {} at the journal axis: no block was bored so",
            signed_mm(OVER_MM * lean, 3),
            mm(OVER_MM, 0),
            signed_before_mm(at_axis, 2)
        ),
        likely: "a deck that was touched on burrs, a chip under the probe, or an index that is off".into(),
        ask: say!(
            "touch the deck of the bank {name} again at its corners, and look at the index: does it lie so?"
        ),
        evidence: figures([("lean", lean), ("at_axis", at_axis)]),
        cylinders: bank.lines.iter().map(|l| l.cylinder).collect(),
    })
}
