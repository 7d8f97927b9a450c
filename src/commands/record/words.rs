//! What is said to whoever records.

use borewright_output::wrapped;
use borewright_planner::plan::check::{Asked, Check};
use borewright_planner::read::fault::plain;
use borewright_planner::record::answer::{self, Say};
use borewright_planner::record::{As, Heard, Log, Standing, Word};
use serde_json::json;

use super::Bench;
use crate::status::{self, Failure, Status};

/// A figure with no more digits than it has, at most six.
pub(super) fn figure(value: f64) -> String {
    let text = format!("{value:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// "cylinder 3" or "the bank".
pub(super) fn place(cylinder: Option<u32>) -> String {
    cylinder.map_or_else(|| "the bank".to_owned(), |c| format!("cylinder {c}"))
}

/// What a check is of, as an expectation.
pub(super) fn asks(check: &Check) -> &'static str {
    if check.cylinders.iter().any(|c| c.cylinder.is_none()) {
        "a cylinder of that check, or `-` for what is of the whole bank"
    } else {
        "a cylinder of that check"
    }
}

pub(super) fn changed(files: &[String]) -> String {
    let names: Vec<String> = files.iter().map(|f| plain(f, 60)).collect();
    format!("changed since this plan was made: {}; plan again before the next cut", names.join(", "))
}

/// What of the file must be told.
pub(super) fn told(standing: &Standing, log: &Log) {
    const SHOWN: usize = 8;
    let mut lines: Vec<String> = standing
        .told
        .iter()
        .take(SHOWN)
        .map(|t| format!("readings/cut.csv:{}: {}", t.line, plain(&t.text, 200)))
        .collect();
    if standing.told.len() > SHOWN {
        lines.push(format!("… and {} more of {} lines", standing.told.len() - SHOWN, log.entries.len()));
    }
    status::remark(&lines);
}

/// A figure of a reading with its unit.
fn with_unit(asked: &Asked, value: f64) -> String {
    match asked.unit.as_str() {
        "mm" => format!("{value:.3} mm"),
        "um" => format!("{value:.2} um"),
        unit => format!("{value:.0} {unit}"),
    }
}

/// "expected 88.570 mm, 88.564 to 88.576".
pub(super) fn window(asked: &Asked) -> String {
    let decimals = usize::from(asked.unit == "mm") * 3;
    let bound = |v: f64| format!("{v:.decimals$}");
    let expected = asked.expected.map(|e| format!("expected {}", with_unit(asked, e)));
    let window = match (asked.least, asked.most) {
        (Some(least), Some(most)) => Some(format!("{} to {}", bound(least), bound(most))),
        (None, Some(most)) => Some(format!("at most {}", bound(most))),
        (Some(least), None) => Some(format!("at least {}", bound(least))),
        (None, None) => None,
    };
    expected.into_iter().chain(window).collect::<Vec<_>>().join(", ")
}

/// What a reading is: "CHECK 7, cylinder 3, upper register: diameter at depth 10.5, clock 90".
pub(super) fn named((check, cylinder, asked): (&Check, Option<u32>, &Asked)) -> String {
    let at = asked.place();
    let at = if at.is_empty() { String::new() } else { format!(" at {at}") };
    format!(
        "CHECK {}, {}, {}: {}{at}",
        check.check,
        place(cylinder),
        plain(&check.feature, 40),
        asked.of.words()
    )
}

/// What is said of a reading once it is on the disk.
pub(super) struct Answer {
    pub(super) text: String,
    pub(super) status: Status,
    json: serde_json::Value,
}

impl Answer {
    pub(super) fn json(&self) -> Result<String, Failure> {
        let text = serde_json::to_string_pretty(&self.json).map_err(std::io::Error::other)?;
        Ok(format!("{text}\n"))
    }
}

pub(super) fn answer(
    bench: &Bench<'_>,
    standing: &Standing,
    what: (&Check, Option<u32>, &Asked),
    line: usize,
) -> Answer {
    let (check, cylinder, asked) = what;
    let last = standing.of_check(check.check, cylinder).filter(|r| r.reading == asked.reading).last();
    let heard = last.map_or(Heard::None, |r| r.heard);
    let answer = answer::answer(bench.job.as_ref(), &bench.paper, standing, what);
    let said = match heard {
        Heard::Figure { value, taken } => {
            let off = asked.expected.map_or_else(String::new, |e| format!(", {:+.3}", value - e));
            let guess = if taken == As::LastDigits { " (front digits as expected)" } else { "" };
            format!("{}{off}{guess}", with_unit(asked, value))
        }
        Heard::Look(true) => "as asked".to_owned(),
        Heard::Look(false) => "not as asked".to_owned(),
        Heard::None => "no reading".to_owned(),
    };
    let to_come = || standing.to_come(bench.checks());
    let here = to_come().filter(|(c, at, _)| c.check == check.check && *at == cylinder).count();
    let all = to_come().count();
    let mut text = wrapped(&format!("line {line}:"), &named(what), 2);
    let window = window(asked);
    let window = if window.is_empty() { window } else { format!(" ({window})") };
    text.push_str(&wrapped("  ", &format!("{said}{window}"), 4));
    text.push_str(&advice(&answer));
    text.push_str(&format!("  to come: {here} here, {all} in all\n"));
    let figure = if let Heard::Figure { value, .. } = heard { Some(value) } else { None };
    let json = json!({
        "line": line, "check": check.check, "cylinder": cylinder, "reading": asked.reading,
        "feature": check.feature, "of": asked.of, "depth": asked.depth, "clock": asked.clock,
        "figure": figure, "unit": asked.unit, "expected": asked.expected, "least": asked.least, "most": asked.most,
        "answer": answer, "to_come": { "here": here, "all": all },
    });
    Answer { text, status: status_of(answer.say), json }
}

fn status_of(say: Say) -> Status {
    match say {
        Say::GoOn => Status::Go,
        Say::Again | Say::Hold => Status::Hold,
        Say::Stop => Status::Stop,
    }
}

/// What is said, why, what can still be done, and the head.
fn advice(answer: &answer::Answer) -> String {
    let why = if answer.why.is_empty() { String::new() } else { format!(": {}", answer.why) };
    let mut text = wrapped("  ", &format!("{}{why}", answer.say.words()), 4);
    if !answer.ways.is_empty() {
        text.push_str("  what can still be done, best first:\n");
    }
    for (way, number) in answer.ways.iter().zip(1..) {
        text.push_str(&wrapped(&format!("   {number}"), &way.text, 5));
    }
    if let Some(head) = &answer.head {
        text.push_str(&wrapped("  head:", &head.sentence(), 4));
    }
    text
}

/// What is said of something that happened.
pub(super) fn event(
    (what, cylinder): (Word, Option<u32>),
    text: &str,
    line: usize,
    answer: &answer::Answer,
) -> Answer {
    let at = cylinder.map_or_else(String::new, |c| format!(", cylinder {c}"));
    let mut said = wrapped(&format!("line {line}: {}{at}:", what.word()), text, 2);
    said.push_str(&advice(answer));
    let json = json!({ "line": line, "event": what.word(), "cylinder": cylinder, "answer": answer });
    Answer { text: said, status: status_of(answer.say), json }
}
