//! A point that one deck lacks of as many as all others have.

use crate::job::ReadingFrame;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Code, Suspicion};
use borewright_geometry::sample::count;

/// A deck of one point fewer than those of the other set-ups, which have equally many.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let decks: Vec<(usize, usize)> = asked
        .job
        .set_ups
        .iter()
        .enumerate()
        .filter_map(|(index, set_up)| match &set_up.frame {
            ReadingFrame::Machine(read) if !read.deck_mm.is_empty() => Some((index, read.deck_mm.len())),
            _ => None,
        })
        .collect();
    let Some(most) = decks.iter().map(|(_, points)| *points).max() else { return Vec::new() };
    let few: Vec<_> = decks.iter().filter(|(_, points)| *points < most).collect();
    let [(index, points)] = few.as_slice() else { return Vec::new() };
    if points + 1 != most {
        return Vec::new();
    }
    let set_up = &asked.job.set_ups[*index];
    vec![Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found: say!("the deck was touched at {points} points, and that of the other bank at {most}"),
        likely: "a row left out".into(),
        ask: say!("touch the point that is missing: it may be the one that is off"),
        evidence: figures([("points", count(*points)), ("most", count(most))]),
        cylinders: asked.readings.cylinders(*index).into(),
    }]
}
