//! The update of an index from its archive, reading only what is new.

use rusqlite::{Connection, Transaction, params};

use super::{Index, IndexError, Updated, schema};
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::record::Record;
use crate::several::several;
use crate::sum::Sum;

/// Records between two commits: a kill loses no more than these.
const BATCH: u32 = 2000;
/// Records read at once; with their texts no more than 64 MiB.
const AT_ONCE: usize = 16;
/// How much of a file, and of all files of a record together, is searched for words, bytes.
const MOST_TEXT: u64 = 1024 * 1024;
const MOST_TEXTS: usize = 4 * 1024 * 1024;

impl Index {
    /// Reads the records that are new. An index that does not fit the archive is emptied first.
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
        loop {
            let from = upto(&self.connection).map_err(|e| self.wrong(e))?.0;
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
        let transaction = self.begin()?;
        // Another process may have added records while this one waited.
        let row = transaction.query_row("SELECT number FROM upto", [], |row| row.get::<_, u32>(0));
        if row.unwrap_or(0) != from {
            return Ok(0);
        }
        let to = last.min(from.saturating_add(BATCH));
        let (mut read, mut end) = (0, None);
        let all: Vec<u32> = (from + 1..=to).collect();
        for some in all.chunks(AT_ONCE) {
            // A spoiled record is left out of the index; `audit` names it.
            let found = several(some, |number| {
                let record = archive.record(*number).ok()?;
                let texts = notes(archive, &record);
                Some((record, texts))
            });
            // Where the place went away no record counts as spoiled: it is read the next time.
            if found.iter().any(|one| one.as_ref().is_none_or(|(_, (_, all))| !all)) {
                archive.still_there()?;
            }
            for (record, (texts, _)) in found.into_iter().flatten() {
                put(&transaction, &record, texts).map_err(wrong)?;
                read += 1;
                end = Some(record.sha256);
            }
        }
        let sum = end.map(|sum| sum.to_string()).unwrap_or_default();
        transaction.execute("DELETE FROM upto", []).map_err(wrong)?;
        transaction.execute("INSERT INTO upto VALUES (?1, ?2)", params![to, sum]).map_err(wrong)?;
        transaction.commit().map_err(wrong)?;
        Ok(read)
    }
}

/// The last record that an index has, with its sum; 0 where it has none.
fn upto(connection: &Connection) -> rusqlite::Result<(u32, Option<Sum>)> {
    let row = |row: &rusqlite::Row<'_>| Ok((row.get::<_, u32>(0)?, row.get::<_, String>(1)?));
    match connection.query_row("SELECT number, sum FROM upto", [], row) {
        Ok((number, sum)) => Ok((number, Sum::parse(&sum))),
        Err(rusqlite::Error::QueryReturnedNoRows) => Ok((0, None)),
        Err(e) => Err(e),
    }
}

/// Whether an index is of this form and of this archive as it is.
fn stands(connection: &Connection, archive: &Archive, last: u32) -> rusqlite::Result<bool> {
    if !schema::is_known(connection)? {
        return Ok(false);
    }
    let (number, sum) = upto(connection)?;
    Ok(fits(archive, number, sum, last))
}

/// Whether the archive still has the last record of the index.
fn fits(archive: &Archive, number: u32, sum: Option<Sum>, last: u32) -> bool {
    match number {
        0 => true,
        number if number > last => false,
        number => match archive.record(number) {
            Ok(record) => Some(record.sha256) == sum,
            // The record may be spoiled; what the index has of the others is still good.
            Err(_) => true,
        },
    }
}

fn put(transaction: &Transaction<'_>, record: &Record, notes: Vec<String>) -> rusqlite::Result<()> {
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
                .execute(params![what, word.to_lowercase(), number])?;
            texts.push(word.clone());
        }
    }
    for (what, [least, most]) in &record.summary.ranges {
        transaction
            .prepare_cached("INSERT OR IGNORE INTO figure VALUES (?1, ?2, ?3, ?4)")?
            .execute(params![what, number, least, most])?;
    }
    texts.extend(notes);
    transaction
        .prepare_cached("INSERT INTO text (rowid, words) VALUES (?1, ?2)")?
        .execute(params![number, texts.join("\n")])?;
    Ok(())
}

/// The texts of a record in which words are looked for, and whether all could be read; what is spoiled or too much is
/// left out.
fn notes(archive: &Archive, record: &Record) -> (Vec<String>, bool) {
    let (mut texts, mut total, mut all) = (Vec::new(), 0_usize, true);
    for file in record.files.iter().filter(|f| f.words && f.bytes <= MOST_TEXT) {
        let mut bytes = Vec::new();
        if archive.give_back(file, &mut bytes).is_err() {
            all = false;
            continue;
        }
        total = total.saturating_add(bytes.len());
        if total > MOST_TEXTS {
            break;
        }
        texts.push(file.name.rsplit('/').next().unwrap_or_default().to_owned());
        texts.push(String::from_utf8_lossy(&bytes).into_owned());
    }
    (texts, all)
}
