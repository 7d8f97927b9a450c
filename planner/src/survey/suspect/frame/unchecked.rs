//! A datum read with nothing to spare, among which a slip would not show.

use std::collections::BTreeSet;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::ReadingFrame;
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::sample::count;

/// Points that lie on one plane whatever they are.
const A_PLANE: usize = 3;

/// Mains that lie on one line whatever they are.
const A_LINE: usize = 2;

/// Asks for a fourth point of each deck that was touched at three, and for a third main where the block has one.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for set_up in &asked.job.set_ups {
        let ReadingFrame::Machine(readings) = &set_up.frame else { continue };
        let suspicion = |code, said: Sentence, likely: &str, ask: &str, points: usize| Suspicion {
            code,
            verdict: Verdict::Hold,
            subject: Subject::set_up(&set_up.name),
            found: said,
            likely: likely.into(),
            ask: ask.into(),
            evidence: figures([("read", count(points))]),
            cylinders: asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder).collect(),
        };
        if readings.deck_mm.len() == A_PLANE {
            found.push(suspicion(
                "deck_unchecked",
                say!("its deck was touched at {} points, which lie on a plane whatever they are", A_PLANE),
                "no slip, but one of 0.03 in a point would tilt the whole bank unseen",
                "touch a fourth point, at the corner that is left",
                A_PLANE,
            ));
        }
        let mains: BTreeSet<&str> = readings.axis.iter().chain(&readings.mains).map(|p| &*p.main).collect();
        if mains.len() == A_LINE && asked.job.block.journal_axis.mains.len() > A_LINE {
            found.push(suspicion(
                "axis_unchecked",
                say!("the journal axis was read at {} mains, which lie on a line whatever they are", A_LINE),
                "no slip, but one in a main would turn the whole bank unseen",
                "read a third main",
                A_LINE,
            ));
        }
    }
    found
}
