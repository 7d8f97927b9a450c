//! Exit statuses, and what is said on the way out.

use std::path::{Path, PathBuf};
use std::process::ExitCode;

use borewright_planner::PlanError;
use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::{Faults, plain};
use clap::Parser;

use crate::terminal;

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Status {
    /// Done, or a verdict of go.
    Go,
    /// A verdict of hold.
    Hold,
    /// A verdict of stop.
    Stop,
    /// Input rejected, nothing written.
    Rejected,
    /// Anything else.
    Failed,
}

impl From<Verdict> for Status {
    fn from(verdict: Verdict) -> Self {
        match verdict {
            Verdict::Go => Self::Go,
            Verdict::Hold => Self::Hold,
            Verdict::Stop => Self::Stop,
        }
    }
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> Self {
        Self::from(match status {
            Status::Go => 0,
            Status::Failed => 1,
            Status::Rejected => 2,
            Status::Hold => 3,
            Status::Stop => 4,
        })
    }
}

/// Why a command could not do its work.
#[derive(Debug, thiserror::Error)]
pub(crate) enum Failure {
    /// Faults of the input files.
    #[error("{0}")]
    Input(#[from] Faults),
    /// Readings that cannot be used.
    #[error("{0}")]
    Plan(#[from] PlanError),
    /// A place that must not be written to.
    #[error("{}: found {found}, expected {expected}", shown(.path))]
    Place {
        /// The place.
        path: PathBuf,
        /// What is there.
        found: String,
        /// What may be there.
        expected: &'static str,
    },
    /// An archive that has nothing of what is asked for.
    #[error("{place}: found {found}, expected {expected}")]
    Archived {
        /// The archive, fit for a terminal.
        place: String,
        /// What is there.
        found: String,
        /// What is expected.
        expected: &'static str,
    },
    /// No archive was named.
    #[error("no archive named: say --archive PLACE, or set BOREWRIGHT_ARCHIVE")]
    NoPlace,
    /// No folder to remember in.
    #[error("no folder for what is remembered of an archive: say --cache DIR, or set XDG_CACHE_HOME or HOME")]
    NoCache,
    /// What an archive refuses.
    #[error("{}", plain_lines(&.0.to_string()))]
    Archive(#[from] borewright_archive::ArchiveError),
    /// The output could not be made.
    #[error("{0}")]
    Output(#[from] borewright_output::OutputError),
    /// The disk would not.
    #[error("{}: {source}", shown(.path))]
    Disk {
        /// The place.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// Two at once.
    #[error("{}: another plan is being written here; nothing was written, try again in a moment", shown(.path))]
    Busy {
        /// The place.
        path: PathBuf,
    },
    /// A folder that cannot be moved while somebody looks into it.
    #[error(
        "{}: another program holds this folder or a file in it open; nothing was written: close it and try again",
        shown(.path)
    )]
    Held {
        /// The place.
        path: PathBuf,
    },
    /// Words on the command line that are no record.
    #[error("found {found}, expected {expected}")]
    Said {
        /// What was found.
        found: String,
        /// What is expected.
        expected: &'static str,
    },
    /// A figure that the plan does not have.
    #[error("{}", plain_lines(.0))]
    Asked(String),
    /// A value that is none.
    #[error("found {found}, expected {expected}; not written down")]
    Heard {
        /// What was found.
        found: String,
        /// What is expected.
        expected: String,
    },
    /// The last line says the same.
    #[error(
        "line {line} says the same ({}{}): it is written down already; a further reading that is equal: add --again",
        plain(.at, 30), if .by.is_empty() { String::new() } else { format!(", {}", plain(.by, 40)) }
    )]
    Twice {
        /// Its line.
        line: usize,
        /// Who.
        by: String,
        /// When.
        at: String,
    },
    /// Somebody else records for long.
    #[error("{}: somebody else has been recording here for ten seconds; nothing was recorded, try again", shown(.path))]
    Recording {
        /// The record.
        path: PathBuf,
    },
    /// The disk would not take a line.
    #[error("{}: {source}; NOT recorded: what was there before is as it was", shown(.path))]
    NotRecorded {
        /// The record.
        path: PathBuf,
        /// Why.
        source: std::io::Error,
    },
    /// Results could not be printed.
    #[error("standard output: {0}")]
    Print(#[from] std::io::Error),
}

/// A path fit for a terminal: whoever names a file may have put anything into its name.
pub(crate) fn shown(path: &Path) -> String {
    plain(&path.display().to_string(), 300)
}

/// A text of several lines fit for a terminal, each of which may hold a name that is not.
fn plain_lines(text: &str) -> String {
    text.lines().map(|line| plain(line, 600)).collect::<Vec<_>>().join("\n")
}

/// Says on standard error what is worth knowing and changes nothing.
pub(crate) fn remark(remarks: &[String]) {
    use std::io::Write;

    let mut to = std::io::stderr().lock();
    for text in remarks {
        let _ = writeln!(to, "{}", terminal::folded(text));
    }
}

impl Failure {
    /// The exit status it ends in.
    #[must_use]
    pub(crate) fn status(&self) -> Status {
        match self {
            Self::Input(_)
            | Self::Plan(_)
            | Self::Place { .. }
            | Self::Archived { .. }
            | Self::NoPlace
            | Self::NoCache
            | Self::Said { .. }
            | Self::Asked(_)
            | Self::Heard { .. }
            | Self::Twice { .. } => Status::Rejected,
            Self::Archive(error) if error.is_rejection() => Status::Rejected,
            Self::Archive(_) => Status::Failed,
            Self::Output(_)
            | Self::Disk { .. }
            | Self::Busy { .. }
            | Self::Recording { .. }
            | Self::NotRecorded { .. }
            | Self::Held { .. }
            | Self::Print(_) => Status::Failed,
        }
    }
}

/// Says on standard error what went wrong; a closed pipe is nobody to tell.
pub(crate) fn report(failure: &Failure) {
    use std::io::Write;

    if matches!(failure, Failure::Print(e) if e.kind() == std::io::ErrorKind::BrokenPipe) {
        return;
    }
    let mut to = std::io::stderr().lock();
    let text = terminal::folded(failure.to_string().trim_end());
    let _ = writeln!(to, "{text}");
    if failure.status() == Status::Rejected {
        let _ = writeln!(to, "nothing was written");
    }
}

/// Help and version as they are; arguments that cannot be used are told without what a terminal would act upon.
pub(crate) fn usage(error: &clap::Error) -> ExitCode {
    use std::io::Write;

    if !error.use_stderr() {
        let _ = error.print();
        return ExitCode::SUCCESS;
    }
    // Read again with every argument made fit for a terminal: what is told holds nothing else then.
    let spoken = crate::args::spoken(std::env::args_os());
    let cleaned = spoken.map(|argument| plain(&argument.to_string_lossy(), 300));
    let text = match crate::args::Args::try_parse_from(cleaned) {
        Err(error) => error.render().to_string(),
        Ok(_) => "error: an argument that is not plain text".to_owned(),
    };
    let mut to = std::io::stderr().lock();
    for line in text.trim_end().lines() {
        let _ = writeln!(to, "{}", plain(line, 400));
    }
    ExitCode::from(Status::Rejected)
}
