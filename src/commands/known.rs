//! Where this computer last saw an archive end: a copy that was put back from a backup ends before it.

use std::path::{Path, PathBuf};

use borewright_archive::{Archive, Head, Sum};
use serde::{Deserialize, Serialize};

use crate::cache;
use crate::place::Place;
use crate::status::{self, Failure, shown};

/// Its file in an archive's folder of the cache.
const FILE: &str = "last-seen.json";

#[derive(Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Seen {
    number: u32,
    sum: Sum,
}

/// What is known of an archive's end; nothing where there is no cache.
pub(super) struct Known {
    path: Option<PathBuf>,
    head: Option<Head>,
}

impl Known {
    pub(super) fn of(cache: Option<&Path>, place: &Place) -> Self {
        let path = cache::folder(cache, place).ok().map(|folder| folder.join(FILE));
        let seen: Option<Seen> =
            path.as_deref().and_then(cache::get).and_then(|bytes| serde_json::from_slice(&bytes).ok());
        Self { path, head: seen.map(|seen| Head { number: seen.number, sum: seen.sum }) }
    }

    /// The last record that was seen.
    pub(super) fn head(&self) -> Option<Head> {
        self.head
    }

    /// In a sentence, how the archive is behind what was seen of it; `None` where it is not. A record that cannot be read
    /// is for `audit`.
    ///
    /// # Errors
    /// What the archive refuses.
    pub(super) fn behind(&self, archive: &Archive) -> Result<Option<String>, Failure> {
        let Some(head) = self.head else { return Ok(None) };
        let (number, short, last) = (head.number, head.sum.short(), archive.last()?);
        if last < number {
            return Ok(Some(format!(
                "an archive that ends at record {last}, where it went on to record {number} ({short}) when this computer \
                 last looked at it: an older copy was put back, or records were taken away"
            )));
        }
        let other = archive.record(number).is_ok_and(|record| record.sha256 != head.sum);
        Ok(other.then(|| {
            format!(
                "an archive whose record {number} is another than the one that this computer last saw there ({short}): \
                 another copy was put in its place"
            )
        }))
    }

    /// What to do about it.
    pub(super) fn way_out(&self) -> String {
        let file = self.path.as_deref().map_or_else(|| FILE.to_owned(), shown);
        format!("if there is no newer copy any more, note that in the paper log and take away {file}")
    }

    /// Remembers where it ends now.
    pub(super) fn saw(&mut self, head: Head) {
        let unchanged = self.head == Some(head);
        self.head = Some(head);
        if let (false, Some(path), Ok(bytes)) =
            (unchanged, &self.path, serde_json::to_vec(&Seen { number: head.number, sum: head.sum }))
        {
            cache::put(path, &bytes);
        }
    }

    /// Remembers where it ends now, unless it is behind; a last record that cannot be read is not remembered.
    ///
    /// # Errors
    /// What the archive refuses.
    pub(super) fn looked_at(&mut self, archive: &Archive) -> Result<Option<String>, Failure> {
        let behind = self.behind(archive)?;
        if behind.is_none()
            && let Ok(record) = archive.record(archive.last()?)
        {
            self.saw(Head { number: record.number, sum: record.sha256 });
        }
        Ok(behind)
    }

    /// Says on standard error where it is behind, and what to do about it; gives the same without the place.
    ///
    /// # Errors
    /// What the archive refuses.
    pub(super) fn remark(
        cache: Option<&Path>,
        place: &Place,
        archive: &Archive,
    ) -> Result<Option<String>, Failure> {
        let mut known = Self::of(cache, place);
        let behind = known.looked_at(archive)?.map(|behind| format!("{behind}; {}", known.way_out()));
        if let Some(behind) = &behind {
            status::remark(&[format!("{}: {behind}", place.told())]);
        }
        Ok(behind)
    }

    /// Forgets what was seen: an archive was begun anew in its place.
    pub(super) fn forget(&mut self) {
        self.head = None;
    }
}
