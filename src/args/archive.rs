//! What the commands of the archive are asked.

use std::path::PathBuf;

use borewright_archive::Time;

use super::shared::{ArchiveAt, Format, IndexAt, JobAt, Printed};

/// What `file` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct FileArgs {
    #[command(flatten)]
    pub(crate) job: JobAt,
    #[command(flatten)]
    pub(crate) archive: ArchiveAt,
    /// Begin a new archive there.
    #[arg(long)]
    pub(crate) begin: bool,
    /// When, as 2026-11-26 or 2026-11-26T08:15:00Z; the system's clock unless told otherwise.
    #[arg(long, value_name = "TIME", value_parser = time)]
    pub(crate) at: Option<Time>,
    /// File it although the archive knows a later state of this job.
    #[arg(long)]
    pub(crate) older: bool,
    #[command(flatten)]
    pub(crate) cache: IndexAt,
    #[command(flatten)]
    pub(crate) printed: Printed,
}

/// What `open` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct OpenArgs {
    /// Its number, the short form of its sum, the fingerprint on a paper of the job, or `last`.
    pub(crate) record: String,
    /// One of its files, to standard output or to --out.
    pub(crate) file: Option<String>,
    #[command(flatten)]
    pub(crate) archive: ArchiveAt,
    /// A new folder for all files, or a new file for the one.
    #[arg(long, value_name = "NEW")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) cache: IndexAt,
    /// What to print of the record itself.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// What `audit` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct AuditArgs {
    #[command(flatten)]
    pub(crate) archive: ArchiveAt,
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
    #[command(flatten)]
    pub(crate) printed: Printed,
}

/// What `trend` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct TrendArgs {
    /// The casting family, as the block's description names it.
    pub(crate) family: String,
    #[command(flatten)]
    pub(crate) archive: ArchiveAt,
    /// Where to write trend.json and the pictures; nothing is written without it.
    #[arg(long, value_name = "DIR")]
    pub(crate) out: Option<PathBuf>,
    #[command(flatten)]
    pub(crate) cache: IndexAt,
    #[command(flatten)]
    pub(crate) printed: Printed,
}

/// What `find` is asked.
#[derive(Debug, clap::Args)]
pub(crate) struct FindArgs {
    /// Words, or beginnings of them, of the job or its notes; all must be there.
    pub(crate) words: Vec<String>,
    #[command(flatten)]
    pub(crate) archive: ArchiveAt,
    /// The job.
    #[arg(long)]
    pub(crate) job: Option<String>,
    /// The customer, whole, or its beginning with a * behind it; so with the others.
    #[arg(long)]
    pub(crate) customer: Option<String>,
    /// The casting family.
    #[arg(long)]
    pub(crate) family: Option<String>,
    /// The block.
    #[arg(long)]
    pub(crate) block: Option<String>,
    /// The sleeve that was planned with.
    #[arg(long)]
    pub(crate) sleeve: Option<String>,
    /// The machine.
    #[arg(long)]
    pub(crate) machine: Option<String>,
    /// The verdict: go, hold or stop.
    #[arg(long)]
    pub(crate) verdict: Option<String>,
    /// Who released it.
    #[arg(long)]
    pub(crate) released: Option<String>,
    /// The same as --verdict hold.
    #[arg(long, conflicts_with = "verdict")]
    pub(crate) held: bool,
    /// Finished bores, mm: 82 or 80..83.
    #[arg(long, value_name = "RANGE", value_parser = crate::commands::find::range)]
    pub(crate) bore: Option<[f64; 2]>,
    /// From a year, month or day on.
    #[arg(long, value_name = "DATE", value_parser = crate::commands::find::since)]
    pub(crate) since: Option<Time>,
    /// To the end of a year, month or day.
    #[arg(long, value_name = "DATE", value_parser = crate::commands::find::until)]
    pub(crate) until: Option<Time>,
    /// No more than so many.
    #[arg(long, value_name = "N", default_value_t = 20)]
    pub(crate) limit: u32,
    #[command(flatten)]
    pub(crate) cache: IndexAt,
    /// The same as --format json.
    #[arg(long)]
    json: bool,
    #[command(flatten)]
    printed: Printed,
}

impl FindArgs {
    /// What to print.
    pub(crate) fn format(&self) -> Format {
        if self.json { Format::Json } else { self.printed.format }
    }
}

fn time(text: &str) -> Result<Time, String> {
    Time::parse(text)
        .ok_or_else(|| "expected a day or a time of the world's clock: 2026-11-26T08:15:00Z".into())
}
