//! One line on the command line: a reading, a strike, or something that happened.

use std::time::{SystemTime, UNIX_EPOCH};

use borewright_planner::plan::Stage;
use borewright_planner::plan::check::{Asked, Check, Of, What};
use borewright_planner::read::fault::plain;
use borewright_planner::read::given::Scalar;
use borewright_planner::read::measure::length_mm;
use borewright_planner::record::answer::{self, Touched};
use borewright_planner::record::time::{is_written, written};
use borewright_planner::record::{CANDIDATE, Fields, Heard, Log, Standing, Word, hear, is_named};

use super::{Bench, words};
use crate::args::Format;
use crate::commands::print;
use crate::status::{Failure, Status};

/// What a line is taken for.
enum Line<'a> {
    Reading { check: u32, cylinder: Option<u32>, value: String, of: Option<Of> },
    Strike { line: usize },
    Event { what: Word, cylinder: Option<u32>, text: &'a [String] },
}

pub(super) fn run(bench: &Bench<'_>, said: &[String]) -> Result<Status, Failure> {
    match taken(said)? {
        Line::Reading { check, cylinder, value, of } => reading(bench, (check, cylinder), of, &value),
        Line::Strike { line } => {
            let why = bench.args.because.as_deref().unwrap_or_default();
            strike(bench, line, why).map(|text| (text, Status::Go)).and_then(said_so)
        }
        Line::Event { what, cylinder, text } => event(bench, what, cylinder, &text.join(" ")),
    }
}

fn said_so((text, status): (String, Status)) -> Result<Status, Failure> {
    print(text.as_bytes())?;
    Ok(status)
}

fn refused(found: String, expected: &'static str) -> Failure {
    Failure::Said { found, expected }
}

fn taken(said: &[String]) -> Result<Line<'_>, Failure> {
    const FORMS: &str = "CHECK CYLINDER VALUE, `strike LINE`, `sleeve NUMBER for CYLINDER`, or void, crack, tool, moved, note, release with words";
    let first = said.first().map(String::as_str).unwrap_or_default();
    let rest = said.get(1..).unwrap_or_default();
    match Word::of(first) {
        Some(Word::Strike) => {
            let line = rest.first().and_then(|l| l.parse().ok()).filter(|_| rest.len() == 1);
            let found =
                || refused(format!("`{}`", plain(&said.join(" "), 80)), "`strike` and the number of a line");
            Ok(Line::Strike { line: line.ok_or_else(found)? })
        }
        Some(what) => {
            // `void 3 …` is of cylinder 3; `sleeve S3 for 3` names it last.
            let first = rest.first().and_then(|c| c.parse().ok());
            let last = rest.last().and_then(|c| c.parse().ok());
            match (what, rest) {
                (Word::Sleeve, [number, preposition, _]) if preposition == "for" && last.is_some() => {
                    Ok(Line::Event { what, cylinder: last, text: std::slice::from_ref(number) })
                }
                (Word::Sleeve, _) | (_, []) => {
                    Err(refused(format!("`{}`", plain(&said.join(" "), 80)), FORMS))
                }
                _ if first.is_some() && rest.len() > 1 => {
                    Ok(Line::Event { what, cylinder: first, text: rest.get(1..).unwrap_or_default() })
                }
                _ => Ok(Line::Event { what, cylinder: None, text: rest }),
            }
        }
        None => {
            let numbers = first.parse().ok().zip(rest.first());
            let cylinder = |text: &str| match text {
                "-" => Some(None),
                text => text.parse().ok().map(Some),
            };
            let found = numbers.and_then(|(check, at)| Some((check, cylinder(at)?)));
            match (found, rest) {
                (Some((check, cylinder)), [_, kind, value @ ..])
                    if named(kind).is_some() && !value.is_empty() =>
                {
                    Ok(Line::Reading { check, cylinder, value: value.join(" "), of: named(kind) })
                }
                (Some((check, cylinder)), [_, value @ ..]) if !value.is_empty() => {
                    Ok(Line::Reading { check, cylinder, value: value.join(" "), of: None })
                }
                _ => Err(refused(format!("`{}`", plain(&said.join(" "), 80)), FORMS)),
            }
        }
    }
}

