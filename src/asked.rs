//! What the commands of the archive are asked.

use std::path::PathBuf;

use borewright_archive::Time;

use crate::args::Format;

/// What `file` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct FileArgs {
    /// A job folder, or its job.yaml.
    pub(crate) job: PathBuf,
    /// The archive's folder; BOREWRIGHT_ARCHIVE unless told otherwise.
    #[arg(long, value_name = "PLACE")]
    pub(crate) archive: Option<PathBuf>,
    /// Begin a new archive there.
    #[arg(long)]
    pub(crate) begin: bool,
    /// When, as 2026-11-26 or 2026-11-26T08:15:00Z; the system's clock unless told otherwise.
    #[arg(long, value_name = "TIME", value_parser = time)]
    pub(crate) at: Option<Time>,
    /// What to print.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// What `open` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct OpenArgs {
    /// Its number, the short form of its sum, or `last`.
    pub(crate) record: String,
    /// One of its files, to standard output or to --out.
    pub(crate) file: Option<String>,
    /// The archive's folder; BOREWRIGHT_ARCHIVE unless told otherwise.
    #[arg(long, value_name = "PLACE")]
    pub(crate) archive: Option<PathBuf>,
    /// A new folder for all files, or a new file for the one.
    #[arg(long, value_name = "NEW")]
    pub(crate) out: Option<PathBuf>,
    /// What to print of the record itself.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// What `audit` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct AuditArgs {
    /// The archive's folder; BOREWRIGHT_ARCHIVE unless told otherwise.
    #[arg(long, value_name = "PLACE")]
    pub(crate) archive: Option<PathBuf>,
    /// The last sum of the paper log: the chain must end there.
    #[arg(long, value_name = "SUM")]
    pub(crate) logged: Option<String>,
    /// Do not plan the records again.
    #[arg(long)]
    pub(crate) without_plans: bool,
    /// Begin anew, not where an audit was broken off.
    #[arg(long)]
    pub(crate) afresh: bool,
    /// The folder to remember in; the user's cache unless told otherwise.
    #[arg(long, value_name = "DIR")]
    pub(crate) cache: Option<PathBuf>,
    /// When, for the summary; the system's clock unless told otherwise.
    #[arg(long, value_name = "TIME", value_parser = time)]
    pub(crate) at: Option<Time>,
    /// What to print.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

fn time(text: &str) -> Result<Time, String> {
    Time::parse(text)
        .ok_or_else(|| "expected a day or a time of the world's clock: 2026-11-26T08:15:00Z".into())
}
