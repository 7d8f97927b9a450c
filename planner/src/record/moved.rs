//! A block that was touched: what of its touch check is to be read again.

use super::finding::{Reason, WorkFinding};
use super::judge::lies_at;
use super::{Event, Heard, Lies, Paper, Reading, Standing};
use crate::plan::Subject;
use crate::plan::check::{Check, What};

/// Most places that are named.
const NAMED: usize = 4;

/// A datum that comes out farther off than this asks for a new plan, mm. Common practice, no source.
pub(super) const DATUM_MM: f64 = 0.015;

/// A hold of each bank whose set-up ended with the touch, until one of its touch checks is read whole and in its
/// windows.
pub(super) fn findings(paper: &Paper, standing: &Standing, event: &Event) -> Vec<WorkFinding> {
    let line = event.line;
    let hold = |bank: String| -> Option<WorkFinding> {
        let touches = touches(paper, standing, &bank, line);
        let open = touches
            .into_iter()
            .map(|c| (c.check, lacking(standing, c, line)))
            .min_by_key(|(_, open)| open.len());
        let text = match open {
            Some((_, open)) if open.is_empty() => return None,
            Some((check, open)) => {
                let more = open.len().saturating_sub(NAMED);
                let more = if more > 0 { format!(" and {more} more") } else { String::new() };
                let named: Vec<String> = open.into_iter().take(NAMED).collect();
                format!(
                    "the block was touched (line {line}): of CHECK {check} was not read since, within its window and where it stood \
                     before: {}{more}. Read all of it before the next cut; what lies outside means that the datum is picked up anew",
                    named.join(", ")
                )
            }
            None => format!(
                "the block was touched (line {line}), and no touch check of this bank says where it stands: read the set-up again \
                 and plan; the line is then struck by name"
            ),
        };
        Some(WorkFinding::hold(Reason::Moved { line }, Subject::bank(&bank), text))
    };
    banks(paper, standing, event).into_iter().filter_map(hold).collect()
}

/// The touch checks that can still show where a bank stands: that of the stage its work had come to, and those
/// after it. The bores of earlier ones are cut away.
fn touches<'a>(paper: &'a Paper, standing: &Standing, bank: &str, line: usize) -> Vec<&'a Check> {
    let own = || paper.checks.iter().filter(|c| c.bank == bank);
    let read = |c: &&Check| standing.then(line).any(|r| r.check == c.check && r.heard != Heard::None);
    let come_to = own().filter(read).map(|c| c.check).max().unwrap_or_default();
    let touches = own().filter(|c| c.what == What::Touch);
    let from = touches.clone().map(|c| c.check).filter(|n| *n <= come_to).max().unwrap_or_default();
    touches.filter(|c| c.check >= from).collect()
}

/// Places of a touch check that were not read since a line, in their window and as before it or as expected; an
/// `nr` is no reading.
fn lacking(standing: &Standing, check: &Check, line: usize) -> Vec<String> {
    let mut lacking = Vec::new();
    for at in &check.cylinders {
        for asked in at.readings.iter().filter(|a| a.waits) {
            let own = || standing.of_check(check.check, at.cylinder).filter(|r| r.reading == asked.reading);
            let last = own().filter(|r| r.line > line && r.heard != Heard::None).last();
            let here =
                |r: &&Reading| (r.check, r.cylinder, r.reading) == (check.check, at.cylinder, asked.reading);
            let before = standing.then(line).filter(here).filter_map(|r| match r.heard {
                Heard::Figure { value, .. } => Some(value),
                _ => None,
            });
            let before = before.last();
            let as_before = |value: f64| {
                let near = |of: Option<f64>| of.is_some_and(|of| (value - of).abs() <= DATUM_MM);
                before.is_none() || near(before) || near(asked.expected)
            };
            let fits =
                |value: f64| matches!(lies_at(asked, value), Lies::Within | Lies::Open) && as_before(value);
            if !last.and_then(Reading::value).is_some_and(fits) {
                let bore = at.cylinder.map_or_else(|| "the deck".to_owned(), |c| format!("cylinder {c}"));
                lacking.push(format!("{} of {bore}", asked.of.words()));
            }
        }
    }
    lacking
}

/// The banks of a plan, each once.
fn all_banks(paper: &Paper) -> Vec<String> {
    let mut banks: Vec<String> = paper.checks.iter().map(|c| c.bank.clone()).collect();
    banks.sort_unstable();
    banks.dedup();
    banks
}

/// The bank that stood on the machine when the block was touched, and that of the bore that is named; every bank where
/// nothing says which.
fn banks(paper: &Paper, standing: &Standing, event: &Event) -> Vec<String> {
    let stood = standing.then(event.line).last();
    let stood = stood.and_then(|r| paper.checks.iter().find(|c| c.check == r.check));
    let of_bore = |c: &&Check| event.cylinder.is_some() && c.at(event.cylinder).is_some();
    let named = paper.checks.iter().find(of_bore);
    let mut banks: Vec<String> = stood.into_iter().chain(named).map(|c| c.bank.clone()).collect();
    banks.sort_unstable();
    banks.dedup();
    if banks.is_empty() { all_banks(paper) } else { banks }
}

/// The bore that is named, or every bank.
pub(super) fn concerned(paper: &Paper, cylinder: Option<u32>) -> Vec<Subject> {
    match cylinder.filter(|n| paper.cylinders.iter().any(|c| c.cylinder == *n)) {
        Some(cylinder) => vec![Subject::cylinder(cylinder)],
        None => all_banks(paper).iter().map(Subject::bank).collect(),
    }
}
