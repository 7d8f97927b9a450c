//! Errors of an archive.

use std::io;

use crate::index::IndexError;
use crate::record::Unreadable;
use crate::store::StoreError;

/// Why an archive could not do what was asked.
#[derive(Debug, thiserror::Error)]
pub enum ArchiveError {
    /// There is no archive.
    #[error(
        "{place}: found {found}, expected an archive. If it lies on a share that is away, bring that back first; \
         a new archive is begun with --begin"
    )]
    NoArchive {
        /// The place.
        place: String,
        /// What is there.
        found: &'static str,
    },
    /// A new archive was asked for where something else is.
    #[error("{place}: found {found}, expected a new or empty folder to begin an archive in")]
    NotEmpty {
        /// The place.
        place: String,
        /// What is there.
        found: &'static str,
    },
    /// An archive of another format.
    #[error("{place}: found an archive that this version does not know, expected {expected}")]
    Foreign {
        /// The place.
        place: String,
        /// The format that is known.
        expected: &'static str,
    },
    /// Files that cannot be kept.
    #[error("{}", .0.join("\n"))]
    Items(Vec<String>),
    /// No such record.
    #[error("record {asked}: found none, expected {expected}")]
    NoRecord {
        /// What was asked for, fit for a terminal.
        asked: String,
        /// What there is.
        expected: String,
    },
    /// No such file in a record.
    #[error(
        "record {number}: found no file {asked}, expected one of its {count}; `open {number}` lists them"
    )]
    NoFile {
        /// The record.
        number: u32,
        /// What was asked for, fit for a terminal.
        asked: String,
        /// How many it has.
        count: usize,
    },
    /// A record that cannot be read.
    #[error("record {number}: {why}; `audit` says what else is wrong")]
    Record {
        /// Its number.
        number: u32,
        /// Why.
        why: Unreadable,
    },
    /// A record that is where another should be.
    #[error("record {number}: in its place stands record {found}; `audit` says what else is wrong")]
    Misplaced {
        /// The number asked for.
        number: u32,
        /// The one that is there.
        found: u32,
    },
    /// Content that is not what it was.
    #[error("{name}: {why}; `audit` says what else is wrong")]
    Content {
        /// The file.
        name: String,
        /// What is wrong.
        why: &'static str,
    },
    /// A file that changed while it was filed.
    #[error("{name}: changed while it was filed; nothing was filed, try again")]
    Changed {
        /// The file.
        name: String,
    },
    /// Too many at once, or something in the way that is no record.
    #[error(
        "{place}: the next record's place is never free; nothing was filed: `audit` says what lies there"
    )]
    Crowded {
        /// The place.
        place: String,
    },
    /// A place that went away while it was read.
    #[error("{place}: the archive went away while it was read")]
    Away {
        /// The place.
        place: String,
    },
    /// A place where one writer can replace what another put.
    #[error(
        "{place}: this place let a write replace what lay there, or lost its archive.json: no archive can be kept here; \
         nothing was filed"
    )]
    Replaces {
        /// The place.
        place: String,
    },
    /// The place would not.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The index would not.
    #[error(transparent)]
    Index(#[from] IndexError),
    /// A file of the job could not be read, or one laid out or an index not be written.
    #[error("{name}: {source}")]
    Disk {
        /// The file.
        name: String,
        /// Why.
        source: io::Error,
    },
    /// Reading or writing between two places.
    #[error("{0}")]
    Copy(#[from] io::Error),
}

impl ArchiveError {
    /// Whether the request was wrong, so that nothing was written.
    #[must_use]
    pub fn is_rejection(&self) -> bool {
        matches!(
            self,
            Self::NoArchive { .. }
                | Self::NotEmpty { .. }
                | Self::Foreign { .. }
                | Self::Items(_)
                | Self::NoRecord { .. }
                | Self::NoFile { .. }
        )
    }
}
