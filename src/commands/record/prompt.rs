//! The prompt: reading by reading in the order of work, digits and Enter alone.

use std::io::{BufRead, Write};
use std::time::{Duration, Instant};

use borewright_output::{head_question, question, sentence_words, unheard_words};
use borewright_planner::plan::check::{Asked, Check, Of};
use borewright_planner::read::fault::plain;
use borewright_planner::record::answer;
use borewright_planner::record::{Heard, Standing, unit_said};

use super::answered::{answer_to, print_answer};
use super::fields::reading_fields;
use super::pin::pin;
use super::strike::strike;
use super::typed::{Line, Typed};
use super::{Bench, check_of, refused};
use crate::args::{Format, RecordArgs};
use crate::commands::print;
use crate::status::{Failure, Status};

/// Reasons for a strike, by number.
const REASONS: [&str; 4] =
    ["typed wrong", "gauge not set", "dirt or chip in the way", "read at the wrong place"];

const HELP: &str = "\
value and Enter; Enter alone: later; nr: no reading;
1 or 0, where it is looked at: as asked or not;
`in` or `mm` alone: the unit of what follows, as it then stands before >;
/ and Enter: take the last line back; Ctrl-D (Windows: Ctrl-Z, Enter): stop.
Every line is on the disk before it is answered.
";

/// The same figure again so soon may have been sent twice, by a scanner or a key that bounces. Common practice, no source.
const TWICE: Duration = Duration::from_secs(1);
/// Shorter figures are typed again within that: `0`, `+0`.
const LEAST_FIGURE: usize = 3;

/// A place in the plan by numbers.
type Key = (u32, Option<u32>, u32);

/// Asks for what is to come; of one check alone where a filled card is typed in: its boxes row by row, as the eye goes.
pub(super) fn run(bench: Bench<'_>, only: Option<u32>) -> Result<Status, Failure> {
    if bench.args.printed.format == Format::Json {
        return Err(refused(
            "--format json, and no reading".into(),
            "a line to write down (`record JOB 7 3 88.65 --format json`): asking for one after the other is for people",
        ));
    }
    if let Some(number) = only {
        check_of(&bench, number)?;
    }
    let mut input = std::io::stdin().lock();
    let mut typing = Typed::new(&mut input);
    print(HELP.as_bytes())?;
    let log = bench.file.read()?;
    bench.remark(&bench.standing(&log), &log);
    let mut sitting =
        Sitting { bench, only, later: Vec::new(), last_line: None, before: None, worst: Status::Go };
    while let Some((key, line)) = sitting.next(&mut typing)? {
        let typed = line.text.trim().to_owned();
        // A prompt stands open for hours, and the plan is made anew elsewhere.
        if !typed.is_empty() && renew(&mut sitting.bench)? {
            typing.refuse();
            print(format!("  `{}` is not written down: it is asked anew\n", plain(&typed, 40)).as_bytes())?;
            continue;
        }
        match typed.as_str() {
            // A key that bounces sends a blank line behind what was taken: it puts nothing off.
            "" if line.at_once && sitting.before.take().is_some() => typing.refuse(),
            "" => {
                typing.put_off();
                sitting.later.push(key);
            }
            "/" => sitting.last_line = take_back(&sitting.bench, &mut typing, sitting.last_line)?,
            word => match unit_said(word) {
                Some(said) => {
                    sitting.bench.say_units(said);
                    let text = format!("  from here on figures without a unit are in {}\n", said.name());
                    print(text.as_bytes())?;
                }
                None if sitting.hear(key, word, &line)? => {}
                None => typing.refuse(),
            },
        }
    }
    let left = if typing.passed_over() { Status::Hold } else { Status::Go };
    Ok(worse(sitting.worst, left))
}

