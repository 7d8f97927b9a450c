//! The prompt: reading by reading in the order of work, digits and Enter alone.

use std::io::{BufRead, Write};

use borewright_output::{head_question, question, sentence_words, unheard_words};
use borewright_planner::plan::check::{Asked, Check, Of};
use borewright_planner::read::fault::plain;
use borewright_planner::record::Standing;
use borewright_planner::record::answer;

use super::answered::print_answer;
use super::fields::reading_fields;
use super::pin::pin;
use super::strike::strike;
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
/ and Enter: take the last line back; Ctrl-D (Windows: Ctrl-Z, Enter): stop.
Every line is on the disk before it is answered.
";

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
    print(HELP.as_bytes())?;
    let log = bench.file.read()?;
    bench.remark(&bench.standing(&log), &log);
    let mut sitting = Sitting { bench, only, later: Vec::new(), last_line: None, worst: Status::Go };
    while let Some((key, typed)) = sitting.next(&mut input)? {
        // A prompt stands open for hours, and the plan is made anew elsewhere.
        if !typed.is_empty() && renew(&mut sitting.bench)? {
            print(format!("  `{}` is not written down: it is asked anew\n", plain(&typed, 40)).as_bytes())?;
            continue;
        }
        match typed.as_str() {
            "" => sitting.later.push(key),
            "/" => sitting.last_line = take_back(&sitting.bench, &mut input, sitting.last_line)?,
            _ => sitting.hear(key, &typed)?,
        }
    }
    Ok(sitting.worst)
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
    /// The worst that a reading ended in.
    worst: Status,
}

impl Sitting<'_> {
    /// Asks for the place that comes next: it, and what was typed; `None` at the end of input, or where nothing is to come.
    fn next(&mut self, input: &mut impl BufRead) -> Result<Option<(Key, String)>, Failure> {
        renew(&mut self.bench)?;
        let bench = &self.bench;
        let standing = bench.standing(&bench.file.read()?);
        let Some(key) = self.to_come(&standing).find(|key| !self.later.contains(key)) else {
            print(self.left(&standing).as_bytes())?;
            return Ok(None);
        };
        let Some((check, asked)) = bench.asked(key.0, key.1, key.2) else { return Ok(None) };
        if !set_head(bench, &standing, input, (check, key.1))? {
            return Ok(None);
        }
        ask(bench, &standing, (check, key.1, asked))?;
        let mut typed = String::new();
        if input.read_line(&mut typed)? == 0 {
            print(b"\n")?;
            return Ok(None);
        }
        let read = typed.trim();
        // Half a line before the end of input was never ended by Enter: it is not believed.
        if !typed.ends_with('\n') {
            print(
                format!("\n`{}` was not ended with Enter and is not written down\n", plain(read, 40))
                    .as_bytes(),
            )?;
            return Ok(None);
        }
        Ok(Some((key, read.to_owned())))
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

    /// Writes down what was typed at a place, and answers it; what cannot be heard, and what another wrote there meanwhile, is told.
    fn hear(&mut self, key: Key, typed: &str) -> Result<(), Failure> {
        let bench = &self.bench;
        let Some((check, asked)) = bench.asked(key.0, key.1, key.2) else { return Ok(()) };
        let heard = match bench.hearing.hear_at_prompt(typed, asked) {
            Ok(heard) => heard,
            Err(unreadable) => {
                let expected = unheard_words(&bench.terminal, &unreadable);
                let text = format!("  found `{}`, expected {expected}; not written down\n", plain(typed, 40));
                return print(text.as_bytes());
            }
        };
        let what = (check, key.1, asked);
        let fields = reading_fields(bench, what, typed, heard)?;
        let added = bench.file.add(|log| {
            // Somebody else may have answered while this one was asked.
            let now = bench.standing(log);
            let other = now.of_check(key.0, key.1).find(|r| r.reading == key.2);
            Ok(other.is_none().then(|| fields.clone()))
        })?;
        let Some(log) = added else { return print(meanwhile(bench, key)?.as_bytes()) };
        self.last_line = log.entries.last().map(|e| e.line);
        let log = pin(bench, log, check, key.1)?;
        let standing = bench.standing(&log);
        let status = print_answer(bench, &standing, what, self.last_line.unwrap_or_default())?;
        self.worst = worse(self.worst, status);
        Ok(())
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
    *bench = now;
    Ok(is_anew)
}

/// Asks what the head was set to, where the bores before advise another setting than the plan's; `false` at the end of
/// input.
fn set_head(
    bench: &Bench<'_>,
    standing: &Standing,
    input: &mut impl BufRead,
    (check, cylinder): (&Check, Option<u32>),
) -> Result<bool, Failure> {
    let head = answer::next_head(bench.job.as_ref(), &bench.paper, standing, check);
    let Some(head) = head.filter(|h| !h.leave && Some(h.next) == cylinder) else { return Ok(true) };
    let asked = check.at(cylinder).and_then(|at| at.readings.iter().find(|r| r.of == Of::Set));
    let Some(asked) = asked else { return Ok(true) };
    loop {
        print(head_question(&bench.terminal, (check, cylinder, asked), &head).as_bytes())?;
        let mut typed = String::new();
        if input.read_line(&mut typed)? == 0 || !typed.ends_with('\n') {
            return Ok(false);
        }
        let advised = format!("{:.3} mm", head.set);
        let typed = if typed.trim().is_empty() { advised.as_str() } else { typed.trim() };
        match bench.hearing.hear_at_prompt(typed, asked) {
            Ok(heard) => {
                let fields = reading_fields(bench, (check, cylinder, asked), typed, heard)?;
                bench.file.add(|_| Ok(Some(fields.clone())))?;
                return Ok(true);
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
    print(question(&bench.terminal, what, [here, stage]).as_bytes())?;
    std::io::stdout().flush()?;
    Ok(())
}

/// Strikes the last line of this sitting; gives the line that is now last, none.
fn take_back(
    bench: &Bench<'_>,
    input: &mut impl BufRead,
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
    let mut typed = String::new();
    if input.read_line(&mut typed)? == 0 {
        return Ok(Some(last));
    }
    let number = typed.trim().parse::<usize>().ok();
    match number.and_then(|n| REASONS.get(n.checked_sub(1)?)) {
        Some(why) => {
            let by = bench.args.by.clone().unwrap_or_default();
            let struck = match strike(bench, last, (&by, why)) {
                // What held the work is taken back by name.
                Err(Failure::Said { .. }) if by.is_empty() => {
                    print(b"  it lay outside its window, or held the work: who takes it back?\n> ")?;
                    let mut name = String::new();
                    input.read_line(&mut name)?;
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
