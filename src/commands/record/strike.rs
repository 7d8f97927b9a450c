//! A line taken back.

use borewright_planner::plan::sentence::Sentence;
use borewright_planner::read::fault::plain;
use borewright_planner::record::answer::Say;
use borewright_planner::record::as_cut::held_by;
use borewright_planner::record::{
    Entry, Fields, Log, Standing, Strike, Word, WorkFinding, is_named, noted, wants_a_name,
};

use super::fields::about;
use super::{Bench, answered, refused};
use crate::status::{Failure, Status};

/// Takes a line back; gives what to say, and where the work stands by its reason.
pub(super) fn strike(
    bench: &Bench<'_>,
    line: usize,
    (by, why): (&str, &str),
) -> Result<(String, Status), Failure> {
    if why.trim().is_empty() {
        return Err(refused("no reason".into(), "`--because` and why the line does not count"));
    }
    let added = bench.file.add(|log| {
        let target = log.entries.iter().find(|e| e.line == line);
        let target =
            target.ok_or_else(|| refused(format!("line {line}"), "a line of the record that counts"))?;
        let standing = bench.standing(log);
        if standing.strikes.iter().any(|s| s.of == line) {
            return Err(refused(format!("line {line}, struck before"), "a line of the record that counts"));
        }
        let grave = || {
            wants_a_name(target, bench.checks(), bench.units)
                || held_by(bench.job.as_ref(), &bench.paper, &standing, line)
        };
        if !is_named(by, why) && grave() {
            let found = format!("`{}` by `{}`", plain(why, 60), plain(by, 30));
            return Err(refused(
                found,
                "who strikes it (`--by`), and why (`--because`) in two words or more: it stopped or held the work",
            ));
        }
        strike_fields(bench, target, (by, why)).map(Some)
    })?;
    let log = added.unwrap_or_default();
    let mut text = format!("line {line} is struck and stays readable: {}\n", plain(why, 200));
    if let Some(struck) = log.entries.iter().find(|e| e.line == line) {
        text.push_str(&format!("  it says {}\n", said_of(struck)));
    }
    let standing = bench.standing(&log);
    let own = standing.strikes.iter().rfind(|s| s.of == line);
    let damage = own.and_then(|own| noted::of_strike(&standing, own));
    text.push_str(&counts_again(&log, &standing, own, line));
    let struck = log.entries.iter().find(|e| e.line == line);
    let field = |column: &str| struck.and_then(|e| e.fields.get(column).parse::<u32>().ok());
    let bank = bench.checks().iter().find(|c| Some(c.check) == field("check")).map(|c| c.bank.as_str());
    // What is of no cylinder stands as the whole job does.
    let held = match (bank, field("cylinder")) {
        (Some(bank), Some(cylinder)) => answered::held(bench, &standing, (Some(cylinder), Some(bank))),
        (_, cylinder) => answered::held_at(bench, &standing, cylinder),
    };
    Ok(taken_back(bench, text, damage, &held))
}

/// What is said where a line that takes another back is taken back itself: that one counts again.
fn counts_again(log: &Log, standing: &Standing, own: Option<&Strike>, line: usize) -> String {
    let Some(root) = own.map(|own| own.root).filter(|root| *root != line) else { return String::new() };
    let counts = standing.readings.iter().any(|r| r.line == root && r.struck.is_none())
        || standing.events.iter().any(|e| e.line == root && e.struck.is_none());
    let of = log.entries.iter().find(|e| e.line == root).filter(|_| counts);
    of.map(|of| format!("  line {root} COUNTS AGAIN: {}\n", said_of(of))).unwrap_or_default()
}

/// What is said of lines taken back, with what their reason tells and how the work stands without them. What is only still to be read
/// counts too: no reading that is right is answered here, and what was taken back may be what showed it.
pub(super) fn taken_back(
    bench: &Bench<'_>,
    mut text: String,
    damage: Option<Sentence>,
    held: &[WorkFinding],
) -> (String, Status) {
    let holds: Vec<Sentence> = damage.into_iter().chain(bench.stale.clone()).collect();
    for why in &holds {
        text.push_str(&format!("HOLD: {}\n", borewright_output::sentence_words(&bench.terminal, why)));
    }
    text.push_str(&borewright_output::stays_page(&bench.terminal, held));
    let say = if holds.is_empty() { Say::GoOn } else { Say::Hold };
    (text, say.stands(held).into())
}

/// What a line says: whoever mistyped its number sees that another line is struck.
fn said_of(entry: &Entry) -> String {
    let cell = |column: &str| plain(entry.fields.get(column), 60);
    let of = match entry.fields.get("cylinder") {
        "" => String::new(),
        _ => format!(", cylinder {}", cell("cylinder")),
    };
    let value = cell("value");
    match Word::of(entry.fields.get("reading")) {
        Some(what) => format!("{}{of}: {value}", what.word()),
        None => format!("CHECK {}{of}, reading {}: {value}", cell("check"), cell("reading")),
    }
}

/// The cells of a line that takes another back.
pub(super) fn strike_fields(
    bench: &Bench<'_>,
    target: &Entry,
    (by, why): (&str, &str),
) -> Result<Fields, Failure> {
    let mut fields = about(bench)?;
    for (column, text) in [
        ("check", target.fields.get("check")),
        ("cylinder", target.fields.get("cylinder")),
        ("reading", Word::Strike.word()),
        ("value", &format!("line {}", target.line)),
        ("note", why),
        ("by", by),
        ("of", target.fields.get("sum")),
    ] {
        fields.set(column, text);
    }
    Ok(fields)
}
