//! Pockets that were cut and read for one sleeve, and stand under another now: exchanged, or measured again.

use super::answer::found;
use super::finding::{Reason, WorkFinding};
use super::judge::{Lies, lies_at};
use super::{Paper, Standing, Word};
use crate::job::Job;
use crate::plan::Stage;
use crate::plan::Subject;
use crate::plan::check::{Asked, AtCylinder, Check, What};
use crate::plan::sentence::{Sentence, before_mm, mm, signed_before_mm};
use crate::read::fault::plain;
use crate::say;

/// What is asked of a place counts as changed once it differs by more than this, mm; less is rounding.
const OTHER_MM: f64 = 0.002;

/// One finding for each check and bore whose readings fit what was asked then, and not what is asked now; and for
/// each flange that can no longer stand as asked.
#[must_use]
pub(crate) fn findings(job: &Job, before: &Paper, now: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let mut findings = Vec::new();
    for check in &now.checks {
        for at in &check.cylinders {
            let Some(cylinder) = at.cylinder else { continue };
            let then = before.checks.iter().find(|c| c.check == check.check).and_then(|c| c.at(at.cylinder));
            let said = match check.what {
                What::Size | What::Ledge if check.stage == Stage::Pocket => {
                    then.and_then(|then| outgrown(job, (before, now, standing), (check, at), then))
                }
                What::Protrusion => no_longer(job, (before, standing), at, then),
                _ => None,
            };
            if let Some(text) = said {
                let text = say!("CHECK {}, {}: {}", check.check, plain(&check.feature, 40), text);
                let place = (at.cylinder, last_line(before, standing, cylinder));
                let reason = Reason::Unlike { check: check.check };
                let found = WorkFinding::hold(reason, Subject::of(at.cylinder, ""), text);
                findings.push(found.judged(standing, place));
            }
        }
    }
    findings
}

/// The last line that says anything of a bore's pocket or its sleeve: what was let through before it was of
/// something else.
fn last_line(before: &Paper, standing: &Standing, cylinder: u32) -> usize {
    let pocket = before.checks.iter().filter(|c| c.stage == Stage::Pocket);
    let read = pocket.filter_map(|c| standing.since(c.check, Some(cylinder)));
    let sleeve = standing
        .events
        .iter()
        .filter(|e| e.what == Word::Sleeve && e.struck.is_none() && e.cylinder == Some(cylinder))
        .map(|e| e.line);
    read.chain(sleeve).max().unwrap_or_default()
}

/// What was read of a pocket and no longer fits.
fn outgrown(
    job: &Job,
    (before, now, standing): (&Paper, &Paper, &Standing),
    (check, at): (&Check, &AtCylinder),
    then: &AtCylinder,
) -> Option<Sentence> {
    at.readings.iter().find_map(|asked| {
        let old = then.readings.iter().find(|a| a.reading == asked.reading)?;
        if (asked.expected? - old.expected?).abs() <= OTHER_MM {
            return None;
        }
        let figure = found(Some(job), now, standing, (check, at.cylinder, asked))?.figure;
        let fitted = before.checks.iter().find(|c| c.check == check.check).is_some_and(|c| {
            found(Some(job), before, standing, (c, at.cylinder, old))
                .is_some_and(|f| matches!(lies_at(old, f.figure), Lies::Within))
        });
        let outside = matches!(lies_at(asked, figure), Lies::Under(_) | Lies::Over(_));
        (fitted && outside).then(|| {
            say!(
                "{} was read, as it was asked then, and the sleeve that is planned there now asks {}: measure the two against each \
                 other before it goes in",
                mm(figure, 3),
                window(asked)
            )
        })
    })
}

/// A flange that what was cut no longer lets stand as asked.
fn no_longer(
    job: &Job,
    (before, standing): (&Paper, &Standing),
    at: &AtCylinder,
    then: Option<&AtCylinder>,
) -> Option<Sentence> {
    let ledges = before.checks.iter().filter(|c| c.what == What::Ledge);
    let mut read = ledges.flat_map(|c| {
        let own = c.at(at.cylinder).map(|at| at.readings.as_slice()).unwrap_or_default();
        let figure = move |a: &Asked| found(Some(job), before, standing, (c, at.cylinder, a));
        own.iter().filter_map(move |a| Some((a, figure(a)?.figure)))
    });
    // A ledge that is not as asked has a finding of its own.
    let begun = read.next()?;
    if std::iter::once(begun).chain(read).any(|(asked, value)| lies_at(asked, value) != Lies::Within) {
        return None;
    }
    let short = |asked: &&Asked| {
        asked.expected.is_some_and(|value| matches!(lies_at(asked, value), Lies::Under(_) | Lies::Over(_)))
    };
    // A window that was asked for from the first is the job's own.
    if then.is_some_and(|then| then.readings.iter().any(|a| short(&a))) {
        return None;
    }
    let asked = at.readings.iter().find(short)?;
    Some(say!(
        "the flange is to stand {}, and on what was cut it comes to {}: another flange than the ledge was cut for, or a deck and a \
         ledge that are off the same way",
        window(asked),
        signed_before_mm(asked.expected?, 3)
    ))
}

fn window(asked: &Asked) -> Sentence {
    match (asked.least, asked.most) {
        (Some(least), Some(most)) => say!("{} to {}", before_mm(least, 3), mm(most, 3)),
        (Some(least), None) => say!("at least {}", mm(least, 3)),
        (None, Some(most)) => say!("at most {}", mm(most, 3)),
        (None, None) => Sentence::new(),
    }
}
