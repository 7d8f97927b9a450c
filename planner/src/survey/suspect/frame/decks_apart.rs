//! Set-ups of one bank whose decks do not stand alike: one that was not read, or two of different height.

use super::evidence::{figures, listed};
use super::{Asked, Suspicion};
use crate::job::{ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::significance::NO_CHANCE;

/// Heights of one deck over the journal axis, read in two set-ups, differ by no more, mm. Common practice, no source.
const APART_MM: f64 = 0.05;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups = &asked.job.set_ups;
    let mut found = Vec::new();
    for (index, set_up) in set_ups.iter().enumerate() {
        let Some(first) = set_ups[..index].iter().find(|s| s.bank == set_up.bank) else { continue };
        found.extend(unread(asked, index, set_up, first));
        found.extend(apart(asked, set_up, first));
    }
    found
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
        code: "decks_apart",
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(own.clone()),
        found: say!(
            "read in set-up {} only, in which no deck was read, where set-up {} has one",
            plain(&set_up.name, 40),
            plain(&first.name, 40)
        ),
        likely: "a table left out: how the bank leans in that set-up is the fixture's word alone".into(),
        ask: say!(
            "read the deck in that set-up as well, at four points, or cylinder {} in the other",
            listed(&own)
        ),
        evidence: figures([]),
        cylinders: own,
    })
}

/// The suspicion of two set-ups that tell two heights of one deck.
fn apart(asked: &Asked<'_>, set_up: &SetUp, first: &SetUp) -> Option<Suspicion> {
    let height = |s: &SetUp| asked.journal_axis.iter().find(|a| a.set_up == s.name)?.deck_height;
    let (one, other) = (height(first)?, height(set_up)?);
    let i = &asked.job.instruments;
    let allowed = APART_MM.max(NO_CHANCE * std::f64::consts::SQRT_2 * i.axis_mm.hypot(i.machine_mm));
    let off = (one - other).abs();
    (off > allowed).then(|| Suspicion {
        code: "decks_apart",
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
