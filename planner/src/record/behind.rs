//! Steps of a bore that are done, checks that tell something, and checks that were skipped.

use super::judge::lies_at;
use super::release::released;
use super::{Heard, Lies, Paper, Standing};
use crate::plan::Stage;
use crate::plan::check::{Asked, AtCylinder, Check, Of, What};

fn waiting(check: &Check, cylinder: Option<u32>) -> impl Iterator<Item = &Asked> + Clone {
    check.at(cylinder).into_iter().flat_map(|at| &at.readings).filter(|a| a.waits)
}

/// Whether every place that the work waits for has a line, be it that it was not read.
pub(super) fn is_answered(standing: &Standing, check: &Check, cylinder: Option<u32>) -> bool {
    waiting(check, cylinder).all(|a| standing.has(check.check, cylinder, a.reading))
}

/// Whether a check tells something: of each kind of reading that the work waits for at least half was really taken, one in each
/// direction that is asked, of each depth one in some bore, and round a ledge or a flange two across from each other.
///
/// A place that no gauge reaches is written down as `nr`, but a check of mostly `nr` tells nothing, nor does one that saw a bore
/// one way only of its roundness. The half is common practice, no source.
pub(super) fn is_read(standing: &Standing, check: &Check, cylinder: Option<u32>) -> bool {
    let all = waiting(check, cylinder);
    all.clone().all(|a| {
        let alike = all.clone().filter(|b| b.of == a.of);
        let is_read = |b: &&Asked| standing.is_read(check.check, cylinder, b.reading);
        let read = alike.clone().filter(is_read).count();
        2 * read >= alike.clone().count()
            && (a.depth.is_none() || !is_blind(standing, check, a))
            && match a.of {
                Of::Depth | Of::Height => is_across(alike.clone(), alike.filter(is_read)),
                _ => a.clock.is_none() || alike.filter(is_read).any(|b| b.clock == a.clock),
            }
    })
}

/// Whether two of those read lie across from each other, where two of those asked do: points to one side show no lean.
fn is_across<'a>(asked: impl Iterator<Item = &'a Asked>, read: impl Iterator<Item = &'a Asked>) -> bool {
    let across = |clocks: Vec<f64>| {
        let half_a_turn = |a: f64, b: f64| ((a - b).rem_euclid(360.0) - 180.0).abs() < 1.0;
        clocks.iter().any(|a| clocks.iter().any(|b| half_a_turn(*a, *b)))
    };
    !across(asked.filter_map(|a| a.clock).collect()) || across(read.filter_map(|a| a.clock).collect())
}

/// Whether a depth was read in no bore of a check, though all of them were answered: what no gauge reaches in any bore is
/// not known.
fn is_blind(standing: &Standing, check: &Check, asked: &Asked) -> bool {
    let here = |b: &&Asked| b.of == asked.of && b.depth == asked.depth;
    let read = |at: &AtCylinder| {
        at.readings.iter().filter(here).any(|b| standing.is_read(check.check, at.cylinder, b.reading))
    };
    check.cylinders.iter().all(|at| is_answered(standing, check, at.cylinder))
        && !check.cylinders.iter().any(read)
}

/// Whether a check leaves nothing to cut again: no place too small or too shallow, nothing not as asked.
fn passed(standing: &Standing, check: &Check, cylinder: Option<u32>) -> bool {
    waiting(check, cylinder).all(|a| {
        standing.last(check.check, cylinder, a.reading).is_none_or(|r| match r.value() {
            Some(value) => match lies_at(a, value) {
                Lies::Under(_) => check.stage == Stage::Fit,
                Lies::Over(_) => !matches!(check.what, What::Touch | What::Position | What::Protrusion),
                _ => true,
            },
            None => r.heard != Heard::Look(false),
        })
    })
}

/// Whether a check is whole and leaves nothing to cut again; what was written down as not read only where somebody
/// let it through.
pub(crate) fn is_whole(standing: &Standing, check: &Check, cylinder: Option<u32>) -> bool {
    let last = || standing.since(check.check, cylinder).unwrap_or_default();
    is_answered(standing, check, cylinder)
        && passed(standing, check, cylinder)
        && (is_read(standing, check, cylinder) || released(standing, cylinder, last()).is_some())
}

