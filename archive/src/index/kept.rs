//! Small files of records, kept in the index once they were read: a family's figures without a thousand files opened.

use rusqlite::{OptionalExtension, TransactionBehavior, params};

use super::{Found, Index};
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::several::several;
use crate::sum::Sum;

/// Records read at once, and kept at once.
const AT_ONCE: usize = 64;
/// Larger ones are read from the archive each time, bytes.
const MOST_KEPT: usize = 1024 * 1024;

impl Index {
    /// The bytes of one file of each of some records, handed on one by one in their order; `None` where a record
    /// has none of that name, or none that can be read. What the index kept must still have its sum; all else is
    /// read from the archive, where the record must be the one that was found.
    ///
    /// # Errors
    /// A damaged index, and an archive that went away.
    pub fn files(
        &mut self,
        archive: &Archive,
        found: &[Found],
        name: &str,
        most_bytes: u64,
        take: &mut dyn FnMut(&Found, Option<Vec<u8>>),
    ) -> Result<(), ArchiveError> {
        for some in found.chunks(AT_ONCE) {
            let mut kept = Vec::with_capacity(some.len());
            for one in some {
                kept.push(self.kept(one, name).map_err(|e| self.wrong(e))?);
            }
            let missing: Vec<&Found> =
                some.iter().zip(&kept).filter(|(_, k)| k.is_none()).map(|(f, _)| f).collect();
            let read = several(&missing, |one| from_archive(archive, one, name, most_bytes));
            if read.iter().any(Option::is_none) {
                archive.still_there()?;
            }
            // An index that cannot be written to is still good for reading.
            let _ = self.keep(&missing, &read, name);
            let mut read = read.into_iter();
            for (one, kept) in some.iter().zip(kept) {
                take(one, kept.or_else(|| read.next().flatten()));
            }
        }
        Ok(())
    }

    /// What was kept of a record, where it still has its sum.
    fn kept(&self, found: &Found, name: &str) -> rusqlite::Result<Option<Vec<u8>>> {
        let row = self
            .connection
            .prepare_cached(
                "SELECT content, bytes FROM kept WHERE number = ?1 AND record = ?2 AND name = ?3",
            )?
            .query_row(params![found.number, found.sum.to_string(), name], |row| {
                Ok((row.get::<_, String>(0)?, row.get::<_, Vec<u8>>(1)?))
            })
            .optional()?;
        Ok(row.filter(|(content, bytes)| Sum::parse(content) == Some(Sum::of(bytes))).map(|(_, bytes)| bytes))
    }

    fn keep(&mut self, found: &[&Found], read: &[Option<Vec<u8>>], name: &str) -> rusqlite::Result<()> {
        if read.iter().all(Option::is_none) {
            return Ok(());
        }
        let transaction = self.connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        for (one, bytes) in found.iter().zip(read) {
            if let Some(bytes) = bytes.as_ref().filter(|bytes| bytes.len() <= MOST_KEPT) {
                transaction
                    .prepare_cached("INSERT OR REPLACE INTO kept VALUES (?1, ?2, ?3, ?4, ?5)")?
                    .execute(params![
                        one.number,
                        one.sum.to_string(),
                        name,
                        Sum::of(bytes).to_string(),
                        bytes
                    ])?;
            }
        }
        transaction.commit()
    }
}

fn from_archive(archive: &Archive, found: &Found, name: &str, most_bytes: u64) -> Option<Vec<u8>> {
    let record = archive.record(found.number).ok().filter(|record| record.sha256 == found.sum)?;
    let entry = record.file(name).filter(|entry| entry.bytes <= most_bytes)?;
    let mut bytes = Vec::new();
    archive.give_back(entry, &mut bytes).ok()?;
    Some(bytes)
}
