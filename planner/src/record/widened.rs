//! Readings that were outside their window when they were taken and lie in it now: the window was made wider since, in the job's
//! files, and that is a release which nobody signed.

use super::answer::Say;
use super::as_cut::judged;
use super::{Lies, Paper, Standing, judge::lies_at};
use crate::plan::check::Asked;
use crate::plan::sentence::mm;
use crate::plan::{Finding, Subject};
use crate::read::fault::plain;
use crate::say;

/// Windows whose middles differ by no more ask for one figure, mm.
const SAME_MM: f64 = 1e-4;

/// A hold for each bore and check of which a reading is inside only by a window that is wider than it was.
pub(super) fn findings(paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let mut findings: Vec<Finding> = Vec::new();
    for read in standing.readings.iter().filter(|r| r.struck.is_none()) {
        let Some(check) = paper.checks.iter().find(|c| c.check == read.check) else { continue };
        let asked =
            check.at(read.cylinder).and_then(|at| at.readings.iter().find(|a| a.reading == read.reading));
        let Some((asked, value)) = asked.zip(read.value()) else { continue };
        let then = |column: &str| read.fields.get(column).parse::<f64>().ok().filter(|mm| mm.is_finite());
        let was =
            Asked { expected: then("expected"), least: then("least"), most: then("most"), ..asked.clone() };
        let one_figure =
            was.expected.zip(asked.expected).is_some_and(|(was, is)| (was - is).abs() <= SAME_MM);
        let outside = |asked: &Asked| matches!(lies_at(asked, value), Lies::Under(_) | Lies::Over(_));
        if !one_figure || !outside(&was) || outside(asked) || asked.of.unit() != "mm" {
            continue;
        }
        let (Some([least, most]), Some([from, to])) = (ends(&was), ends(asked)) else { continue };
        let text = say!(
            "CHECK {}, {}: line {} reads {}, outside {} to {} as it was asked then; the job's files ask {} to {} now, by nobody's word. \
             Whoever allows that releases it by name",
            check.check,
            plain(&check.feature, 40),
            read.line,
            mm(value, 3),
            mm(least, 3),
            mm(most, 3),
            mm(from, 3),
            mm(to, 3)
        );
        let subject = Subject::of(read.cylinder, &check.bank);
        let told = |f: &Finding| {
            f.subject == subject && f.text.to_string().starts_with(&format!("CHECK {},", check.check))
        };
        if !findings.iter().any(told) {
            findings.push(judged(
                standing,
                (read.cylinder, read.line),
                ("window_widened", Say::Hold),
                &subject,
                &text,
            ));
        }
    }
    findings
}

fn ends(asked: &Asked) -> Option<[f64; 2]> {
    Some([asked.least?, asked.most?])
}