/// One sitting at the prompt.
struct Sitting<'a> {
    bench: Bench<'a>,
    /// The one check that is asked for; all where none is named.
    only: Option<u32>,
    /// Places that were put off.
    later: Vec<Key>,
    /// The last line that was written and not taken back.
    last_line: Option<usize>,
    /// What was written last, and when it was read; `None` once it was asked whether it was sent twice.
    before: Option<(String, Instant)>,
    /// The worst that a reading ended in.
    worst: Status,
}

impl Sitting<'_> {
    /// Asks for the place that comes next: it, and what was typed; `None` at the end of input, or where nothing is to come.
    fn next(&mut self, typing: &mut Typed<'_, impl BufRead>) -> Result<Option<(Key, Line)>, Failure> {
        renew(&mut self.bench)?;
        let bench = &self.bench;
        let standing = bench.standing(&bench.file.read()?);
        let Some(key) = self.to_come(&standing).find(|key| !self.later.contains(key)) else {
            print(self.left(&standing).as_bytes())?;
            return Ok(None);
        };
        let Some((check, asked)) = bench.asked(key.0, key.1, key.2) else { return Ok(None) };
        match set_head(bench, &standing, typing, (check, key.1))? {
            Head::Set(written) => {
                if let Some((line, status)) = written {
                    (self.last_line, self.worst) = (Some(line), worse(self.worst, status));
                }
            }
            Head::Ended => return Ok(None),
        }
        ask(bench, &standing, (check, key.1, asked))?;
        let Some(line) = typing.next()? else {
            print(b"\n")?;
            return Ok(None);
        };
        // Half a line before the end of input was never ended by Enter: it is not believed.
        if !line.text.ends_with('\n') {
            let read = plain(line.text.trim(), 40);
            print(format!("\n`{read}` was not ended with Enter and is not written down\n").as_bytes())?;
            return Ok(None);
        }
        Ok(Some((key, line)))
    }

    /// Places that are to come and asked for, in the order of work.
    fn to_come<'s>(&'s self, standing: &'s Standing) -> impl Iterator<Item = Key> + 's {
        let all = standing.to_come(self.bench.checks());
        all.map(|(check, cylinder, asked)| (check.check, cylinder, asked.reading))
            .filter(|key| self.only.is_none_or(|only| only == key.0))
    }

    /// What is left once nothing is asked any more.
    fn left(&self, standing: &Standing) -> String {
        match self.to_come(standing).count() {
            0 if self.only.is_some() => "nothing is to come of this check\n".to_owned(),
            0 => "nothing is to come: every reading of this plan is written down\n".to_owned(),
            left => format!("{left} readings were put off; they are asked for next time\n"),
        }
    }

    /// Writes down what was typed at a place, and answers it; what cannot be heard, what was sent twice, and what another wrote there
    /// meanwhile, is told. Whether it was written down.
    fn hear(&mut self, key: Key, typed: &str, line: &Line) -> Result<bool, Failure> {
        let bench = &self.bench;
        let Some((check, asked)) = bench.asked(key.0, key.1, key.2) else { return Ok(false) };
        let heard = match bench.hearing.hear_at_prompt(typed, asked) {
            Ok(heard) => heard,
            Err(unreadable) => {
                let expected = unheard_words(&bench.terminal, &unreadable);
                let text = format!("  found `{}`, expected {expected}; not written down\n", plain(typed, 40));
                return print(text.as_bytes()).map(|()| false);
            }
        };
        let is_twice = |(before, at): &(String, Instant)| {
            before == typed && (line.at_once || line.at.duration_since(*at) < TWICE)
        };
        let is_figure = matches!(heard, Heard::Figure { .. }) && typed.len() >= LEAST_FIGURE;
        if is_figure && self.before.take_if(|before| is_twice(before)).is_some() {
            let text = format!(
                "  `{}` again within a second: was it sent twice? It is not written down; where it is this place's too, type it \
                 once more\n",
                plain(typed, 40)
            );
            return print(text.as_bytes()).map(|()| false);
        }
        let what = (check, key.1, asked);
        let fields = reading_fields(bench, what, (typed, heard, bench.hearing))?;
        let added = bench.file.add(|log| {
            // Somebody else may have answered while this one was asked.
            let now = bench.standing(log);
            let other = now.of_check(key.0, key.1).find(|r| r.reading == key.2);
            Ok(other.is_none().then(|| fields.clone()))
        })?;
        let Some(log) = added else { return print(meanwhile(bench, key)?.as_bytes()).map(|()| false) };
        self.before = Some((typed.to_owned(), line.at));
        self.last_line = log.entries.last().map(|e| e.line);
        let log = pin(bench, log, check, key.1)?;
        let standing = bench.standing(&log);
        let status = print_answer(bench, &standing, what, self.last_line.unwrap_or_default())?;
        self.worst = worse(self.worst, status);
        Ok(true)
    }
}

