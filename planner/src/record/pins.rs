//! Sleeves that the record gives to a bore: those that cannot go there, and those no longer measured.

use super::finding::{Reason, WorkFinding};
use super::{Event, Heard, Paper, Standing};
use crate::job::{Bank, Job};
use crate::plan::sentence::Sentence;
use crate::plan::{Stage, Subject};
use crate::read::fault::plain;
use crate::say;

/// One finding for each line that gives a bore a sleeve which stands in another, or which is not the one that
/// stands in it.
pub(super) fn findings(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let pins = standing.pins();
    pins.filter_map(|(event, cylinder, number)| {
        let text = taken(paper, standing, (event, cylinder, number))?;
        let reason = Reason::SleeveTwice { line: event.line };
        let found = WorkFinding::hold(reason, Subject::cylinder(cylinder), text);
        Some(found.judged(standing, (Some(cylinder), event.line)))
    })
    .collect()
}

/// Why a sleeve cannot go into a bore, by what the record said before.
fn taken(
    paper: &Paper,
    standing: &Standing,
    (event, cylinder, number): (&Event, u32, &str),
) -> Option<Sentence> {
    // The last pin of a kind before this line; a sleeve is in once something of its fit was read.
    let before = |of: &dyn Fn(u32, &str) -> bool| {
        let earlier = standing.pins().filter(|(e, ..)| e.line < event.line);
        earlier.filter(|(_, c, n)| of(*c, n)).last()
    };
    let stood = |at: u32| before(&|c, _| c == at).map(|(_, _, n)| n);
    let is_in = |at: u32| -> Option<usize> {
        let checks = paper.checks.iter().filter(|c| c.stage > Stage::Pocket);
        let read = checks.flat_map(|c| standing.of_check(c.check, Some(at)));
        read.filter(|r| r.heard != Heard::None && r.line < event.line).map(|r| r.line).min()
    };
    if let Some((_, elsewhere, _)) = before(&|c, n| n == number && c != cylinder)
        && stood(elsewhere) == Some(number)
        && let Some(line) = is_in(elsewhere)
    {
        return Some(say!(
            "line {}: sleeve {} stands in cylinder {}, whose fit line {} reads: it cannot go into another bore",
            event.line,
            plain(number, 30),
            elsewhere,
            line
        ));
    }
    let own = stood(cylinder).filter(|own| *own != number)?;
    let line = is_in(cylinder)?;
    Some(say!(
        "line {}: cylinder {} has sleeve {} in it, whose fit line {} reads: another cannot stand there",
        event.line,
        cylinder,
        plain(own, 30),
        line
    ))
}

/// What the program notes of a sleeve that it took from the plan.
pub const AS_PLANNED: &str = "as planned when its pocket was cut";

/// Sleeves that a bore was cut for and that the job measures no longer, or not with one for each bore: one that is
/// missing leaves all of them without figures of their own.
pub(super) fn missing(job: &Job, standing: &Standing) -> Vec<WorkFinding> {
    let bores = job.block.cylinders().len();
    let is_judged = |number: &str| {
        let own = job.measured.iter().find(|m| m.number == number);
        own.is_some_and(|own| job.measured.iter().filter(|m| m.sleeve == own.sleeve).count() >= bores)
    };
    // A shop that measures no sleeves may still write down which went where.
    let noted = |event: &Event| job.measured.is_empty() && event.fields.get("note") != AS_PLANNED;
    let gone = standing.pins().filter(|(event, cylinder, number)| {
        standing.pinned(*cylinder) == Some(*number) && !is_judged(number) && !noted(event)
    });
    let of_banks = |(event, cylinder, number): (&Event, u32, &str)| -> Vec<WorkFinding> {
        let text = say!(
            "line {}: cylinder {} was cut for sleeve {}, and `sleeves_measured` has it no more, or not one for each of the {} bores: what \
             was cut is judged by no sleeve's own figures. Put the rows back, or say by whom and why it goes without",
            event.line,
            cylinder,
            plain(number, 30),
            bores
        );
        let hold = |bank: &Bank| {
            let reason = Reason::SleeveMissing { line: event.line };
            let found = WorkFinding::hold(reason, Subject::bank(&bank.name), text.clone());
            found.judged(standing, (None, event.line))
        };
        job.block.banks.iter().map(hold).collect()
    };
    gone.flat_map(of_banks).collect()
}

/// Why the last pin of a bore cannot be, where it cannot.
pub(super) fn last(paper: &Paper, standing: &Standing, cylinder: Option<u32>) -> Option<Sentence> {
    let (event, cylinder, number) = standing.pins().filter(|(_, c, _)| Some(*c) == cylinder).last()?;
    taken(paper, standing, (event, cylinder, number))
}

/// What the last pin of a bore takes the place of: another sleeve of the bore, or another bore of the sleeve.
pub(super) fn in_place_of(standing: &Standing, cylinder: Option<u32>) -> Option<Sentence> {
    let (event, cylinder, number) = standing.pins().filter(|(_, c, _)| Some(*c) == cylinder).last()?;
    let earlier = || standing.pins().filter(|(e, ..)| e.line < event.line);
    let own = earlier().filter(|(_, c, n)| *c == cylinder && *n != number).last();
    let own = own.map(|(e, _, n)| say!("in place of sleeve {} of line {}", plain(n, 30), e.line));
    let left = earlier().filter(|(_, c, n)| *c != cylinder && *n == number).last();
    let left = left.filter(|(_, c, _)| standing.pinned(*c).is_none());
    let left = left.map(|(e, c, _)| say!("cylinder {}, which had it by line {}, has none now", c, e.line));
    let said: Vec<Sentence> = own.into_iter().chain(left).collect();
    (!said.is_empty()).then(|| Sentence::join(said, "; "))
}
