//! Records that an index could not read, or not all of: it remembers which, tells them, and tries these again at each
//! update.

use rusqlite::{Connection, OptionalExtension};

use super::row::{AT_ONCE, Read, put, read, take_out};
use super::{Index, IndexError};
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::several::several;

/// What of an archive could not be read when its index was last brought up to it: numbers of records, in order.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Unread {
    /// Records of which nothing is found.
    pub records: Vec<u32>,
    /// Records of which some notes are not searched, since their bytes cannot be read.
    pub texts: Vec<u32>,
}

/// One of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct One {
    number: u32,
    /// How many of its files could not be read; `None` where the record itself could not.
    texts: Option<u32>,
}

impl Index {
    /// What could not be read of the archive.
    ///
    /// # Errors
    /// A damaged index.
    pub fn unread(&self) -> Result<Unread, ArchiveError> {
        let mut unread = Unread::default();
        for one in all(&self.connection).map_err(|e| self.wrong(e))? {
            let to = if one.texts.is_some() { &mut unread.texts } else { &mut unread.records };
            to.push(one.number);
        }
        Ok(unread)
    }

    /// Tries again what could not be read before, and nothing else; how many records can be read now. Nothing is
    /// written where nothing changed.
    pub(super) fn try_again(&mut self, archive: &Archive) -> Result<u32, ArchiveError> {
        let before = all(&self.connection).map_err(|e| self.wrong(e))?;
        let mut count = 0;
        for some in before.chunks(AT_ONCE) {
            let found = several(some, |one| read(archive, one.number));
            if found.iter().any(|read| read.as_ref().is_none_or(|read| read.lacking > 0)) {
                archive.still_there()?;
            }
            let better: Vec<(One, Read)> = some
                .iter()
                .zip(found)
                .filter_map(|(one, read)| Some((*one, read?)))
                .filter(|(one, read)| one.texts.is_none_or(|lacking| read.lacking < lacking))
                .collect();
            if better.is_empty() {
                continue;
            }
            let at = self.path.display().to_string();
            let wrong = |source| IndexError { at: at.clone(), source };
            let fold = self.fold;
            let transaction = self.begin()?;
            for (one, read) in better {
                // Another process may have been first, or may have made the index anew.
                if of(&transaction, one.number).map_err(wrong)? != Some(one) {
                    continue;
                }
                take_out(&transaction, one.number).map_err(wrong)?;
                put(&transaction, &read, fold).map_err(wrong)?;
                count += 1;
            }
            transaction.commit().map_err(wrong)?;
        }
        Ok(count)
    }
}

fn all(connection: &Connection) -> rusqlite::Result<Vec<One>> {
    let mut all = connection.prepare_cached("SELECT number, texts FROM unread ORDER BY number")?;
    all.query_map([], one)?.collect()
}

fn of(connection: &Connection, number: u32) -> rusqlite::Result<Option<One>> {
    let sql = "SELECT number, texts FROM unread WHERE number = ?1";
    connection.prepare_cached(sql)?.query_row([number], one).optional()
}

fn one(row: &rusqlite::Row<'_>) -> rusqlite::Result<One> {
    Ok(One { number: row.get(0)?, texts: row.get(1)? })
}
