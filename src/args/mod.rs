//! The command line.

mod archive;
mod shared;

use std::ffi::OsString;
use std::path::PathBuf;

use borewright_planner::plan::Release;
use borewright_planner::record::{is_of_some, lets_through};
use clap::{Parser, Subcommand, ValueEnum};

pub(crate) use archive::{AuditArgs, FileArgs, FindArgs, OpenArgs, TrendArgs};
pub(crate) use shared::{ArchiveAt, CacheAt, Format, JobAt, Printed, SeenAt, Telling, Told};

/// Plans the re-sleeving of an engine block: where each bore goes, whether it may, and in which passes.
///
/// Exit status: 0 go, 3 hold, 4 stop, 2 input rejected and nothing written, 1 anything else.
#[derive(Debug, Parser)]
#[command(version, max_term_width = 80)]
pub(crate) struct Args {
    /// What to do.
    #[command(subcommand)]
    pub(crate) command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub(crate) enum Command {
    /// Lay out a job folder ready to fill in.
    ///
    /// Without options an inline four of examples, in mm; with --banks, --cylinders, --angle or --units another block of
    /// examples; with --family one like the newest that was filed of it.
    New(NewArgs),
    /// What the readings say of the block as it came in. Writes nothing without --out.
    Survey {
        #[command(flatten)]
        job: JobAt,
        /// Where to write survey.json, survey.pdf and the pictures; nothing is written without it.
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
        #[command(flatten)]
        telling: Telling,
        #[command(flatten)]
        printed: Printed,
    },
    /// Decide positions, stage the passes, write sheets and coordinate lists.
    Plan(PlanArgs),
    /// The shop lead's page: every limit with its margin, and the verdict. Writes nothing.
    Check(CheckArgs),
    /// Where a figure comes from: its formula with the figures put in, readings by file and line, sources. Writes nothing.
    ///
    /// `explain JOB` lists what can be asked: `cylinder 3 x`, `limit parent_wall 5`, `pass 40 stock`, `fit lower register`.
    Explain(ExplainArgs),
    /// Read a coordinate list back and hold it against the plan, line by line. Writes nothing.
    Prove {
        /// A list, as written or edited by hand; the table beside it is read with it.
        list: PathBuf,
        /// The plan that it belongs to.
        #[arg(long, value_name = "PLAN.JSON")]
        plan: PathBuf,
        #[command(flatten)]
        printed: Printed,
    },
    /// Whether a written folder is unaltered: plan, lists, sheets, inputs. Writes nothing.
    ///
    /// Exit status: 0 unaltered, 4 anything altered, missing or added.
    Verify {
        /// A folder that plan or survey wrote.
        dir: PathBuf,
        #[command(flatten)]
        printed: Printed,
    },
    /// Keep a job as it was issued in an archive: inputs, plan, lists, sheets, notes.
    File(FileArgs),
    /// Find records by words, customer, family, sleeve, verdict, size or date; newest first.
    Find(FindArgs),
    /// List a record's files, or give them back byte for byte.
    Open(OpenArgs),
    /// What the blocks of a family have in common, and what the next one will be like.
    Trend(TrendArgs),
    /// Hold an archive against itself: every record, the chain, every kept byte; plan it again. 3: doubts. 4: faults.
    Audit(AuditArgs),
    /// Write down what was measured or happened, and hold it against the plan.
    ///
    /// CHECK CYLINDER VALUE for one reading; nothing for a prompt that asks check by check in the order of work; CHECK alone
    /// for the same of one check, as its boxes on a filled card follow each other, with `--page FILE` all at once; or
    /// `strike LINE --because WHY`, `anew CHECK --because WHY` (a touch check, once the datum was picked up anew), `sleeve NUMBER
    /// for CYLINDER`, and void, crack, tool, moved, note or release with words, a cylinder's number first where it is one's.
    Record(RecordArgs),
    /// The job as it left: found, asked, cut, finished, what was not measured, what was decided; written to JOB/report.
    ///
    /// Exit status: 0 all measured and as asked, 3 something open, not measured or let through by name, 4 something not as
    /// asked.
    Report {
        #[command(flatten)]
        job: JobAt,
        /// The plan that the work went by; JOB/out/plan.json unless told otherwise.
        #[arg(long, value_name = "PLAN.JSON")]
        plan: Option<PathBuf>,
        /// Where to write; JOB/report unless told otherwise.
        #[arg(long, value_name = "DIR")]
        out: Option<PathBuf>,
        #[command(flatten)]
        printed: Printed,
    },
    /// How well the shop cuts, over its jobs: bias and spread by machine, tool and person, and what to write for the machine.
    ///
    /// Writes nothing. Exit status: 0, or 3 where a machine is claimed to be better than its bores are.
    #[command(mut_arg("cache", |cache| cache.requires("archive")))]
    Shop {
        /// Job folders with a plan and a record, or their job.yaml.
        jobs: Vec<PathBuf>,
        /// An archive: every job filed there too, by its last record.
        #[arg(long, value_name = "PLACE")]
        archive: Option<PathBuf>,
        #[command(flatten)]
        cache: SeenAt,
        #[command(flatten)]
        printed: Printed,
    },
    /// Print the JSON Schema of an input file, so that an editor completes it.
    Schema {
        /// Which file.
        kind: Kind,
    },
    /// Print the completions of a shell.
    Completions {
        /// Which shell.
        shell: clap_complete::Shell,
    },
}

/// What `new` is asked.
#[derive(Debug, clap::Args)]
#[command(mut_arg("archive", |archive| archive.requires("family")))]
#[command(mut_arg("cache", |cache| cache.requires("family")))]
pub(crate) struct NewArgs {
    /// The folder; made if it is not there.
    pub(crate) dir: PathBuf,
    /// Like the newest filed block of this casting family: its files, and empty tables for where it was read.
    #[arg(long, conflicts_with_all = ["banks", "cylinders", "angle", "units"])]
    pub(crate) family: Option<String>,
    #[command(flatten)]
    pub(crate) archive: ArchiveAt,
    #[command(flatten)]
    pub(crate) cache: CacheAt,
    /// One bank, or the two of a V.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=2))]
    pub(crate) banks: Option<u32>,
    /// Cylinders of all banks together; 4 unless told otherwise.
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u32).range(1..=16))]
    pub(crate) cylinders: Option<u32>,
    /// Between the banks of a V, degrees; 90 unless told otherwise.
    #[arg(long, value_name = "DEGREES")]
    pub(crate) angle: Option<f64>,
    /// Units of every file and table; mm unless told otherwise.
    #[arg(long, value_enum)]
    pub(crate) units: Option<Unit>,
}

