//! One line on the command line: a reading, a strike, or something that happened.

use borewright_output::{Happened, Where, happened_json, happened_page, place_words};
use borewright_planner::plan::check::{Asked, Check, Of, What};
use borewright_planner::plan::cylinder_words;
use borewright_planner::plan::sentence::Sentence;
use borewright_planner::read::fault::plain;
use borewright_planner::record::answer::{self, Touched};
use borewright_planner::record::{
    Fields, Heard, Log, Standing, Word, event, is_of_some, lets_through, named_bores, named_line,
    release_words, speaks_of_lines,
};

use super::anew::anew;
use super::answered::{self, held_at, status_with};
use super::fields::{about, figure, reading_fields};
use super::pin::pin;
use super::spoken::{Line, taken};
use super::strike::strike;
use super::{Bench, check_of, refused};
use crate::args::Format;
use crate::commands::print;
use crate::status::{self, Failure, Status};

pub(super) fn run(bench: &Bench<'_>, said: &[String]) -> Result<Status, Failure> {
    match taken(said)? {
        Line::Reading { check, cylinder, value, of } => reading(bench, (check, cylinder), of, &value),
        Line::Strike { line } => {
            let why = bench.args.because.as_deref().unwrap_or_default();
            let by = bench.args.by.as_deref().unwrap_or_default();
            strike(bench, line, (by, why)).and_then(said_so)
        }
        Line::Anew { check } => anew(bench, check).and_then(said_so),
        Line::Event { what, cylinder, text } => event(bench, what, cylinder, &text.join(" ")),
    }
}

fn said_so((text, status): (String, Status)) -> Result<Status, Failure> {
    print(text.as_bytes())?;
    Ok(status)
}

/// Records one reading as it was typed, and prints how it stands against the plan.
fn reading(
    bench: &Bench<'_>,
    (number, cylinder): (u32, Option<u32>),
    of: Option<Of>,
    typed: &str,
) -> Result<Status, Failure> {
    let log = bench.file.read()?;
    let standing = bench.standing(&log);
    let (check, asked) = which(bench, &standing, (number, cylinder), of)?;
    let heard = bench.hearing.hear_alone(typed, asked).map_err(|e| Failure::Heard {
        found: format!("`{}`", plain(typed, 60)),
        expected: format!(
            "{}; taken as {}",
            borewright_output::unheard_words(&bench.terminal, &e),
            taken_for(bench, &standing, (check, cylinder, asked), typed)
        ),
    })?;
    let fields = reading_fields(bench, (check, cylinder, asked), (typed, heard, bench.hearing))?;
    let added = bench.file.add(|log| {
        // Somebody may have filled this place since it was chosen.
        let (_, now) = which(bench, &bench.standing(log), (number, cylinder), of)?;
        if now.reading != asked.reading {
            let found = format!("CHECK {number} of {}, written meanwhile by another", place_words(cylinder));
            return Err(refused(found, "the same once more, where it is meant for the next place"));
        }
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
    if bench.args.printed.format == Format::Text {
        bench.remark(&standing, &log);
    }
    answered::print_answer(bench, &standing, (check, cylinder, asked), line)
}

/// Which box a value was taken for that is none of it; and where it is one of a box before, how to take that anew.
fn taken_for(bench: &Bench<'_>, standing: &Standing, at: Where<'_>, typed: &str) -> String {
    let (check, cylinder, asked) = at;
    let mut text = borewright_output::box_words(&bench.terminal, at);
    let before = standing.of_check(check.check, cylinder).filter(|r| r.reading != asked.reading);
    let meant = before.last().and_then(|r| {
        let own = check.at(cylinder)?.readings.iter().find(|a| a.reading == r.reading)?;
        let is_heard = matches!(bench.hearing.hear(typed, own), Ok(Heard::Figure { .. }));
        is_heard.then_some((r.line, own))
    });
    if let Some((line, own)) = meant {
        let job = status::shown(&bench.args.job.path);
        text.push_str(&format!(
            "; {} is line {line}: to read it anew first `borewright record {job} strike {line} --because …`",
            own.of.words()
        ));
    }
    text
}

/// Whether a line says of a place what the last one says of it: a command given again because nobody saw its answer. Of another
/// place it is another reading, however alike: a round bore reads the same all round.
fn same(last: &Fields, new: &Fields) -> bool {
    ["check", "cylinder", "reading", "value", "by", "of"].iter().all(|c| last.get(c) == new.get(c))
}

/// What a check is of, as an expectation.
fn asks(check: &Check) -> &'static str {
    if check.cylinders.iter().any(|c| c.cylinder.is_none()) {
        "a cylinder of that check, or `-` for what is of the whole bank"
    } else {
        "a cylinder of that check"
    }
}

/// The reading that is meant: the one named, else the first that nobody took.
fn which<'b>(
    bench: &'b Bench<'_>,
    standing: &Standing,
    (number, cylinder): (u32, Option<u32>),
    of: Option<Of>,
) -> Result<(&'b Check, &'b Asked), Failure> {
    let check = check_of(bench, number)?;
    let at = check
        .at(cylinder)
        .ok_or_else(|| refused(format!("CHECK {number} of {}", place_words(cylinder)), asks(check)))?;
    let args = bench.args;
    let by_place = |a: &&Asked| {
        let is = |given: &Option<String>, at: Option<f64>| {
            given
                .as_deref()
                .is_none_or(|g| g.parse::<f64>().ok().zip(at).is_some_and(|(g, at)| (g - at).abs() < 0.05))
        };
        let kind = of.map_or(!a.of.wants_its_name(), |of| a.of == of);
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
        let expected = match check.what {
            What::Touch => {
                "`--reading N` for which of them it is once more; where the datum was picked up anew, first `anew CHECK --because WHY --by WHO`"
            }
            _ => "`--reading N` for which of them it is once more",
        };
        refused(all, expected)
    })
}

