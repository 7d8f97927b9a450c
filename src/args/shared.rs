//! What several commands are asked alike, each said once.

use std::path::PathBuf;

use clap::ValueEnum;

/// Which job.
#[derive(Debug, clap::Args)]
pub(crate) struct JobAt {
    /// A job folder, or its job.yaml.
    #[arg(id = "job", value_name = "JOB")]
    pub(crate) path: PathBuf,
}

/// Which archive.
#[derive(Debug, clap::Args)]
pub(crate) struct ArchiveAt {
    /// The archive: a folder, or s3://BUCKET/PREFIX; BOREWRIGHT_ARCHIVE unless told otherwise.
    #[arg(id = "archive", long, value_name = "PLACE")]
    pub(crate) place: Option<PathBuf>,
}

/// Where the index lies of an archive that another argument names.
#[derive(Debug, clap::Args)]
pub(crate) struct CacheAt {
    /// The folder of the archive's index; the user's cache unless told otherwise.
    #[arg(id = "cache", long, value_name = "DIR")]
    pub(crate) folder: Option<PathBuf>,
}

/// Where the index lies of the archive that a command is about.
#[derive(Debug, clap::Args)]
pub(crate) struct IndexAt {
    /// The folder of the index; the user's cache unless told otherwise.
    #[arg(id = "cache", long, value_name = "DIR")]
    pub(crate) folder: Option<PathBuf>,
}

/// Where is remembered how far an archive that another argument names was seen to go.
#[derive(Debug, clap::Args)]
pub(crate) struct SeenAt {
    /// The folder that remembers where the archive was seen to end; the user's cache unless told otherwise.
    #[arg(id = "cache", long, value_name = "DIR")]
    pub(crate) folder: Option<PathBuf>,
}

/// In which form the answer is printed.
#[derive(Debug, Clone, Copy, clap::Args)]
pub(crate) struct Printed {
    /// What to print.
    #[arg(long, value_enum, default_value_t)]
    pub(crate) format: Format,
}

/// How a page for people is told.
#[derive(Debug, Clone, Copy, clap::Args)]
pub(crate) struct Telling {
    /// Units of this answer on the terminal; the cards' are `sheet_units` in the job, which this takes too unless told otherwise.
    #[arg(long, value_enum)]
    pub(crate) units: Option<Told>,
    /// Notes too: of materials, and of where figures come from.
    #[arg(long)]
    pub(crate) notes: bool,
}

/// Units of a page for people.
#[derive(Debug, Clone, Copy, PartialEq, Eq, ValueEnum)]
pub(crate) enum Told {
    /// Millimetres.
    Mm,
    /// Inches.
    #[value(alias = "in")]
    Inch,
    /// Millimetres, and inches in brackets.
    Both,
}

/// What a command prints.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
pub(crate) enum Format {
    /// For people.
    #[default]
    Text,
    /// The results as JSON and nothing else.
    Json,
}
