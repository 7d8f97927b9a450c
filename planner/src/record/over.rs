//! Checks that were passed over: what comes after them was read, and they were not.

use super::behind::{PassedOver, is_answered, is_read, passed_over};
use super::finding::{Reason, WorkFinding};
use super::release::released;
use super::{Heard, Paper, Standing};
use crate::plan::check::{Check, Of, What};
use crate::plan::{Stage, Subject};
use crate::read::fault::plain;
use crate::say;

/// Findings on checks that were skipped: the sleeve is in, and its pocket was not measured; a deck, or where the bank
/// stands, was not read.
#[must_use]
pub fn findings(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let mut findings = Vec::new();
    for cylinder in paper.cylinders.iter().map(|c| c.cylinder) {
        let open = open(paper, standing, cylinder);
        let Some(line) = open.iter().map(|over| over.line).min() else { continue };
        let since = open.iter().map(|over| over.since).max().unwrap_or(line);
        let text = say!(
            "not all read of CHECK {}, though line {} reads what comes after: what was cut there, and whether it was, is not \
             known. Read them, or strike that line where its check is mistyped",
            named(&open),
            line
        );
        let checks = open.iter().map(|over| over.check.check).collect();
        let found = WorkFinding::hold(Reason::PassedOver { checks, line }, Subject::cylinder(cylinder), text);
        findings.push(found.judged(standing, (Some(cylinder), since)));
    }
    findings.extend(decks_over(paper, standing));
    findings.extend(decks_early(paper, standing));
    findings.extend(touches_over(paper, standing));
    findings
}

/// Checks of a bore that were passed over and that nobody let through.
fn open<'a>(paper: &'a Paper, standing: &Standing, cylinder: u32) -> Vec<PassedOver<'a>> {
    let mut open = passed_over(paper, standing, cylinder);
    open.retain(|over| released(standing, Some(cylinder), over.since).is_none());
    open
}

