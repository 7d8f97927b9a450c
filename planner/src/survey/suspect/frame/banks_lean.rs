//! Two banks whose bores lean otherwise across, each against its own deck: one of the decks was read wrong.
//!
//! Old bores were bored off a plate and pins, so whatever leans, leans in both banks alike; what differs is a deck.

use super::evidence::figures;
use super::lines::{lines, mean_tilt};
use super::{Asked, Suspicion};
use crate::job::ReadingFrame;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;

/// The most that the leans of two banks differ, mm per mm: a bank angle is 0.01 to 0.05 degrees off, and a deck leans as much. Common
/// practice, no source.
const APART: f64 = 0.001_2;

/// The lean is told over this length, mm.
const OVER_MM: f64 = 100.0;

/// Points that a deck's lean rests on.
const POINTS: usize = 3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let decked = |bank: usize| {
        let mut own = asked.job.set_ups.iter().filter(|s| s.bank == bank).peekable();
        own.peek().is_some()
            && own.all(|s| matches!(&s.frame, ReadingFrame::Machine(m) if m.deck_mm.len() >= POINTS))
    };
    let leans: Vec<(usize, f64)> = lines(asked.job, asked.circles)
        .iter()
        .filter(|bank| decked(bank.bank) && bank.lines.iter().filter(|l| l.tilt.is_some()).count() > 1)
        .filter_map(|bank| Some((bank.bank, mean_tilt(&bank.lines)?[1])))
        .collect();
    let [(one, lean), (other, its)] = leans.as_slice() else { return Vec::new() };
    let apart = (lean - its).abs();
    if apart <= APART {
        return Vec::new();
    }
    let [one, other] = [one, other].map(|bank| asked.job.bank(*bank));
    let [name, its_name] = [one, other].map(|bank| plain(&bank.name, 40));
    let height = one.deck_height_mm.max(other.deck_height_mm);
    vec![Suspicion {
        code: Code::DeckLeans,
        verdict: Verdict::Hold,
        subject: Subject::whole("deck"),
        found: say!(
            "the bores of bank {name} and those of bank {its_name} lean otherwise across, each against its own deck: by {} over {}",
            mm(OVER_MM * apart, 3),
            mm(OVER_MM, 0)
        ),
        likely: say!(
            "points of one deck typed wrongly, or a chip under the stylus: its whole bank would be cut {} off",
            before_mm(height * apart, 2)
        ),
        ask: "touch both decks again at eight points or more, in the place of the old rows: which of them leans?".into(),
        evidence: figures([("apart_over_100", OVER_MM * apart), ("at_the_axis", height * apart)]),
        cylinders: asked.job.block.cylinders().into(),
    }]
}
