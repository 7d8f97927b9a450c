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

use std::borrow::Cow;
use std::path::{Path, PathBuf};

use borewright_output::Terminal;
use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::plan::check::{Asked, Check};
use borewright_planner::read::fault::plain;
use borewright_planner::read::given::Units;
use borewright_planner::record::{Hearing, Log, Paper, Standing, kept};

use crate::args::{RecordArgs, Telling};
use crate::status::{self, Failure, Status};
use crate::terminal;
use cut_file::CutFile;
use spoken::Line;

/// What every way of recording needs.
pub(super) struct Bench<'a> {
    file: CutFile,
    /// Sums of lines that were recorded last.
    kept: Vec<String>,
    paper: Paper,
    units: Units,
    hearing: Hearing,
    /// The job, where it can be read just now: what can be done is worked out from it.
    job: Option<Job>,
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
        let mut known = Cow::Borrowed(log);
        for sum in self.paper.record_sum.iter().chain(&self.kept).filter(|sum| !log.knows(sum)) {
            known.to_mut().miss(sum);
        }
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

/// Reads what the work goes by and hands the words to whoever records them: a page, a line, a pin or the prompt.
pub(super) fn run(args: &RecordArgs) -> Result<Status, Failure> {
    let folder = if args.job.path.is_dir() { args.job.path.clone() } else { parent(&args.job.path) };
    let units = borewright_planner::job_units(&args.job.path)?;
    let plan = args.plan.clone().unwrap_or_else(|| folder.join("out").join("plan.json"));
    // What is seen of a block is written down whatever its plan asks.
    let happened = args.page.is_none() && matches!(spoken::taken(&args.words), Ok(Line::Event { .. }));
    let paper = if happened { Paper::read(&plan)? } else { Paper::with_checks(&plan)? };
    let changed = paper.changed(&folder);
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
    let terminal = terminal::as_asked(Telling { units: args.units, notes: false }, own);
    if let Some(fault) = unread {
        status::remark(&[format!("the job cannot be read: what hangs on it is not judged here. {fault}")]);
    }
    let kept = kept(&folder, &paper.job);
    let file = CutFile::new(&folder, &paper.job);
    // Where both stand there, the job's own comes first. A figure may be read off the terminal or off a card.
    let of = |told: SheetUnits| match told {
        SheetUnits::Mm => Units::Mm,
        SheetUnits::In => Units::In,
        SheetUnits::Both => units,
    };
    let told = [of(crate::terminal::units(args.units, own)), of(own)];
    let shown = told.into_iter().find(|shown| *shown != units).unwrap_or(units);
    let hearing = Hearing { units, shown };
    let bench = Bench { file, kept, paper, units, hearing, job, terminal, args };
    if !changed.is_empty() {
        let names: Vec<String> = changed.iter().map(|f| plain(f, 60)).collect();
        let text =
            format!("changed since this plan was made: {}; plan again before the next cut", names.join(", "));
        status::remark(&[text]);
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
        [] => prompt::run(&bench, None),
        [one] if one.parse::<u32>().is_ok() => prompt::run(&bench, one.parse().ok()),
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
