//! All banks off along alike: where the first bore is described, or the face that X counts from.

use crate::survey::suspect::Code;
use borewright_geometry::sample::median;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Aim;
use crate::plan::sentence::signed_mm;
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;

/// How far both banks must stand off along, the same way, to be asked about, mm: they are bored in set-ups of their
/// own, so only a common reference puts both off. Common practice, no source.
const BOTH_MM: f64 = 0.38;

/// Asks about bores that stand off along in every bank of two, all the same way, where the true position is aimed
/// at; the figure told is the smallest of them.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    // Where the cut follows the old bores, the reference they are measured from decides nothing.
    if asked.job.aim != Aim::Journal {
        return Vec::new();
    }
    let mut banks: Vec<(usize, f64)> = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let stands = asked.readings.as_typed(index);
        if !stands.is_empty() && !banks.iter().any(|(bank, _)| *bank == set_up.bank) {
            banks.push((set_up.bank, median(stands.iter().map(|s| s.off_mm[0]).collect())));
        }
    }
    let beyond = |sign: f64| banks.len() > 1 && banks.iter().all(|(_, off)| sign * off > BOTH_MM);
    if !beyond(1.0) && !beyond(-1.0) {
        return Vec::new();
    }
    let least = banks.iter().map(|(_, off)| *off).min_by(|a, b| a.abs().total_cmp(&b.abs())).unwrap_or(0.0);
    let cylinders = asked.job.block.cylinders();
    vec![Suspicion {
        code: Code::AlongBoth,
        verdict: Verdict::Hold,
        subject: Subject::whole("block"),
        found: say!("the bores of all banks stand {} along and more, all the same way", signed_mm(least, 3)),
        likely:
            "`first_bore` of another block, a digit of it, or another face than the one that X counts from"
                .into(),
        ask: say!(
            "measure from {} to the first bore by hand: what is it?",
            plain(&asked.job.block.journal_axis.along_datum, 60)
        ),
        evidence: figures([("along", least)]),
        cylinders: cylinders.into(),
    }]
}
