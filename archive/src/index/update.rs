//! The update of an index from its archive, reading only what is new.

use rusqlite::{Connection, OptionalExtension, Transaction, params};

use super::texts::texts;
use super::{Fold, Index, IndexError, Updated, schema, unread};
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::record::Record;
use crate::several::several;
use crate::sum::Sum;

/// Records between two commits: a kill loses no more than these.
const BATCH: u32 = 2000;
/// Records read at once; with their texts no more than 64 MiB as they lie in the archive.
pub(super) const AT_ONCE: usize = 16;

/// What was read of a record.
pub(super) struct Read {
    record: Record,
    texts: Vec<String>,
    /// Files in which words are looked for and that could not be read.
    pub(super) lacking: u32,
}

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
                    None => unread::remember(&transaction, *number, None).map_err(wrong)?,
                }
            }
        }
        transaction.execute("DELETE FROM upto", []).map_err(wrong)?;
        transaction.execute("INSERT INTO upto VALUES (?1)", params![to]).map_err(wrong)?;
        transaction.commit().map_err(wrong)?;
        Ok(count)
    }
}

/// A record with its texts; `None` where it cannot be read.
pub(super) fn read(archive: &Archive, number: u32) -> Option<Read> {
    let record = archive.record(number).ok()?;
    let (texts, lacking) = texts(archive, &record);
    Some(Read { record, texts, lacking })
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

/// Takes a record out, so that it can be put in anew.
pub(super) fn take_out(transaction: &Transaction<'_>, number: u32) -> rusqlite::Result<()> {
    for table in ["unread", "record", "word", "figure"] {
        transaction.execute(&format!("DELETE FROM {table} WHERE number = ?1"), [number])?;
    }
    transaction.execute("DELETE FROM text WHERE rowid = ?1", [number]).map(drop)
}

/// Puts in a record that is not there.
pub(super) fn put(transaction: &Transaction<'_>, read: &Read, fold: Fold) -> rusqlite::Result<()> {
    let Read { record, texts: notes, lacking } = read;
    let number = record.number;
    let summary = serde_json::to_string(&record.summary).unwrap_or_default();
    transaction.prepare_cached("INSERT INTO record VALUES (?1, ?2, ?3, ?4)")?.execute(params![
        number,
        record.sha256.to_string(),
        record.at.seconds(),
        summary
    ])?;
    let mut texts = vec![record.summary.title.clone()];
    for (what, words) in &record.summary.words {
        for word in words {
            transaction
                .prepare_cached("INSERT OR IGNORE INTO word VALUES (?1, ?2, ?3)")?
                .execute(params![what, fold(word), number])?;
            texts.push(word.clone());
        }
    }
    for (what, [least, most]) in &record.summary.ranges {
        transaction
            .prepare_cached("INSERT OR IGNORE INTO figure VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![what, number, least, most])?;
    }
    texts.extend_from_slice(notes);
    transaction
        .prepare_cached("INSERT INTO text (rowid, words) VALUES (?1, ?2)")?
        .execute(params![number, texts.join("\n")])?;
    match lacking {
        0 => Ok(()),
        lacking => unread::remember(transaction, number, Some(*lacking)),
    }
}
