//! The update of an index from its archive, reading only what is new.

use rusqlite::{Connection, OptionalExtension, params};

use super::row::{AT_ONCE, put, read, remember};
use super::{Index, IndexError, Updated, schema};
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::several::several;
use crate::sum::Sum;

/// Records between two commits: a kill loses no more than these.
const BATCH: u32 = 2000;

impl Index {
    /// Reads the records that are new, and those that could not be read before. An index that does not fit the archive
    /// is emptied first.
    pub(super) fn update(
        &mut self,
        archive: &Archive,
        watch: &mut dyn FnMut(u32, u32),
    ) -> Result<Updated, ArchiveError> {
        let last = archive.last()?;
        let mut updated = Updated::default();
        if !stands(&self.connection, archive, last).map_err(|e| self.wrong(e))? {
            let at = self.path.display().to_string();
            let wrong = |source| IndexError { at: at.clone(), source };
            let transaction = self.begin()?;
            // Another process may have made the index anew while this one waited, and others may be reading it; it
            // is emptied only if it still does not fit.
            if !stands(&transaction, archive, archive.last()?).map_err(wrong)? {
                schema::make(&transaction).and_then(|()| transaction.commit()).map_err(wrong)?;
                updated.anew = true;
            }
        }
        updated.read += self.try_again(archive)?;
        loop {
            let from = upto(&self.connection).map_err(|e| self.wrong(e))?;
            // Another process may have brought the index beyond the last record counted here.
            watch(from.min(last), last);
            if from >= last {
                return Ok(updated);
            }
            updated.read += self.batch(archive, from, last)?;
        }
    }

    /// Reads some records after `from`; how many.
    fn batch(&mut self, archive: &Archive, from: u32, last: u32) -> Result<u32, ArchiveError> {
        let at = self.path.display().to_string();
        let wrong = |source| IndexError { at: at.clone(), source };
        let fold = self.fold;
        let transaction = self.begin()?;
        // Another process may have added records while this one waited.
        let row = transaction.query_row("SELECT number FROM upto", [], |row| row.get::<_, u32>(0));
        if row.unwrap_or(0) != from {
            return Ok(0);
        }
        let to = last.min(from.saturating_add(BATCH));
        let mut count = 0;
        let all: Vec<u32> = (from + 1..=to).collect();
        for some in all.chunks(AT_ONCE) {
            let found = several(some, |number| read(archive, *number));
            // Where the place went away no record counts as spoiled: it is read the next time.
            if found.iter().any(|one| one.as_ref().is_none_or(|read| read.lacking > 0)) {
                archive.still_there()?;
            }
            for (number, found) in some.iter().zip(found) {
                match found {
                    Some(read) => {
                        put(&transaction, &read, fold).map_err(wrong)?;
                        count += 1;
                    }
                    // It may only be out of reach now; `audit` names what is spoiled.
                    None => remember(&transaction, *number, None).map_err(wrong)?,
                }
            }
        }
        transaction.execute("DELETE FROM upto", []).map_err(wrong)?;
        transaction.execute("INSERT INTO upto VALUES (?1)", params![to]).map_err(wrong)?;
        transaction.commit().map_err(wrong)?;
        Ok(count)
    }
}

/// The last record that was asked for; 0 where none was.
fn upto(connection: &Connection) -> rusqlite::Result<u32> {
    let upto = connection.query_row("SELECT number FROM upto", [], |row| row.get(0)).optional()?;
    Ok(upto.unwrap_or(0))
}

/// Whether an index is of this form and of this archive as it is: the archive still has the last record of the index.
fn stands(connection: &Connection, archive: &Archive, last: u32) -> rusqlite::Result<bool> {
    if !schema::is_known(connection)? || upto(connection)? > last {
        return Ok(false);
    }
    let newest = "SELECT number, sum FROM record ORDER BY number DESC LIMIT 1";
    let row = |row: &rusqlite::Row<'_>| Ok((row.get::<_, u32>(0)?, row.get::<_, String>(1)?));
    Ok(match connection.query_row(newest, [], row).optional()? {
        None => true,
        // The record may be spoiled; what the index has of the others is still good.
        Some((number, sum)) => archive.record(number).map_or(true, |r| Some(r.sha256) == Sum::parse(&sum)),
    })
}