/// Units of files.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Unit {
    /// Millimetres.
    Mm,
    /// Inches.
    In,
}

/// What `plan` is asked.
#[derive(Debug, clap::Args)]
#[command(mut_arg("cache", |cache| cache.requires("prior")))]
pub(crate) struct PlanArgs {
    #[command(flatten)]
    pub(crate) job: JobAt,
    /// Where to write; JOB/out unless told otherwise.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    /// Let cylinders at hold through, by whom and why: printed on every sheet.
    #[arg(long, value_name = "WHO: WHY", value_parser = release, allow_hyphen_values = true)]
    pub(crate) release: Option<Release>,
    /// Ask an archive what blocks of the same family were like: sleeves at risk, walls to read first, what is odd here.
    #[arg(long, value_name = "PLACE")]
    pub(crate) prior: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) cache: CacheAt,
    #[command(flatten)]
    pub(crate) telling: Telling,
    #[command(flatten)]
    pub(crate) printed: Printed,
}

/// What `check` is asked.
#[derive(Debug, clap::Args)]
#[command(mut_arg("cache", |cache| cache.requires("prior")))]
pub(crate) struct CheckArgs {
    #[command(flatten)]
    pub(crate) job: JobAt,
    /// Ask an archive what blocks of the same family were like, as `plan --prior` does.
    #[arg(long, value_name = "PLACE")]
    pub(crate) prior: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) cache: CacheAt,
    #[command(flatten)]
    pub(crate) telling: Telling,
    #[command(flatten)]
    pub(crate) printed: Printed,
}

/// What figure is asked for.
#[derive(Debug, clap::Args)]
pub(crate) struct ExplainArgs {
    #[command(flatten)]
    pub(crate) job: JobAt,
    /// Which figure, as `limit bridge 3`; nothing for a list of them, `everything` for all.
    pub(crate) what: Vec<String>,
    #[command(flatten)]
    pub(crate) printed: Printed,
}

