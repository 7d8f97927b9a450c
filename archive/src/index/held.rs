//! What was found, held against the records themselves: an index is never the truth.

use super::Found;
use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::several::several;

/// Records held at once.
const AT_ONCE: usize = 64;

/// Which of the records that were found the archive has otherwise.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Held {
    /// Numbers of records that are there and say something else.
    pub others: Vec<u32>,
    /// Numbers of those that were read once and cannot be now.
    pub unread: Vec<u32>,
}

impl Held {
    /// Of some that were found.
    ///
    /// # Errors
    /// An archive that went away.
    pub fn of(archive: &Archive, found: &[Found]) -> Result<Self, ArchiveError> {
        let mut held = Self::default();
        for some in found.chunks(AT_ONCE) {
            let alike = several(some, |one| {
                let record = archive.record(one.number).ok()?;
                Some(record.sha256 == one.sum && record.summary == one.summary)
            });
            if alike.iter().any(Option::is_none) {
                archive.still_there()?;
            }
            for (one, alike) in some.iter().zip(alike) {
                match alike {
                    Some(true) => {}
                    Some(false) => held.others.push(one.number),
                    None => held.unread.push(one.number),
                }
            }
        }
        Ok(held)
    }
}
