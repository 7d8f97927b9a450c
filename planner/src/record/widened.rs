//! Readings that were outside their window when they were taken and lie in it now: the window was made wider since, in the job's
//! files, and that is a release which nobody signed.

use super::answer::found;
use super::finding::{Reason, WorkFinding};
use super::{Lies, Paper, Standing, judge::lies_at};
use crate::job::Job;
use crate::plan::Subject;
use crate::plan::check::{Asked, Check};
use crate::plan::sentence::{Sentence, mm};
use crate::read::fault::plain;
use crate::say;

/// Windows whose middles differ by no more ask for one figure, mm.
const SAME_MM: f64 = 1e-4;

/// A hold for each bore and check of which a reading is inside only by a window that is wider than it was.
pub(super) fn findings(job: Option<&Job>, paper: &Paper, standing: &Standing) -> Vec<WorkFinding> {
    let mut findings = Vec::new();
    for check in &paper.checks {
        for at in &check.cylinders {
            let widened = |asked: &Asked| of_place(job, paper, standing, (check, at.cylinder, asked));
            let Some((line, text)) = at.readings.iter().find_map(widened) else { continue };
            let reason = Reason::Widened { check: check.check, line };
            let found = WorkFinding::hold(reason, Subject::of(at.cylinder, &check.bank), text);
            findings.push(found.judged(standing, (at.cylinder, line)));
        }
    }
    findings
}

/// The last line of a place whose figure lies inside by a wider window alone, and that in words.
fn of_place(
    job: Option<&Job>,
    paper: &Paper,
    standing: &Standing,
    place: (&Check, Option<u32>, &Asked),
) -> Option<(usize, Sentence)> {
    let (check, cylinder, asked) = place;
    let read = standing.last(check.check, cylinder, asked.reading)?;
    let then = |column: &str| read.fields.get(column).parse::<f64>().ok().filter(|mm| mm.is_finite());
    let was = Asked { expected: then("expected"), least: then("least"), most: then("most"), ..asked.clone() };
    let one_figure = was.expected.zip(asked.expected).is_some_and(|(was, is)| (was - is).abs() <= SAME_MM);
    let ([least, most], [from, to]) = (ends(&was)?, ends(asked)?);
    if !one_figure || !asked.of.measure().is_length() || (from >= least && to <= most) {
        return None;
    }
    // Of a place that was read twice the figure that counts, not each of its lines.
    let value = found(job, paper, standing, place)?.figure;
    let outside = |asked: &Asked| matches!(lies_at(asked, value), Lies::Under(_) | Lies::Over(_));
    let text = say!(
        "CHECK {}, {}: {} by line {}, outside {} to {} as it was asked then; the job's files ask {} to {} now, by nobody's word. \
         Whoever allows that releases it by name",
        check.check,
        plain(&check.feature, 40),
        mm(value, 3),
        read.line,
        mm(least, 3),
        mm(most, 3),
        mm(from, 3),
        mm(to, 3)
    );
    (outside(&was) && !outside(asked)).then_some((read.line, text))
}

fn ends(asked: &Asked) -> Option<[f64; 2]> {
    Some([asked.least?, asked.most?])
}
