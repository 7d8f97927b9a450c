//! The cells of a line: who, when, with what, what was asked.

use std::time::{SystemTime, UNIX_EPOCH};

use borewright_planner::plan::check::{Asked, Check};
use borewright_planner::read::fault::plain;
use borewright_planner::record::time::{self, written};
use borewright_planner::record::{Fields, Heard, Hearing, elsewhere};

use super::{Bench, refused};
use crate::status::Failure;

/// A figure with no more digits than it has, at most six.
pub(super) fn figure(value: f64) -> String {
    let text = format!("{value:.6}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

/// Who, when and with what, as given.
pub(super) fn about(bench: &Bench<'_>) -> Result<Fields, Failure> {
    let args = bench.args;
    let mut fields = Fields::default();
    let given = [
        ("by", &args.by),
        ("instrument", &args.instrument),
        ("temperature", &args.temperature),
        ("note", &args.note),
        ("depth", &args.depth),
        ("clock", &args.clock),
    ];
    for (column, value) in given {
        fields.set(column, value.as_deref().unwrap_or_default());
    }
    let at = match &args.at {
        Some(at) => moment(at)?,
        None => written(now()),
    };
    fields.set("at", &at);
    fields.set("plan", &bench.paper.short());
    Ok(fields)
}

/// Seconds since the beginning of 1970 UTC, by the clock.
fn now() -> u64 {
    SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs())
}

/// An instant as `--at` gives it.
pub(super) fn moment(at: &str) -> Result<String, Failure> {
    time::given(at, now()).map_err(|expected| refused(format!("--at `{}`", plain(at, 40)), expected))
}

/// Refuses a reading that says it was taken elsewhere than where it is asked.
fn at_its_place(bench: &Bench<'_>, asked: &Asked) -> Result<(), Failure> {
    let [depth, clock] =
        [&bench.args.depth, &bench.args.clock].map(|text| text.as_deref().unwrap_or_default());
    let Some(expected) = elsewhere(asked, [depth, clock], bench.units) else { return Ok(()) };
    let told = [("depth", depth), ("clock", clock)].into_iter().filter(|(_, text)| !text.is_empty());
    let told: Vec<String> = told.map(|(word, text)| format!("--{word} `{}`", plain(text, 30))).collect();
    let expected = borewright_output::sentence_words(&bench.terminal, &expected);
    Err(Failure::Heard { found: told.join(" "), expected })
}

/// The cells of a reading.
pub(super) fn reading_fields(
    bench: &Bench<'_>,
    (check, cylinder, asked): (&Check, Option<u32>, &Asked),
    (typed, heard, hearing): (&str, Heard, Hearing),
) -> Result<Fields, Failure> {
    let maybe = |value: Option<f64>| value.map_or_else(String::new, figure);
    at_its_place(bench, asked)?;
    let mut fields = about(bench)?;
    fields.set("check", &check.check.to_string());
    fields.set("cylinder", &cylinder.map_or_else(String::new, |c| c.to_string()));
    fields.set("reading", &asked.reading.to_string());
    fields.set("value", &hearing.written(typed, asked, heard));
    for (column, value) in [("expected", asked.expected), ("least", asked.least), ("most", asked.most)] {
        fields.set(column, &maybe(value));
    }
    for (column, value) in [("depth", asked.depth), ("clock", asked.clock)] {
        if fields.get(column).is_empty() {
            fields.set(column, &maybe(value));
        }
    }
    if let Heard::Figure { value, .. } = heard {
        fields.set("figure", &figure(value));
    }
    fields.set("of", &check.name());
    Ok(fields)
}
