//! Touch checks that were read before their time: what was done to the bank after them comes before them in the order of work.

use super::standing::Standing;
use super::{Heard, Reading};
use crate::plan::Stage;
use crate::plan::check::{Check, What};
use crate::plan::sentence::Sentence;
use crate::say;

/// Lines that read a touch check before its time, each with why it does not count: nothing of the stage before it had been
/// read in any bore of its bank, and something of it has been since. Bores and banks are taken in any order, so that one bore
/// which was read before is enough.
pub(super) fn early(checks: &[Check], standing: &Standing) -> Vec<(usize, Sentence)> {
    let counts = |r: &&Reading| r.struck.is_none() && r.heard != Heard::None;
    let lines = |check: &Check| -> Vec<usize> {
        standing.readings.iter().filter(|r| r.check == check.check).filter(counts).map(|r| r.line).collect()
    };
    let touches = checks.iter().filter(|c| c.what == What::Touch);
    let found = touches.flat_map(|touch| {
        let before = |c: &&Check| {
            c.bank == touch.bank
                && c.what != What::Touch
                && matches!(c.stage, Stage::Rough | Stage::Pocket | Stage::Fit)
                && c.stage < touch.stage
        };
        let last = checks.iter().filter(before).map(|c| c.stage).max();
        let done: Vec<usize> =
            checks.iter().filter(before).filter(|c| Some(c.stage) == last).flat_map(lines).collect();
        let first = done.iter().min().copied();
        let early = lines(touch).into_iter().filter(move |line| first.is_some_and(|first| *line < first));
        let word = last.map_or("", Stage::word);
        early.map(move |line| {
            let text = say!(
                "CHECK {} was read before anything of the bank's {} was, which comes before it (line {}): it says nothing of the block as \
                 it stands by now. It does not count: read it again whole",
                touch.check,
                word,
                first.unwrap_or_default()
            );
            (line, text)
        })
    });
    found.collect()
}