/// The checks of one cylinder that come after a step, in the order of work.
fn own(paper: &Paper, cylinder: u32) -> Vec<(u32, &Check)> {
    let of = |c: &Check| c.at(Some(cylinder)).is_some();
    let mut own: Vec<(u32, &Check)> =
        paper.checks.iter().filter(|c| of(c)).filter_map(|c| Some((c.step?, c))).collect();
    own.sort_by_key(|(step, _)| *step);
    own
}

/// Whether a later check has measured what this one would: the pocket's size after roughing, the finished bore
/// after sizes on the way.
fn is_told_later(standing: &Standing, own: &[(u32, &Check)], at: usize, cylinder: u32) -> bool {
    let Some((_, check)) = own.get(at) else { return false };
    let later = || own.iter().skip(at + 1).map(|(_, c)| *c);
    let read = |c: &Check| is_read(standing, c, Some(cylinder));
    match check.stage {
        Stage::Rough => later().any(|c| {
            let size =
                c.at(Some(cylinder)).is_some_and(|at| at.readings.iter().any(|a| a.of == Of::Diameter));
            c.stage == Stage::Pocket && c.what == What::Size && size && read(c)
        }),
        Stage::Finish | Stage::Hone => {
            check.what != What::Bore && later().any(|c| c.what == What::Bore && read(c))
        }
        _ => false,
    }
}

/// The line from which on a sleeve is known to stand in the bore, by something read after a check: what that check
/// measures cannot be reached any more.
fn passed_by(standing: &Standing, own: &[(u32, &Check)], at: usize, cylinder: u32) -> Option<usize> {
    let later = own.iter().skip(at + 1).filter(|(_, c)| c.stage > Stage::Pocket);
    later
        .flat_map(|(_, c)| standing.of_check(c.check, Some(cylinder)))
        .filter(|r| r.heard != Heard::None)
        .map(|r| r.line)
        .min()
}

/// Steps that are behind a cylinder: above the first of each two, up to the second.
///
/// A step that stops is behind once its check is whole, and the steps before it that do not stop with it. What a
/// check of a later step says nothing of stays.
pub(super) fn behind(paper: &Paper, standing: &Standing, cylinder: u32) -> Vec<[u32; 2]> {
    let own = own(paper, cylinder);
    let mut spans = Vec::new();
    let mut above = 0;
    for (at, (step, check)) in own.iter().enumerate() {
        // A pocket with its sleeve in is never cut again, whatever its checks say.
        let closed = passed_by(standing, &own, at, cylinder).is_some_and(|line| {
            let since = line.max(standing.struck_in(check.check, Some(cylinder)));
            check.stage <= Stage::Pocket || released(standing, Some(cylinder), since).is_some()
        });
        if closed || is_whole(standing, check, Some(cylinder)) || is_told_later(standing, &own, at, cylinder)
        {
            spans.push([above, *step]);
        }
        above = *step;
    }
    spans
}

/// A check that lacks readings though a later one shows that the sleeve is in.
pub(super) struct PassedOver<'a> {
    pub(super) check: &'a Check,
    /// The line that shows it.
    pub(super) line: usize,
    /// The line that it holds from: that one, or the last that took a reading of the check back.
    pub(super) since: usize,
}

/// Checks of a cylinder that lack readings though a later one shows that the sleeve is in.
pub(super) fn passed_over<'a>(paper: &'a Paper, standing: &Standing, cylinder: u32) -> Vec<PassedOver<'a>> {
    let own = own(paper, cylinder);
    let lacks = |at: usize, check: &Check| {
        !is_answered(standing, check, Some(cylinder)) && !is_told_later(standing, &own, at, cylinder)
    };
    let mut found = Vec::new();
    for (at, (_, check)) in own.iter().enumerate().filter(|(at, (_, check))| lacks(*at, check)) {
        let struck = standing.struck_in(check.check, Some(cylinder));
        let over = |line: usize| PassedOver { check, line, since: line.max(struck) };
        found.extend(passed_by(standing, &own, at, cylinder).map(over));
    }
    found
}