/// What is recorded, and by whom.
#[derive(Debug, clap::Args)]
pub(crate) struct RecordArgs {
    #[command(flatten)]
    pub(crate) job: JobAt,
    /// CHECK CYLINDER VALUE, as `5 3 +0.8 thou`; `-` for what is of the whole bank; or an event.
    #[arg(allow_negative_numbers = true, value_parser = typed)]
    pub(crate) words: Vec<String>,
    /// Who.
    #[arg(long)]
    pub(crate) by: Option<String>,
    /// With what.
    #[arg(long)]
    pub(crate) instrument: Option<String>,
    /// Temperature of the block, degrees Celsius.
    #[arg(long, allow_negative_numbers = true, value_parser = typed)]
    pub(crate) temperature: Option<String>,
    /// Which reading of the check, where it is not the next.
    #[arg(long, value_name = "N")]
    pub(crate) reading: Option<u32>,
    /// At which depth.
    #[arg(long)]
    pub(crate) depth: Option<String>,
    /// How large a void or crack is.
    #[arg(long)]
    pub(crate) size: Option<String>,
    /// At which clock, degrees.
    #[arg(long)]
    pub(crate) clock: Option<String>,
    /// Anything to remember with it.
    #[arg(long, allow_hyphen_values = true, value_parser = typed)]
    pub(crate) note: Option<String>,
    /// Why a line does not count.
    #[arg(long, value_name = "WHY", allow_hyphen_values = true, value_parser = typed)]
    pub(crate) because: Option<String>,
    /// A filled card at once, `-` for standard input: the boxes of one check, a bore on a line, apart by `;` or tabs.
    #[arg(long, value_name = "FILE")]
    pub(crate) page: Option<PathBuf>,
    /// A further reading, though it says what the last line says.
    #[arg(long)]
    pub(crate) again: bool,
    /// When, in place of the clock, UTC: 2026-03-01T09:30:00Z, `2026-03-01 09:30`, or 09:30 of today.
    #[arg(long)]
    pub(crate) at: Option<String>,
    /// The plan that the work goes by; JOB/out/plan.json unless told otherwise.
    #[arg(long, value_name = "PLAN.JSON")]
    pub(crate) plan: Option<PathBuf>,
    /// Units of what is answered, those of the job's sheets unless told otherwise; in or mm: of figures without one too.
    #[arg(long, value_enum)]
    pub(crate) units: Option<Told>,
    #[command(flatten)]
    pub(crate) printed: Printed,
}

/// The input files that have a schema.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Kind {
    /// The block description.
    Block,
    /// A sleeve.
    Sleeve,
    /// A machine.
    Machine,
    /// A shop's own figures.
    Shop,
    /// A job.
    Job,
}

/// Arguments with `-.004` written out, `-0.004`, and the sign of `-0.014 mm` as one that no option begins with: deviations
/// as they are said, which would be read as options.
pub(crate) fn spoken(arguments: impl Iterator<Item = OsString>) -> impl Iterator<Item = OsString> {
    arguments.map(|argument| {
        let Some(rest) = argument.to_str().and_then(|text| text.strip_prefix('-')) else { return argument };
        let begins = |text: &str| text.starts_with(|c: char| c.is_ascii_digit());
        let rest = match rest.strip_prefix('.').filter(|digits| begins(digits)) {
            Some(digits) => format!("0.{digits}"),
            None if begins(rest) => rest.to_owned(),
            None => return argument,
        };
        let sign = if rest.parse::<f64>().is_ok() { '-' } else { MINUS };
        format!("{sign}{rest}").into()
    })
}

/// Stands for the sign of a figure that has more behind it than digits.
const MINUS: char = '\u{2212}';

/// Words as they were typed.
fn typed(text: &str) -> Result<String, std::convert::Infallible> {
    Ok(text.strip_prefix(MINUS).map_or_else(|| text.to_owned(), |rest| format!("-{rest}")))
}

fn release(text: &str) -> Result<Release, String> {
    let parts = text.split_once(':').map(|(who, why)| (who.trim(), why.trim()));
    match parts {
        Some((_, why)) if is_of_some(why) => Err(
            "a release of a plan lets through all that it holds, and this one names what it leaves out: settle that first, and release the rest then".into(),
        ),
        Some((who, why)) if lets_through(who, why) => {
            Ok(Release { who: who.to_owned(), why: why.to_owned() })
        }
        _ => Err("expected who releases it, a colon, and why in two words or more that do not say to wait or to ask: \"A. Lead: bore 3 re-read, wall 2.4\"".into()),
    }
}