fn named(open: &[PassedOver<'_>]) -> String {
    let named: Vec<String> =
        open.iter().map(|o| format!("{} ({})", o.check.check, plain(&o.check.feature, 40))).collect();
    named.join(", ")
}

/// A finding of what is still to be read, in few words; `None` of another finding.
#[must_use]
pub fn shortly(paper: &Paper, standing: &Standing, finding: &WorkFinding) -> Option<WorkFinding> {
    let text = match &finding.reason {
        Reason::TouchUnread { check, .. } => say!("touch check {} is still not read", check),
        Reason::PassedOver { .. } => {
            let of = paper.cylinders.iter().map(|c| c.cylinder).find(|n| finding.subject.is_cylinder(*n))?;
            let open = open(paper, standing, of);
            if open.is_empty() {
                return None;
            }
            say!("still not all read of CHECK {}", named(&open))
        }
        _ => return None,
    };
    Some(WorkFinding::new(finding.reason.clone(), finding.verdict, finding.subject.clone(), text))
}

/// Decks that were cut before what counts from them as they were.
fn decks_early(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let decks = paper.checks.iter().filter(|c| c.what == What::Deck && c.at(None).is_some());
    let early = decks.filter_map(|deck| {
        let line = standing.of_check(deck.check, None).filter(|r| r.heard != Heard::None).map(|r| r.line).max()?;
        // Pockets count from the deck as it was; cut with the sleeves in, it needs them in.
        let before = |c: &&Check| c.bank == deck.bank && matches!(c.stage, Stage::Pocket | Stage::Fit);
        let pockets = paper.checks.iter().filter(before);
        let pockets = pockets.filter(|c| c.what != What::Touch && c.step < deck.step);
        let mut open = pockets.flat_map(|c| c.cylinders.iter().map(move |at| (c, at.cylinder)));
        let (check, cylinder) =
            open.find(|(c, cylinder)| cylinder.is_some() && !is_answered(standing, c, *cylinder))?;
        let text = say!(
            "line {} reads the deck as cut, and CHECK {} ({}) of cylinder {} is not read, which comes before: depths still to be cut \
             count from the deck as it was, and sleeves that are cut with it must be in. Plan with the deck height that is there now and \
             nothing to cut, or strike that line",
            line,
            check.check,
            plain(&check.feature, 40),
            cylinder.unwrap_or_default()
        );
        let reason = Reason::DeckEarly { check: deck.check, line };
        let since = line.max(standing.struck_in(check.check, cylinder)).max(standing.struck_in(deck.check, None));
        let found = WorkFinding::hold(reason, Subject::bank(&deck.bank), text);
        Some(found.judged(standing, (None, since)))
    });
    early.collect()
}

/// Decks that nobody read, though something after them was.
fn decks_over(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let decks = paper.checks.iter().filter(|c| c.what == What::Deck && c.at(None).is_some());
    let open = decks.filter(|c| !is_answered(standing, c, None)).filter_map(|check| {
        let later = paper.checks.iter().filter(|c| c.bank == check.bank && c.step > check.step);
        let read = later.flat_map(|c| c.cylinders.iter().map(move |at| (c.check, at.cylinder)));
        let lines = read.flat_map(|(check, cylinder)| standing.of_check(check, cylinder));
        let line = lines.filter(|r| r.heard != Heard::None).map(|r| r.line).min()?;
        let text = say!(
            "not all read of CHECK {} ({}), though line {} reads what comes after: depths and heights count from that deck. Read \
             it, or strike that line where its check is mistyped",
            check.check,
            plain(&check.feature, 40),
            line
        );
        let reason = Reason::PassedOver { checks: vec![check.check], line };
        let since = line.max(standing.struck_in(check.check, None));
        let found = WorkFinding::hold(reason, Subject::bank(&check.bank), text);
        Some(found.judged(standing, (None, since)))
    });
    open.collect()
}

/// Banks of which a list was cut and read, and no touch check of that list or a later one: whether they stood where
/// the list takes them to stand nobody has shown.
fn touches_over(paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let touches = paper.checks.iter().filter(|c| c.what == What::Touch);
    let open = touches.filter_map(|touch| {
        let own = || paper.checks.iter().filter(|c| c.bank == touch.bank);
        let shown = own().filter(|c| c.what == What::Touch && c.check >= touch.check);
        if shown.into_iter().any(|c| is_taken(standing, c)) {
            return None;
        }
        let next = own().filter(|c| c.what == What::Touch && c.check > touch.check).map(|c| c.check).min();
        let of_list = |c: &&Check| {
            c.stage == touch.stage && c.check > touch.check && next.is_none_or(|next| c.check < next)
        };
        let cut = own().filter(of_list).flat_map(|c| c.cylinders.iter().map(move |at| (c, at.cylinder)));
        let lines = cut.filter(|(_, cylinder)| !is_placed(paper, standing, *cylinder)).flat_map(|(c, cylinder)| {
            standing.of_check(c.check, cylinder).filter(|r| r.heard != Heard::None).map(|r| r.line)
        });
        let line = lines.min()?;
        let struck = touch.cylinders.iter().map(|at| standing.struck_in(touch.check, at.cylinder)).max();
        let mut read = touch.cylinders.iter().flat_map(|at| standing.of_check(touch.check, at.cylinder));
        let is_begun = read.any(|r| r.heard != Heard::None);
        let text = say!(
            "{} read of CHECK {} ({}), though line {} reads what its list cuts: whether the block stood where the list takes it to \
             stand is not known. Read it, or the next touch check of the bank, or X and Y of what was cut",
            if is_begun { "not all" } else { "nothing" },
            touch.check,
            plain(&touch.feature, 40),
            line
        );
        let reason = Reason::TouchUnread { check: touch.check, line };
        let found = WorkFinding::hold(reason, Subject::bank(&touch.bank), text);
        Some(found.judged(standing, (None, line.max(struck.unwrap_or_default()))))
    });
    open.collect()
}

/// Whether a touch check was really read, in every bore that it asks for: half of one shows where half of a block stands.
fn is_taken(standing: &Standing, touch: &Check) -> bool {
    touch.cylinders.iter().all(|at| is_read(standing, touch, at.cylinder))
}

/// Whether X and Y of a bore were read at any part that was cut.
fn is_placed(paper: &Paper, standing: &Standing, cylinder: Option<u32>) -> bool {
    let cut = paper.checks.iter().filter(|c| c.what != What::Touch && cylinder.is_some());
    let mut cut = cut.filter_map(|c| Some((c.check, c.at(cylinder)?)));
    cut.any(|(check, at)| {
        let read = |of: Of| {
            let mut own = at.readings.iter().filter(|a| a.of == of);
            own.any(|a| standing.is_read(check, cylinder, a.reading))
        };
        read(Of::X) && read(Of::Y)
    })
}
