//! Decks that do not stand alike: of one bank in two set-ups, one not read or two of different height, and of two banks of one
//! block.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm, signed_before_mm};
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::say;
use crate::survey::significance::NO_CHANCE;
use crate::survey::suspect::Code;

/// Heights of one deck over the journal axis, read in two set-ups, differ by no more, mm. Common practice, no source.
const APART_MM: f64 = 0.05;

/// Decks of two banks of one block stand off what is described alike within this, mm: they were planed in one go, and skims come to
/// less. Common practice, no source.
const BANKS_MM: f64 = 0.18;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups = &asked.job.set_ups;
    let mut found = Vec::new();
    for (index, set_up) in set_ups.iter().enumerate() {
        let Some(first) = set_ups[..index].iter().find(|s| s.bank == set_up.bank) else { continue };
        found.extend(unread(asked, index, set_up, first));
        found.extend(apart(asked, set_up, first));
    }
    found.extend(banks_apart(asked));
    found
}

/// Height of a set-up's deck above the journal axis, mm, where it was read.
fn height_mm(asked: &Asked<'_>, set_up: &SetUp) -> Option<f64> {
    asked.journal_axis.iter().find(|a| a.set_up == set_up.name)?.deck_height
}

/// The suspicion of two banks of which one deck alone stands off: every ledge of that bank would be cut as much too deep, or too
/// shallow.
fn banks_apart(asked: &Asked<'_>) -> Option<Suspicion> {
    let off = |set_up: &SetUp| Some(height_mm(asked, set_up)? - asked.job.bank(set_up.bank).deck_height_mm);
    let read: Vec<(&SetUp, f64)> = asked.job.set_ups.iter().filter_map(|s| Some((s, off(s)?))).collect();
    let (one, first) = *read.first()?;
    let (other, second) = *read.iter().find(|(s, _)| s.bank != one.bank)?;
    let apart = (first - second).abs();
    (apart > BANKS_MM).then(|| Suspicion {
        code: Code::DecksApart,
        verdict: Verdict::Hold,
        subject: Subject::whole("decks"),
        found: say!(
            "the deck of bank {} stands {} off its described height and that of bank {} {}: {} apart",
            plain(&asked.job.bank(one.bank).name, 40),
            signed_before_mm(first, 3),
            plain(&asked.job.bank(other.bank).name, 40),
            signed_before_mm(second, 3),
            mm(apart, 3)
        ),
        likely: "a table of before the deck was skimmed, another stylus, or an axis picked up wrongly in one of them".into(),
        ask: "measure both decks over the axis by hand: what are they? Where one alone was skimmed, say so by its `deck_height`"
            .into(),
        evidence: figures([("one", first), ("other", second), ("allowed", BANKS_MM)]),
        cylinders: asked.job.block.cylinders().into(),
    })
}

/// The suspicion of a later set-up without a deck, of bores that no set-up with one has: the first set-up's deck says nothing
/// of how the block lies in this one.
fn unread(asked: &Asked<'_>, index: usize, set_up: &SetUp, first: &SetUp) -> Option<Suspicion> {
    let deckless = |s: &SetUp| matches!(&s.frame, ReadingFrame::Machine(m) if m.deck_mm.is_empty());
    // Where the first has none either, its limits say so.
    if !deckless(set_up) || deckless(first) {
        return None;
    }
    let planned = |n: &u32| asked.circles.iter().any(|c| c.planned && c.set_up == index && c.cylinder == *n);
    let sites = asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder);
    let own: Vec<u32> = sites.filter(planned).collect();
    (!own.is_empty()).then(|| Suspicion {
        code: Code::DecksApart,
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(own.clone()),
        found: say!(
            "read in set-up {} only, in which no deck was read, where set-up {} has one",
            plain(&set_up.name, 40),
            plain(&first.name, 40)
        ),
        likely: "a table left out: how the bank leans in that set-up is the fixture's word alone".into(),
        ask: say!(
            "read the deck in that set-up as well, at four points, or {} in the other",
            cylinder_words(&own)
        ),
        evidence: figures([]),
        cylinders: own.into(),
    })
}

/// The suspicion of two set-ups that tell two heights of one deck.
fn apart(asked: &Asked<'_>, set_up: &SetUp, first: &SetUp) -> Option<Suspicion> {
    let (one, other) = (height_mm(asked, first)?, height_mm(asked, set_up)?);
    let i = &asked.job.instruments;
    let allowed = APART_MM.max(NO_CHANCE * std::f64::consts::SQRT_2 * i.axis_mm.hypot(i.machine_mm));
    let off = (one - other).abs();
    (off > allowed).then(|| Suspicion {
        code: Code::DecksApart,
        verdict: Verdict::Hold,
        subject: Subject::bank(&asked.job.bank(set_up.bank).name),
        found: say!(
            "its deck stands {} above the journal axis in set-up {} and {} in set-up {}: {} apart",
            before_mm(one, 3),
            plain(&first.name, 40),
            before_mm(other, 3),
            plain(&set_up.name, 40),
            mm(off, 3)
        ),
        likely: "a deck skimmed between the two, another stylus, or an axis picked up wrongly in one of them"
            .into(),
        ask: "was the deck cut between the two readings? Read axis and deck again where it was not".into(),
        evidence: figures([("one", one), ("other", other), ("allowed", allowed)]),
        cylinders: asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder).collect(),
    })
}
