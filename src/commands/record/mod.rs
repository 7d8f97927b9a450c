//! `record`: what was measured and what happened, written down before anything is answered.

mod anew;
mod answered;
mod cut_file;
mod fields;
mod line;
mod page;
mod pin;
mod prompt;
mod spoken;
mod strike;
mod typed;

use std::path::{Path, PathBuf};

use borewright_output::Terminal;
use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::plan::ListUnits;
use borewright_planner::plan::check::{Asked, Check};
use borewright_planner::plan::sentence::Sentence;
use borewright_planner::prove::another_plan;
use borewright_planner::read::fault::plain;
use borewright_planner::read::given::Units;
use borewright_planner::record::answer::{Answer, Say};
use borewright_planner::record::{FILE, Hearing, Log, Paper, Standing, Whose, tell_beside};
use borewright_planner::say;

use crate::args::{RecordArgs, Telling, Told};
use crate::status::{self, Failure, Status};
use crate::terminal;
use cut_file::CutFile;
use spoken::Line;

/// What every way of recording needs.
pub(super) struct Bench<'a> {
    file: CutFile,
    /// The job's folder: what stands beside the record in it tells of it.
    folder: PathBuf,
    paper: Paper,
    units: Units,
    hearing: Hearing,
    /// The job, where it can be read just now: what can be done is worked out from it.
    job: Option<Job>,
    /// Why nothing goes on by this plan: what it was made from, or the plan itself, is another by now.
    stale: Option<Sentence>,
    /// Why the job cannot be read just now.
    unread: Option<String>,
    /// How what is said is printed.
    terminal: Terminal,
    args: &'a RecordArgs,
}

impl Bench<'_> {
    fn checks(&self) -> &[Check] {
        &self.paper.checks
    }

    fn standing(&self, log: &Log) -> Standing {
        // A line that was recorded, or that the plan was made with, and that is gone is told here too.
        let mut known = log.clone();
        self.paper.record_sum.iter().for_each(|sum| known.miss(sum));
        tell_beside(&self.folder, self.file.whose(), &mut known);
        Standing::of(&known, self.checks(), self.units).made_from(self.paper.made_from())
    }

    /// Says on standard error what of the file must be told.
    fn remark(&self, standing: &Standing, log: &Log) {
        status::remark(&borewright_output::told_lines(&self.terminal, standing, log));
        super::ahead::remark(log);
    }

    /// A reading as the plan asks it.
    fn asked(&self, check: u32, cylinder: Option<u32>, reading: u32) -> Option<(&Check, &Asked)> {
        let check = self.checks().iter().find(|c| c.check == check)?;
        let at = check.at(cylinder)?;
        Some((check, at.readings.iter().find(|a| a.reading == reading)?))
    }
}

impl<'a> Bench<'a> {
    /// Reads what the work goes by, as it lies there now.
    fn open(args: &'a RecordArgs) -> Result<Self, Failure> {
        let folder = if args.job.path.is_dir() { args.job.path.clone() } else { parent(&args.job.path) };
        let units = borewright_planner::job_units(&args.job.path)?;
        let own_plan = folder.join("out").join("plan.json");
        let plan = args.plan.clone().unwrap_or_else(|| own_plan.clone());
        // What is seen of a block is written down whatever its plan asks.
        let happened = args.page.is_none() && matches!(spoken::taken(&args.words), Ok(Line::Event { .. }));
        let paper = if happened { Paper::read(&plan)? } else { Paper::with_checks(&plan)? };
        let loaded = borewright_planner::load(&args.job.path);
        let unread = loaded.as_ref().err().and_then(|faults| faults.0.first()).map(ToString::to_string);
        let job = loaded.ok();
        if let Some(job) = &job {
            of_job(&plan, &paper, job)?;
        }
        // A job that cannot be read just now is told in the units that it is written in.
        let own = job.as_ref().map_or(
            match units {
                Units::Mm => SheetUnits::Mm,
                Units::In => SheetUnits::In,
            },
            |job| job.sheet_units,
        );
        let lists = job.as_ref().map(|job| job.machine.list_units);
        let terminal =
            terminal::as_asked(Telling { units: args.units, notes: false }, own).with_display(lists);
        let file = CutFile::new(&folder, whose(&args.job.path, job.as_ref(), &paper));
        // Where both stand there, the job's own comes first. A figure may be read off the terminal or off a card.
        let of = |told: SheetUnits| match told {
            SheetUnits::Mm => Units::Mm,
            SheetUnits::In => Units::In,
            SheetUnits::Both => units,
        };
        let told = [of(crate::terminal::units(args.units, own)), of(own)];
        let shown = told.into_iter().find(|shown| *shown != units).unwrap_or(units);
        let display = lists.map_or(units, |lists| match lists {
            ListUnits::Mm => Units::Mm,
            ListUnits::In(_) => Units::In,
        });
        // Both is what is told; one of the two is also what is typed.
        let said = args.units.and_then(|told| match told {
            Told::Mm => Some(Units::Mm),
            Told::Inch => Some(Units::In),
            Told::Both => None,
        });
        let hearing = Hearing { units, shown, display, said };
        let other = args.plan.as_ref().and_then(|_| Paper::read(&own_plan).ok());
        let stale = match other.filter(|other| other.job == paper.job) {
            Some(own) if is_later(&folder, &own, &paper, &file.read()?) => {
                let named = status::shown(&own_plan);
                let named = plain(&named, 60);
                Some(say!(
                    "{} is a later plan of this job ({}) than the one that is named ({}): go by that one",
                    named,
                    own.short(),
                    paper.short()
                ))
            }
            _ => match args.plan.as_deref().and_then(|plan| another_plan(plan, &folder)) {
                Some(_) => Some(say!(
                    "{} is another plan of this job, made from the same files, than the one that is named ({}): go by that one",
                    plain(&status::shown(&own_plan), 60),
                    paper.short()
                )),
                None => changed_since(&paper, &folder),
            },
        };
        Ok(Self { file, folder, paper, units, hearing, job, stale, unread, terminal, args })
    }