/// A reading that is named before its value: `set 89.762`, `x 46.012`.
fn named(word: &str) -> Option<Of> {
    match word {
        "set" => Some(Of::Set),
        "x" => Some(Of::X),
        "y" => Some(Of::Y),
        "ra" => Some(Of::Roughness),
        _ => None,
    }
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
        Some(at) if is_written(at) => at.clone(),
        Some(at) => {
            return Err(refused(
                format!("--at `{}`", plain(at, 40)),
                "an instant such as 2026-03-01T09:30:00Z",
            ));
        }
        None => written(SystemTime::now().duration_since(UNIX_EPOCH).map_or(0, |d| d.as_secs())),
    };
    fields.set("at", &at);
    fields.set("plan", &bench.paper.short());
    Ok(fields)
}

/// The cells of a reading.
pub(super) fn reading_fields(
    bench: &Bench<'_>,
    (check, cylinder, asked): (&Check, Option<u32>, &Asked),
    typed: &str,
    heard: Heard,
) -> Result<Fields, Failure> {
    let figure = |value: Option<f64>| value.map_or_else(String::new, words::figure);
    let mut fields = about(bench)?;
    fields.set("check", &check.check.to_string());
    fields.set("cylinder", &cylinder.map_or_else(String::new, |c| c.to_string()));
    fields.set("reading", &asked.reading.to_string());
    fields.set("value", typed);
    for (column, value) in [("expected", asked.expected), ("least", asked.least), ("most", asked.most)] {
        fields.set(column, &figure(value));
    }
    for (column, value) in [("depth", asked.depth), ("clock", asked.clock)] {
        if fields.get(column).is_empty() {
            fields.set(column, &figure(value));
        }
    }
    if let Heard::Figure { value, .. } = heard {
        fields.set("figure", &words::figure(value));
    }
    fields.set("of", &check.name());
    Ok(fields)
}

fn reading(
    bench: &Bench<'_>,
    (number, cylinder): (u32, Option<u32>),
    of: Option<Of>,
    typed: &str,
) -> Result<Status, Failure> {
    let log = bench.file.read()?;
    let standing = bench.standing(&log);
    let (check, asked) = which(bench, &standing, (number, cylinder), of)?;
    let heard = hear(typed, bench.units, asked).map_err(|e| {
        let help = e.help.map_or_else(String::new, |h| format!(" ({h})"));
        Failure::Heard { found: format!("`{}`", plain(typed, 60)), expected: format!("{}{help}", e.expected) }
    })?;
    let fields = reading_fields(bench, (check, cylinder, asked), typed, heard)?;
    let added = bench.file.add(|log| {
        let own = bench.args.again || bench.args.reading.is_some();
        let last = log.entries.iter().rev().find(|e| Word::of(e.fields.get("reading")).is_none());
        match last.filter(|last| !own && same(&last.fields, &fields)) {
            Some(last) => Err(Failure::Twice {
                line: last.line,
                by: last.fields.get("by").to_owned(),
                at: last.fields.get("at").to_owned(),
            }),
            None => Ok(Some(fields.clone())),
        }
    })?;
    let log = added.unwrap_or_default();
    let line = log.entries.last().map_or(0, |e| e.line);
    let log = pin(bench, log, check, cylinder)?;
    let standing = bench.standing(&log);
    let answer = words::answer(bench, &standing, (check, cylinder, asked), line);
    match bench.args.format {
        Format::Text => {
            words::told(&standing, &log);
            print(answer.text.as_bytes())?;
        }
        Format::Json => print(answer.json()?.as_bytes())?,
    }
    Ok(answer.status)
}

