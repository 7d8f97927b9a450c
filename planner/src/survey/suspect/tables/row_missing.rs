//! A row that every other bore, circle, main or deck has and one lacks: it may be the one that speaks against the
//! cut, so leaving it out must not improve a verdict.

mod banks;
mod circles;
mod decks;
mod mains;
mod points;

use std::collections::BTreeSet;

use super::{Asked, Kind, Suspicion};
use crate::plan::{Subject, Verdict};
use crate::survey::suspect::Code;

/// In the order in which they are told.
const KINDS: [Kind; 5] =
    [circles::suspicions, banks::suspicions, points::suspicions, mains::suspicions, decks::suspicions];

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    KINDS.iter().flat_map(|kind| kind(asked)).collect()
}

/// Leaves out questions of a missing row, and of scatter, about bores that are held by a better one: a depth in another unit is
/// missing where it belongs, and figures in another unit scatter less.
pub(in crate::survey::suspect) fn unless_explained(all: &mut Vec<Suspicion>) {
    let held: BTreeSet<u32> = all
        .iter()
        .filter(|s| ![Code::RowMissing, Code::NoScatter].contains(&s.code) && s.verdict != Verdict::Go)
        .flat_map(|s| s.cylinders.named().iter().copied())
        .collect();
    let other_unit = all.iter().any(|s| s.code == Code::WrongUnit);
    all.retain(|s| {
        if s.code == Code::NoScatter {
            return !other_unit;
        }
        s.code != Code::RowMissing
            || !match &s.subject {
                Subject::Bank(_) => s.cylinders.named().iter().any(|n| held.contains(n)),
                of => Subject::bores([of]).is_some_and(|own| own.iter().any(|n| held.contains(n))),
            }
    });
}