/// Asks that a release of the job leaves no bore out, and that one of a bore speaks of that one.
///
/// # Errors
/// One that speaks of others.
fn is_of_its_own(bench: &Bench<'_>, cylinder: Option<u32>, text: &str) -> Result<(), Failure> {
    let told = format!("release `{}`", plain(text, 60));
    let Some(own) = cylinder else {
        return if is_of_some(text) {
            Err(refused(
                told,
                "`release N WHY` for each cylinder that is let through: this one leaves some out",
            ))
        } else {
            Ok(())
        };
    };
    let all = bench.checks().iter().flat_map(|c| &c.cylinders).filter_map(|c| c.cylinder).collect();
    let named = named_bores(text, &[("", all)]);
    if named.is_empty() || named.contains(&own) {
        return Ok(());
    }
    let named: Vec<u32> = named.into_iter().collect();
    Err(refused(
        format!("{told} of {}, which speaks of {}", place_words(cylinder), cylinder_words(&named)),
        "a reason that is of the cylinder it lets through",
    ))
}

/// Records what happened, of the whole job or of a cylinder, and prints what follows from it.
fn event(bench: &Bench<'_>, what: Word, cylinder: Option<u32>, text: &str) -> Result<Status, Failure> {
    let known = bench.checks().iter().flat_map(|c| &c.cylinders).any(|c| c.cylinder == cylinder);
    if cylinder.is_some() && !known {
        return Err(refused(place_words(cylinder), "a cylinder of the plan"));
    }
    if what == Word::Sleeve {
        measured(bench, text)?;
    }
    let by = bench.args.by.as_deref().unwrap_or_default();
    if what == Word::Release && !lets_through(by, text) {
        let found = format!("`release {}` by `{}`", plain(text, 60), plain(by, 30));
        return Err(refused(
            found,
            "who lets it through (`--by`), and why, in two words or more that do not say to wait or to ask",
        ));
    }
    if what == Word::Release {
        is_of_its_own(bench, cylinder, text)?;
    }
    let no_place = |what: &str, (found, expected): (String, Sentence)| Failure::Heard {
        found: format!("{what} {found}"),
        expected: borewright_output::sentence_words(&bench.terminal, &expected),
    };
    if what == Word::Release {
        let of_lines = if cylinder.is_none() { speaks_of_lines(text) } else { named_line(text).is_some() };
        if of_lines {
            return Err(refused(
                format!("release `{}`, which speaks of a line", plain(text, 60)),
                "`release \"line N: WHY\"` for each line by itself, without a cylinder; else a reason that names no line",
            ));
        }
    }
    let typed = [&bench.args.depth, &bench.args.size].map(Option::as_deref);
    let place = Touched::typed((bench.job.as_ref(), &bench.paper), bench.units, typed)
        .map_err(|why| no_place("a place", why))?;
    bench
        .args
        .clock
        .as_deref()
        .map_or(Ok(()), answer::clock_typed)
        .map_err(|why| no_place("a clock", why))?;
    let mut fields = about(bench)?;
    fields.set("cylinder", &cylinder.map_or_else(String::new, |c| c.to_string()));
    fields.set("reading", what.word());
    fields.set("value", text);
    // In mm, as every figure of the record, whatever was typed.
    fields.set("depth", &place.depth_mm.map_or_else(String::new, figure));
    fields.set("figure", &place.size_mm.map_or_else(String::new, figure));
    let log: Log = bench
        .file
        .add(|log| {
            let mut fields = fields.clone();
            if what == Word::Release {
                fields.set("of", &release_words(&bench.standing(log), text, &bench.paper.made_from()));
            }
            Ok(Some(fields))
        })?
        .unwrap_or_default();
    let line = log.entries.last().map_or(0, |e| e.line);
    let standing = bench.standing(&log);
    let answer =
        bench.by_plan(event::answer(bench.job.as_ref(), &bench.paper, &standing, (what, cylinder), place));
    let held = held_at(bench, &standing, cylinder);
    let happened = Happened { line, what, cylinder, text, answer: &answer, held: &held };
    match bench.args.printed.format {
        Format::Text => print(happened_page(&bench.terminal, &happened).as_bytes())?,
        Format::Json => print(&happened_json(&happened)?)?,
    }
    Ok(status_with(answer.say, &held))
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