/// Writes down, once anything of a pocket is measured, where it is cut and for which sleeve: no later plan moves it or
/// gives the sleeve to another bore.
pub(super) fn pin(bench: &Bench<'_>, log: Log, check: &Check, cylinder: Option<u32>) -> Result<Log, Failure> {
    let cutting = check.stage <= Stage::Pocket && !matches!(check.what, What::Touch | What::Position);
    let Some(cylinder) = cylinder.filter(|_| cutting) else { return Ok(log) };
    let mut log = log;
    let planned = bench.paper.cylinders.iter().find(|c| c.cylinder == cylinder).and_then(|c| c.planned);
    if let Some(at) = planned {
        let place = format!("{:.6} {:.6}", at.x, at.y);
        let has = |standing: &Standing| {
            standing
                .events
                .iter()
                .any(|e| e.what == Word::Place && e.struck.is_none() && e.cylinder == Some(cylinder))
        };
        log = once(bench, log, (Word::Place, cylinder, &place, ""), has)?;
    }
    match bench.paper.sleeve_of(cylinder).filter(|_| check.stage == Stage::Pocket) {
        Some((_, Some(number))) => {
            let has = |s: &Standing| s.pinned(cylinder).is_some() || s.pinned_to(number).is_some();
            once(bench, log, (Word::Sleeve, cylinder, number, ""), has)
        }
        Some((name, None)) => {
            let has = |s: &Standing| s.pinned(cylinder).is_some() || s.candidate(cylinder).is_some();
            once(bench, log, (Word::Sleeve, cylinder, name, CANDIDATE), has)
        }
        None => Ok(log),
    }
}

/// Writes an event of the program's own down, unless it is there.
fn once(
    bench: &Bench<'_>,
    log: Log,
    (what, cylinder, value, of): (Word, u32, &str, &str),
    has: impl Fn(&Standing) -> bool,
) -> Result<Log, Failure> {
    let added = bench.file.add(|log| {
        if has(&bench.standing(log)) {
            return Ok(None);
        }
        let mut fields = about(bench)?;
        for (column, text) in [
            ("cylinder", cylinder.to_string().as_str()),
            ("reading", what.word()),
            ("value", value),
            ("note", "as planned when its pocket was cut"),
            ("of", of),
            ("depth", ""),
            ("clock", ""),
            ("temperature", ""),
            ("instrument", ""),
        ] {
            fields.set(column, text);
        }
        Ok(Some(fields))
    })?;
    Ok(added.unwrap_or(log))
}

/// Whether a line says what the last one says: a command given again because nobody saw its answer.
fn same(last: &Fields, new: &Fields) -> bool {
    ["check", "cylinder", "value", "by", "of"].iter().all(|c| last.get(c) == new.get(c))
}

/// The reading that is meant: the one named, else the first that nobody took.
fn which<'b>(
    bench: &'b Bench<'_>,
    standing: &Standing,
    (number, cylinder): (u32, Option<u32>),
    of: Option<Of>,
) -> Result<(&'b Check, &'b Asked), Failure> {
    let check = bench.checks().iter().find(|c| c.check == number).ok_or_else(|| {
        let most = bench.checks().last().map_or(0, |c| c.check);
        refused(format!("CHECK {number}, of a plan with checks 1 to {most}"), "a check of the plan")
    })?;
    let at = check.at(cylinder).ok_or_else(|| {
        refused(format!("CHECK {number} of {}", words::place(cylinder)), words::asks(check))
    })?;
    let args = bench.args;
    let by_place = |a: &&Asked| {
        let is = |given: &Option<String>, at: Option<f64>| {
            given
                .as_deref()
                .is_none_or(|g| g.parse::<f64>().ok().zip(at).is_some_and(|(g, at)| (g - at).abs() < 0.05))
        };
        let kind = of.map_or(a.of != Of::Set, |of| a.of == of);
        kind && is(&args.depth, a.depth) && is(&args.clock, a.clock)
    };
    let named = args.reading.map(|n| at.readings.iter().find(|a| a.reading == n));
    if let Some(found) = named {
        let most = at.readings.len();
        return found.map(|asked| (check, asked)).ok_or_else(|| {
            refused(
                format!("reading {} of {most}", args.reading.unwrap_or_default()),
                "a reading of the check",
            )
        });
    }
    let places: Vec<&Asked> = at.readings.iter().filter(by_place).collect();
    let free =
        places.iter().find(|a| (a.waits || of.is_some()) && !standing.has(number, cylinder, a.reading));
    let asked = free.or_else(|| places.first().filter(|_| args.again || places.len() == 1));
    asked.map(|asked| (check, *asked)).ok_or_else(|| {
        let all = if places.is_empty() {
            "a depth and clock that are none of the check's".to_owned()
        } else {
            format!("all {} readings of CHECK {number} taken", places.len())
        };
        refused(all, "`--reading N` for which of them it is once more")
    })
}

