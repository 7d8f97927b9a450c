//! A record in the index: read from the archive, put in, taken out, and what of it could not be read.

use rusqlite::{Transaction, params};

use super::Fold;
use super::texts::texts;
use crate::archive::Archive;
use crate::record::Record;

/// Records read at once; with their texts no more than 64 MiB as they lie in the archive.
pub(super) const AT_ONCE: usize = 16;

/// What was read of a record.
pub(super) struct Read {
    record: Record,
    texts: Vec<String>,
    /// Files in which words are looked for and that could not be read.
    pub(super) lacking: u32,
}

/// A record with its texts; `None` where it cannot be read.
pub(super) fn read(archive: &Archive, number: u32) -> Option<Read> {
    let record = archive.record(number).ok()?;
    let (texts, lacking) = texts(archive, &record);
    Some(Read { record, texts, lacking })
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
        lacking => remember(transaction, number, Some(*lacking)),
    }
}

/// Remembers of a record what could not be read: so many files, or with `None` the record itself.
pub(super) fn remember(
    transaction: &Transaction<'_>,
    number: u32,
    texts: Option<u32>,
) -> rusqlite::Result<()> {
    let mut put = transaction.prepare_cached("INSERT OR REPLACE INTO unread VALUES (?1, ?2)")?;
    put.execute(params![number, texts]).map(drop)
}
