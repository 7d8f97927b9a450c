//! Touch checks that were read before their time: what was done to the bank after them comes before them in the order of work.

use super::judge::{Lies, lies_at};
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
    // What was struck was done all the same.
    let lines = |check: &Check| -> Vec<usize> {
        let own = standing.readings.iter().filter(|r| r.check == check.check && r.heard != Heard::None);
        own.map(|r| r.line).collect()
    };
    // A line that stops the work keeps its answer until it is struck by name.
    let lies_right = |check: &Check, r: &Reading| {
        let readings = check.at(r.cylinder).map(|at| at.readings.as_slice()).unwrap_or_default();
        let asked = readings.iter().find(|asked| asked.reading == r.reading);
        let lies = asked.zip(r.value()).map(|(asked, value)| lies_at(asked, value));
        matches!(lies, Some(Lies::Within | Lies::Open))
    };
    let set_aside = |check: &Check| -> Vec<usize> {
        let own = standing.readings.iter().filter(|r| r.check == check.check && r.struck.is_none());
        own.filter(|r| r.heard != Heard::None && lies_right(check, r)).map(|r| r.line).collect()
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
        let early = set_aside(touch).into_iter().filter(move |line| first.is_some_and(|first| *line < first));
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