/// A void, a crack or a block that was touched.
fn is_grave(fields: &Fields) -> bool {
    let word = Word::of(fields.get("reading"));
    matches!(word, Some(Word::Void | Word::Crack | Word::Moved))
}

/// Takes a line back; gives what to say.
pub(super) fn strike(bench: &Bench<'_>, line: usize, why: &str) -> Result<String, Failure> {
    if why.trim().is_empty() {
        return Err(refused("no reason".into(), "`--because` and why the line does not count"));
    }
    bench.file.add(|log| {
        let target = log.entries.iter().find(|e| e.line == line);
        let target =
            target.ok_or_else(|| refused(format!("line {line}"), "a line of the record that counts"))?;
        if bench.standing(log).strikes.iter().any(|s| s.of == line) {
            return Err(refused(format!("line {line}, struck before"), "a line of the record that counts"));
        }
        let by = bench.args.by.as_deref().unwrap_or_default();
        if is_grave(&target.fields) && !is_named(by, why) {
            let found = format!("`{}` by `{}`", plain(why, 60), plain(by, 30));
            return Err(refused(
                found,
                "who strikes it (`--by`), and why (`--because`) in two words or more: it stopped or held the work",
            ));
        }
        let mut fields = about(bench)?;
        for (column, text) in [
            ("check", target.fields.get("check")),
            ("cylinder", target.fields.get("cylinder")),
            ("reading", Word::Strike.word()),
            ("value", &format!("line {line}")),
            ("note", why),
            ("of", target.fields.get("sum")),
        ] {
            fields.set(column, text);
        }
        Ok(Some(fields))
    })?;
    Ok(format!("line {line} is struck and stays readable: {}\n", plain(why, 200)))
}

fn event(bench: &Bench<'_>, what: Word, cylinder: Option<u32>, text: &str) -> Result<Status, Failure> {
    let known = bench.checks().iter().flat_map(|c| &c.cylinders).any(|c| c.cylinder == cylinder);
    if cylinder.is_some() && !known {
        return Err(refused(words::place(cylinder), "a cylinder of the plan"));
    }
    if what == Word::Sleeve {
        measured(bench, text)?;
    }
    let by = bench.args.by.as_deref().unwrap_or_default();
    if what == Word::Release && !is_named(by, text) {
        let found = format!("`release {}` by `{}`", plain(text, 60), plain(by, 30));
        return Err(refused(found, "who lets it through (`--by`), and why, in two words or more"));
    }
    let length = |given: &Option<String>| -> Result<Option<f64>, Failure> {
        let Some(text) = given else { return Ok(None) };
        let mm = length_mm(&Scalar::Text(text.clone()), bench.units);
        mm.map(Some).map_err(|e| refused(format!("`{}`", plain(text, 30)), e.expected))
    };
    let place = Touched { depth_mm: length(&bench.args.depth)?, size_mm: length(&bench.args.size)? };
    let mut fields = about(bench)?;
    fields.set("cylinder", &cylinder.map_or_else(String::new, |c| c.to_string()));
    fields.set("reading", what.word());
    fields.set("value", text);
    fields.set("figure", &place.size_mm.map_or_else(String::new, words::figure));
    let log: Log = bench.file.add(|_| Ok(Some(fields.clone())))?.unwrap_or_default();
    let line = log.entries.last().map_or(0, |e| e.line);
    let standing = bench.standing(&log);
    let answer = answer::event(bench.job.as_ref(), &bench.paper, &standing, (what, cylinder), place);
    let answer = words::event((what, cylinder), text, line, &answer);
    match bench.args.format {
        Format::Text => print(answer.text.as_bytes())?,
        Format::Json => print(answer.json()?.as_bytes())?,
    }
    Ok(answer.status)
}

/// A sleeve that is pinned is one of those measured, where any were.
fn measured(bench: &Bench<'_>, number: &str) -> Result<(), Failure> {
    let measured = bench.job.as_ref().map(|j| j.measured.as_slice()).unwrap_or_default();
    if measured.is_empty() || measured.iter().any(|m| m.number == number) {
        return Ok(());
    }
    let all: Vec<&str> = measured.iter().map(|m| m.number.as_str()).collect();
    let found = format!("sleeve `{}`, of those measured: {}", plain(number, 30), plain(&all.join(", "), 200));
    Err(refused(found, "the number of a measured sleeve"))
}