/// What is said where another answered what was asked here.
fn meanwhile(bench: &Bench<'_>, key: Key) -> Result<String, Failure> {
    let standing = bench.standing(&bench.file.read()?);
    let other = standing.of_check(key.0, key.1).find(|r| r.reading == key.2);
    let (by, said) = other.map_or(("", ""), |r| (r.fields.get("by"), &r.typed));
    Ok(format!(
        "  meanwhile {} wrote `{}` here: yours is not written down; for a second reading: record JOB {} {} VALUE --reading {}\n",
        if by.is_empty() { "somebody" } else { by },
        plain(said, 40),
        key.0,
        key.1.map_or_else(|| "-".to_owned(), |c| c.to_string()),
        key.2
    ))
}

/// Tries at opening what is being replaced, and how long it is waited between.
const TRIES: u32 = 3;
const PAUSE: std::time::Duration = std::time::Duration::from_millis(50);

/// Opens what lies there now. Whoever plans just now has it done in a moment.
fn open(args: &RecordArgs) -> Result<Bench<'_>, Failure> {
    for _ in 0..TRIES {
        if let Ok(opened) = Bench::open(args) {
            return Ok(opened);
        }
        std::thread::sleep(PAUSE);
    }
    Bench::open(args)
}

/// Goes by what lies there now; whether that is another plan than before, which is said, as is what of its inputs was changed since.
fn renew(bench: &mut Bench<'_>) -> Result<bool, Failure> {
    let now = open(bench.args)?;
    let is_anew = now.paper.fingerprint != bench.paper.fingerprint;
    if is_anew {
        let text =
            format!("the plan was made anew meanwhile: what follows is asked by {}\n", now.paper.short());
        print(text.as_bytes())?;
    }
    if let Some(stale) = now.stale.as_ref().filter(|_| is_anew || now.stale != bench.stale) {
        print(format!("{}\n", sentence_words(&now.terminal, stale)).as_bytes())?;
    }
    let said = bench.hearing.said;
    *bench = now;
    said.into_iter().for_each(|said| bench.say_units(said));
    Ok(is_anew)
}

/// What became of the question how the head was set.
enum Head {
    /// The line that was written, and what it ended in; `None` where nothing was asked.
    Set(Option<(usize, Status)>),
    /// The end of input.
    Ended,
}

