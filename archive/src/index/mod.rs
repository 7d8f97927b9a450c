//! An index of an archive, in a file of the user's cache: made from the archive, and made anew whenever the two
//! disagree.

mod find;
mod held;
mod kept;
mod row;
mod schema;
#[cfg(test)]
mod tests;
mod texts;
mod unread;
mod update;

use std::path::{Path, PathBuf};

use rusqlite::{Connection, TransactionBehavior};

use crate::archive::Archive;
use crate::error::ArchiveError;

pub use find::{Found, Query};
pub use held::Held;
pub use unread::Unread;

/// How a word of a summary is written where it is compared: words that come to one are the same. An archive knows nothing of names,
/// so that whoever opens an index says it, and always the same.
pub type Fold = fn(&str) -> String;

/// An index.
#[derive(Debug)]
pub struct Index {
    path: PathBuf,
    connection: Connection,
    fold: Fold,
}

/// The index itself would not.
#[derive(Debug, thiserror::Error)]
#[error("the index {at}: {source}")]
pub struct IndexError {
    /// Its file.
    pub at: String,
    /// Why.
    pub source: rusqlite::Error,
}

/// What an update did.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Updated {
    /// Records read.
    pub read: u32,
    /// Whether the index was missing, or not one of this archive as it is, and was made anew.
    pub anew: bool,
}

impl Index {
    /// The index in a file, brought up to the archive: records that it has are not read again.
    ///
    /// # Errors
    /// What the archive or the disk refuses. A file that is no index, or a damaged one, is made anew.
    pub fn open(
        path: &Path,
        archive: &Archive,
        fold: Fold,
        watch: &mut dyn FnMut(u32, u32),
    ) -> Result<(Self, Updated), ArchiveError> {
        let mut anew = false;
        for _ in 0..3 {
            match Self::opened(path, fold) {
                Ok(mut index) => match index.update(archive, watch) {
                    Err(ArchiveError::Index(e)) if is_damage(&e.source) => {}
                    Err(other) => return Err(other),
                    Ok(updated) => return Ok((index, Updated { anew: updated.anew || anew, ..updated })),
                },
                Err(e) if is_damage(&e.source) => {}
                Err(e) => return Err(e.into()),
            }
            anew = true;
            remove(path)?;
        }
        let source = std::io::Error::other("it is found damaged each time that it was made anew");
        Err(ArchiveError::Disk { name: path.display().to_string(), source })
    }

    fn opened(path: &Path, fold: Fold) -> Result<Self, IndexError> {
        let wrong = |source| IndexError { at: path.display().to_string(), source };
        let connection = Connection::open(path).map_err(wrong)?;
        schema::prepare(&connection).map_err(wrong)?;
        Ok(Self { path: path.to_owned(), connection, fold })
    }

    /// What the database says of itself: `None` where it finds nothing wrong.
    ///
    /// # Errors
    /// A file so spoiled that it cannot be asked.
    pub fn check(&self) -> Result<Option<String>, ArchiveError> {
        let said = self.connection.query_row("PRAGMA integrity_check(1)", [], |row| row.get::<_, String>(0));
        let said = said.map_err(|e| self.wrong(e))?;
        Ok((said != "ok").then_some(said))
    }

    /// Makes it anew from the archive.
    ///
    /// # Errors
    /// What the archive or the disk refuses.
    pub fn again(
        path: &Path,
        archive: &Archive,
        fold: Fold,
        watch: &mut dyn FnMut(u32, u32),
    ) -> Result<Self, ArchiveError> {
        remove(path)?;
        Ok(Self::open(path, archive, fold, watch)?.0)
    }

    fn wrong(&self, source: rusqlite::Error) -> IndexError {
        IndexError { at: self.path.display().to_string(), source }
    }

    fn begin(&mut self) -> Result<rusqlite::Transaction<'_>, IndexError> {
        let at = self.path.display().to_string();
        self.connection
            .transaction_with_behavior(TransactionBehavior::Immediate)
            .map_err(|source| IndexError { at, source })
    }
}

/// Whether an error means that the file is spoiled or no index; a full disk or a locked or read-only file does not.
fn is_damage(error: &rusqlite::Error) -> bool {
    use rusqlite::ErrorCode::{
        CannotOpen, DatabaseBusy, DatabaseLocked, DiskFull, OutOfMemory, PermissionDenied, ReadOnly,
        SystemIoFailure,
    };
    match error {
        rusqlite::Error::SqliteFailure(e, _) => !matches!(
            e.code,
            CannotOpen
                | DatabaseBusy
                | DatabaseLocked
                | DiskFull
                | OutOfMemory
                | PermissionDenied
                | ReadOnly
                | SystemIoFailure
        ),
        _ => true,
    }
}

/// Takes the file away with what the database puts beside it.
fn remove(path: &Path) -> Result<(), ArchiveError> {
    for more in ["", "-journal", "-wal", "-shm"] {
        let mut name = path.as_os_str().to_owned();
        name.push(more);
        match std::fs::remove_file(name) {
            Err(source) if source.kind() != std::io::ErrorKind::NotFound => {
                return Err(ArchiveError::Disk { name: path.display().to_string(), source });
            }
            _ => {}
        }
    }
    Ok(())
}