    /// From here on figures without a unit are in this one, and are asked for in it.
    fn say_units(&mut self, said: Units) {
        self.hearing.said = Some(said);
        self.hearing.shown = said;
        self.terminal = self.terminal.told_in(match said {
            Units::Mm => SheetUnits::Mm,
            Units::In => SheetUnits::In,
        });
    }

    /// What is said of a line where its plan is another by now: nobody goes on by it.
    fn by_plan(&self, answer: Answer) -> Answer {
        let Some(stale) = &self.stale else { return answer };
        let why = [answer.why, stale.clone()].into_iter().filter(|why| !why.is_empty());
        Answer { say: answer.say.max(Say::Hold), why: Sentence::join(why, "; and "), ..answer }
    }
}

/// Whose the job is, though it cannot be read just now; by the plan's number where nothing else says.
fn whose(path: &Path, job: Option<&Job>, paper: &Paper) -> Whose {
    let inputs = || paper.inputs.iter().map(|made| (made.file.as_str(), made.sha256.as_str()));
    let named = || borewright_planner::job_named(path).map(|named| named.whose(inputs()));
    job.map_or_else(|| named().unwrap_or_else(|_| Whose::numbered(&paper.job)), Job::whose)
}

/// What of a plan's inputs is no longer what it was made from; `None` where all of it is.
fn changed_since(paper: &Paper, folder: &Path) -> Option<Sentence> {
    // What became of the record itself is told of its lines, and let through as one.
    let changed = paper.changed(folder).into_iter().filter(|file| file != FILE);
    let names: Vec<String> = changed.map(|f| plain(&f, 60)).collect();
    (!names.is_empty()).then(|| {
        say!("changed since this plan was made: {}; plan again before the next cut", names.join(", "))
    })
}

/// Whether the plan that lies with the job is a later one than another of the same job: it is made from the files as they are
/// now and the other is not, or it knows more of the record.
fn is_later(folder: &Path, own: &Paper, named: &Paper, log: &Log) -> bool {
    let knows = |paper: &Paper| {
        let sum = paper.record_sum.as_deref().unwrap_or_default();
        log.entries.iter().position(|e| !sum.is_empty() && e.fields.get("sum") == sum)
    };
    let stands = |paper: &Paper| paper.changed(folder).is_empty();
    own.fingerprint != named.fingerprint
        && match [own, named].map(stands) {
            [true, true] => knows(own) > knows(named),
            [own, named] => own && !named,
        }
}

/// Reads what the work goes by and hands the words to whoever records them: a page, a line, a pin or the prompt.
pub(super) fn run(args: &RecordArgs) -> Result<Status, Failure> {
    let bench = Bench::open(args)?;
    if let Some(fault) = &bench.unread {
        status::remark(&[format!("the job cannot be read: what hangs on it is not judged here. {fault}")]);
    }
    if let Some(stale) = &bench.stale {
        status::remark(&[borewright_output::sentence_words(&bench.terminal, stale)]);
    }
    in_order(&bench)?;
    if let Some(file) = &args.page {
        let number = args.words.first().and_then(|n| n.parse().ok()).filter(|_| args.words.len() == 1);
        let found = || format!("--page with `{}`", plain(&args.words.join(" "), 60));
        let number = number.ok_or_else(|| {
            refused(found(), "the number of the check whose boxes they are: `7 --page FILE`")
        })?;
        return page::run(&bench, number, file);
    }
    match spoken::bare(&args.words) {
        [] => prompt::run(bench, None),
        [one] if one.parse::<u32>().is_ok() => prompt::run(bench, one.parse().ok()),
        words => line::run(&bench, words),
    }
}

/// Asks why a line is dated before the last one: a card typed in afterwards says so, and a day that is mistyped is seen.
///
/// # Errors
/// A date before the last line's without a note. What the clock itself says is written down, and told.
fn in_order(bench: &Bench<'_>) -> Result<(), Failure> {
    let Some(at) = bench.args.at.as_deref().filter(|_| bench.args.note.is_none()) else { return Ok(()) };
    let log = bench.file.read()?;
    let at = fields::moment(at)?;
    if !log.is_behind(&at) {
        return Ok(());
    }
    let found = format!("--at {at}, before the last line of the record ({})", plain(&log.last_at, 30));
    Err(refused(found, "a later instant, or a `--note` that says why: a card that is typed in afterwards"))
}

/// Refuses the plan of another job: what is asked at a bore of one says nothing of a bore of the other.
///
/// # Errors
/// A plan of a job of another number.
pub(super) fn of_job(plan: &Path, paper: &Paper, job: &Job) -> Result<(), Failure> {
    if paper.job == job.number {
        return Ok(());
    }
    Err(Failure::Place {
        path: plan.to_owned(),
        found: format!("the plan of job {}", plain(&paper.job, 40)),
        expected: "a plan of this job: plan it, or name its plan with --plan",
    })
}

/// A check of the plan by its number.
fn check_of<'b>(bench: &'b Bench<'_>, number: u32) -> Result<&'b Check, Failure> {
    bench.checks().iter().find(|c| c.check == number).ok_or_else(|| {
        let most = bench.checks().last().map_or(0, |c| c.check);
        refused(format!("CHECK {number}, of a plan with checks 1 to {most}"), "a check of the plan")
    })
}

fn refused(found: String, expected: &'static str) -> Failure {
    Failure::Said { found, expected }
}

fn parent(file: &Path) -> PathBuf {
    match file.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}