/// Asks what the head was set to, where the bores before advise another setting than the plan's.
fn set_head(
    bench: &Bench<'_>,
    standing: &Standing,
    typing: &mut Typed<'_, impl BufRead>,
    (check, cylinder): (&Check, Option<u32>),
) -> Result<Head, Failure> {
    let head = answer::next_head(bench.job.as_ref(), &bench.paper, standing, check);
    let Some(head) = head.filter(|h| !h.leave && Some(h.next) == cylinder) else {
        return Ok(Head::Set(None));
    };
    let asked = check.at(cylinder).and_then(|at| at.readings.iter().find(|r| r.of == Of::Set));
    let Some(asked) = asked else { return Ok(Head::Set(None)) };
    loop {
        let bare = bench.hearing.bare(asked);
        print(head_question(&bench.terminal, (check, cylinder, asked), &head, bare).as_bytes())?;
        // What is pasted is what was read, and no answer to this.
        typing.refuse();
        let Some(Line { text: typed, .. }) = typing.next()?.filter(|line| line.text.ends_with('\n')) else {
            return Ok(Head::Ended);
        };
        let advised = format!("{:.3} mm", head.set);
        let typed = if typed.trim().is_empty() { advised.as_str() } else { typed.trim() };
        match bench.hearing.hear_at_prompt(typed, asked) {
            Ok(heard) => {
                let fields = reading_fields(bench, (check, cylinder, asked), (typed, heard, bench.hearing))?;
                let log = bench.file.add(|_| Ok(Some(fields.clone())))?.unwrap_or_default();
                let (what, standing) = ((check, cylinder, asked), bench.standing(&log));
                // A head that is set beside what it should be cuts nothing.
                let line = log.entries.last().map_or(0, |e| e.line);
                let status = if answer_to(bench, &standing, what, line).say > answer::Say::GoOn {
                    print_answer(bench, &standing, what, line)?
                } else {
                    Status::Go
                };
                return Ok(Head::Set(Some((line, status))));
            }
            Err(unreadable) => {
                let expected = unheard_words(&bench.terminal, &unreadable);
                let text = format!("  found `{}`, expected {expected}\n", plain(typed, 40));
                print(text.as_bytes())?;
            }
        }
    }
}

/// The worse of two.
pub(super) fn worse(a: Status, b: Status) -> Status {
    if b == Status::Stop || a == Status::Go { b } else { a }
}

fn ask(bench: &Bench<'_>, standing: &Standing, what: (&Check, Option<u32>, &Asked)) -> Result<(), Failure> {
    let (check, cylinder, _) = what;
    let here = standing
        .to_come(bench.checks())
        .filter(|(c, at, _)| c.check == check.check && *at == cylinder)
        .count();
    let stage = standing
        .to_come(bench.checks())
        .filter(|(c, ..)| c.stage == check.stage && c.bank == check.bank)
        .count();
    print(question(&bench.terminal, what, [here, stage], bench.hearing.bare(what.2)).as_bytes())?;
    std::io::stdout().flush()?;
    Ok(())
}

/// Strikes the last line of this sitting; gives the line that is now last, none.
fn take_back(
    bench: &Bench<'_>,
    typing: &mut Typed<'_, impl BufRead>,
    last: Option<usize>,
) -> Result<Option<usize>, Failure> {
    let Some(last) = last else {
        print(b"  nothing was written in this sitting: `record JOB strike LINE --because ...` for an older one\n")?;
        return Ok(None);
    };
    let reasons: Vec<String> = REASONS.iter().zip(1..).map(|(r, n)| format!("{n} {r}")).collect();
    print(
        format!(
            "  line {last} does not count because: {}; Enter: it counts after all\n> ",
            reasons.join(", ")
        )
        .as_bytes(),
    )?;
    let Some(Line { text: typed, .. }) = typing.any()? else { return Ok(Some(last)) };
    let number = typed.trim().parse::<usize>().ok();
    match number.and_then(|n| REASONS.get(n.checked_sub(1)?)) {
        Some(why) => {
            let by = bench.args.by.clone().unwrap_or_default();
            let struck = match strike(bench, last, (&by, why)) {
                // What held the work is taken back by name.
                Err(Failure::Said { .. }) if by.is_empty() => {
                    print(b"  it lay outside its window, or held the work: who takes it back?\n> ")?;
                    let name = typing.any()?.map(|line| line.text).unwrap_or_default();
                    strike(bench, last, (name.trim(), why))
                }
                other => other,
            };
            match struck {
                Ok((text, _)) => {
                    print(text.as_bytes())?;
                    Ok(None)
                }
                Err(failure @ Failure::Said { .. }) => {
                    print(format!("  line {last} stands: {failure}\n").as_bytes())?;
                    Ok(Some(last))
                }
                Err(failure) => Err(failure),
            }
        }
        None => Ok(Some(last)),
    }
}
