//! What of the work no longer fits, as findings of a plan.

use super::answer::{Say, Touched, answer, event};
use super::{Paper, Standing, Word};
use crate::job::Job;
use crate::plan::check::{Of, What};
use crate::plan::{Finding, Verdict};
use crate::read::fault::plain;

/// One finding for each bore and check that waits for somebody, for what happened, and for what the record's file tells.
#[must_use]
pub fn findings(job: &Job, paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let mut findings = Vec::new();
    for check in &paper.checks {
        for at in
            check.cylinders.iter().filter(|at| standing.of_check(check.check, at.cylinder).next().is_some())
        {
            let last_line = standing.of_check(check.check, at.cylinder).map(|r| r.line).max().unwrap_or(0);
            let read = at
                .readings
                .iter()
                .filter(|a| a.of != Of::Set && standing.has(check.check, at.cylinder, a.reading));
            let worst = read
                .map(|asked| answer(Some(job), paper, standing, (check, at.cylinder, asked)))
                .max_by_key(|a| a.say);
            let Some(worst) = worst.filter(|a| a.say > Say::GoOn) else { continue };
            let subject = subject(at.cylinder, &check.bank);
            let what = format!("CHECK {}, {}: {}", check.check, plain(&check.feature, 40), worst.why);
            findings.push(match released(standing, at.cylinder, last_line) {
                Some((by, why)) => Finding {
                    code: "as_cut_released",
                    verdict: Verdict::Go,
                    subject,
                    text: format!("{what}; released by {by}: {why}").into(),
                },
                None => {
                    let way = worst
                        .ways
                        .first()
                        .map_or_else(String::new, |w| format!("; first of what can be done: {}", w.text));
                    let verdict = if worst.say == Say::Stop { Verdict::Stop } else { Verdict::Hold };
                    Finding { code: "as_cut", verdict, subject, text: format!("{what}{way}").into() }
                }
            });
        }
    }
    findings.extend(happened(job, paper, standing));
    findings.extend(standing.told.iter().map(|t| Finding {
        code: "record",
        verdict: if t.lost { Verdict::Hold } else { Verdict::Go },
        subject: "the record".into(),
        text: format!("{} line {}: {}", super::FILE, t.line, t.text).into(),
    }));
    findings
}

fn subject(cylinder: Option<u32>, bank: &str) -> String {
    cylinder.map_or_else(|| format!("bank {bank}"), |c| format!("cylinder {c}"))
}

/// Who let a bore through since a line, and why.
pub(crate) fn released(standing: &Standing, cylinder: Option<u32>, line: usize) -> Option<(String, String)> {
    let mut own = standing
        .events
        .iter()
        .filter(|e| e.what == Word::Release && e.struck.is_none() && e.line > line && e.cylinder == cylinder);
    own.next_back().map(|e| {
        let by = e.fields.get("by");
        let by = if by.is_empty() { "nobody named" } else { by };
        (plain(by, 60), plain(e.fields.get("value"), 200))
    })
}

/// Voids, cracks, and a block that was touched and not read again since.
fn happened(job: &Job, paper: &Paper, standing: &Standing) -> Vec<Finding> {
    let mut findings = Vec::new();
    for e in standing.events.iter().filter(|e| e.struck.is_none()) {
        let number = |column: &str| e.fields.get(column).parse::<f64>().ok().filter(|v| v.is_finite());
        let place = Touched { depth_mm: number("depth"), size_mm: number("figure") };
        let said = event(Some(job), paper, standing, (e.what, e.cylinder), place);
        let text = format!("{}: {}; {}", e.what.word(), plain(e.fields.get("value"), 120), said.why);
        match e.what {
            Word::Void | Word::Crack => {
                let subject = subject(e.cylinder, "");
                let let_through = released(standing, e.cylinder, e.line);
                findings.push(match let_through {
                    Some((by, why)) => Finding {
                        code: "as_cut_released",
                        verdict: Verdict::Go,
                        subject,
                        text: format!("{text}; released by {by}: {why}").into(),
                    },
                    None => Finding {
                        code: e.what.word(),
                        verdict: if said.say == Say::Stop { Verdict::Stop } else { Verdict::Hold },
                        subject,
                        text: text.into(),
                    },
                });
            }
            Word::Moved => findings.extend(unread_since(paper, standing, e.line).into_iter().map(|bank| {
                Finding {
                    code: "moved",
                    verdict: Verdict::Hold,
                    subject: format!("bank {bank}"),
                    text: format!(
                        "the block was touched (line {}): no touch check of this bank was read since",
                        e.line
                    )
                    .into(),
                }
            })),
            _ => {}
        }
    }
    findings
}

/// The bank that stood on the machine when the block was touched, where no touch check of it was read since; every
/// bank that still has work where nothing says which.
fn unread_since(paper: &Paper, standing: &Standing, line: usize) -> Vec<String> {
    let bank_of = |check: u32| paper.checks.iter().find(|c| c.check == check).map(|c| c.bank.clone());
    let before = standing.readings.iter().rfind(|r| r.line < line && r.struck.is_none());
    let banks: Vec<String> = match before.and_then(|r| bank_of(r.check)) {
        Some(bank) => vec![bank],
        None => {
            let mut banks: Vec<String> = paper.checks.iter().map(|c| c.bank.clone()).collect();
            banks.dedup();
            banks
        }
    };
    let read = |bank: &String| {
        let touch = |check: u32| {
            paper.checks.iter().any(|c| c.check == check && c.what == What::Touch && c.bank == *bank)
        };
        standing.readings.iter().any(|r| r.line > line && r.struck.is_none() && touch(r.check))
    };
    banks.into_iter().filter(|bank| !read(bank)).collect()
}
