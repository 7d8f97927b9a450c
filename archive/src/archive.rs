//! An archive: begun once, records read by number, files read back.

use std::collections::BTreeSet;
use std::io::{Read, Write};

use crate::astray::{Among, astray};
use crate::error::ArchiveError;
use crate::key;
use crate::record::{self, Entry, Record, Unreadable};
use crate::store::{Kind, Opened, Put, Store};
use crate::sum::{self, Sum};

/// What an archive calls itself.
pub(crate) const FORMAT: &str = "borewright/archive/1";

/// An archive in a place.
#[derive(Debug)]
pub struct Archive {
    store: Box<dyn Store>,
}

/// What the mark of an archive holds, to the byte.
fn mark() -> String {
    format!("{{\n  \"format\": \"{FORMAT}\"\n}}\n")
}

impl Archive {
    /// The archive that is there.
    ///
    /// # Errors
    /// A place that is none, and what it refuses.
    pub fn open(store: Box<dyn Store>) -> Result<Self, ArchiveError> {
        let Some(found) = store.get(key::MARK)? else {
            let found = if store.list("")?.is_empty() { "nothing" } else { "a folder that is no archive" };
            return Err(ArchiveError::NoArchive { place: store.place(), found });
        };
        let mut text = String::new();
        let known = found.reader.take(1000).read_to_string(&mut text).is_ok() && text == mark();
        if !known {
            return Err(ArchiveError::Foreign { place: store.place(), expected: FORMAT });
        }
        Ok(Self { store })
    }

    /// A new archive in a new or empty place; the one that is there where it was begun before.
    ///
    /// # Errors
    /// A place that holds anything else, and what it refuses.
    pub fn begin(store: Box<dyn Store>) -> Result<Self, ArchiveError> {
        if store.bytes(key::MARK)?.is_none() {
            // Files that a kill left while the archive was being begun do not make the place count as occupied.
            if store.list("")?.iter().any(|l| l.name != "beside" || l.kind != Kind::Folder) {
                let found = "a folder with other things in it";
                return Err(ArchiveError::NotEmpty { place: store.place(), found });
            }
            store.make()?;
            store.put(key::MARK, &mut mark().as_bytes())?;
        }
        Self::open(store)
    }

    /// The place.
    #[must_use]
    pub fn store(&self) -> &dyn Store {
        self.store.as_ref()
    }

    /// Fails where the place is no longer there: what cannot be read in a place that went away is not told as
    /// spoiled.
    ///
    /// # Errors
    /// It went away, or cannot be asked.
    pub fn still_there(&self) -> Result<(), ArchiveError> {
        match self.store.bytes(key::MARK)? {
            Some(_) => Ok(()),
            None => Err(ArchiveError::Away { place: self.store.place() }),
        }
    }

    /// Refuses a place that lets a writer replace what lies there: its own mark is put once more, the same bytes.
    pub(crate) fn keeps_what_was_first(&self) -> Result<(), ArchiveError> {
        match self.store.put(key::MARK, &mut mark().as_bytes())? {
            Put::Taken => Ok(()),
            Put::New => Err(ArchiveError::Replaces { place: self.store.place() }),
        }
    }

    /// The highest number of a record; 0 where there is none. Three short lists, however many there are.
    ///
    /// # Errors
    /// What the place refuses.
    pub fn last(&self) -> Result<u32, ArchiveError> {
        for outer in self.parts(key::RECORDS)? {
            for inner in self.parts(&outer)? {
                let files = self.store.list(&inner)?;
                let own = |n: &u32| key::record(*n).starts_with(&format!("{inner}/"));
                if let Some(last) = files.iter().filter_map(|f| key::number_of(&f.name)).filter(own).max() {
                    return Ok(last);
                }
            }
        }
        Ok(0)
    }

    /// The folders below one of the records', last first.
    fn parts(&self, folder: &str) -> Result<Vec<String>, ArchiveError> {
        let listed = self.store.list(folder)?;
        let own = listed.iter().rev().filter(|l| l.kind == Kind::Folder && key::is_part(&l.name));
        Ok(own.map(|l| format!("{folder}/{}", l.name)).collect())
    }

    /// A record by its number.
    ///
    /// # Errors
    /// None there, one that is damaged, and what the place refuses.
    pub fn record(&self, number: u32) -> Result<Record, ArchiveError> {
        let bytes = self.record_bytes(number)?.ok_or_else(|| ArchiveError::NoRecord {
            asked: number.to_string(),
            expected: "the number of one that was filed".to_owned(),
        })?;
        let record = Record::read(&bytes).map_err(|why| ArchiveError::Record { number, why })?;
        if record.number != number {
            return Err(ArchiveError::Misplaced { number, found: record.number });
        }
        Ok(record)
    }

    /// The bytes of a record as they lie there, whatever they are; `None` where nothing lies.
    ///
    /// # Errors
    /// One larger than a record, and what the place refuses.
    pub(crate) fn record_bytes(&self, number: u32) -> Result<Option<Vec<u8>>, ArchiveError> {
        let too_large =
            || ArchiveError::Record { number, why: Unreadable::Foreign("more than 16 MiB".to_owned()) };
        self.small(&key::record(number))?.map(|bytes| bytes.ok_or_else(too_large)).transpose()
    }

    /// What lies under a key, read whole; `Some(None)` where it is larger than any record.
    #[expect(clippy::option_option, reason = "nothing there and too much there are two things")]
    pub(crate) fn small(&self, key: &str) -> Result<Option<Option<Vec<u8>>>, ArchiveError> {
        let Some(Opened { reader, bytes }) = self.store.get(key)? else { return Ok(None) };
        if bytes > record::MOST_BYTES {
            return Ok(Some(None));
        }
        let mut read = Vec::new();
        reader.take(record::MOST_BYTES + 1).read_to_end(&mut read)?;
        let fits = u64::try_from(read.len()).is_ok_and(|len| len <= record::MOST_BYTES);
        Ok(Some(fits.then_some(read)))
    }

    /// A record by what a person says of it: its number, `last`, or the short form of its sum or of a sum that its
    /// summary names, of which the newest counts.
    ///
    /// # Errors
    /// None there, one that is damaged, and what the place refuses.
    pub fn asked(&self, asked: &str) -> Result<Record, ArchiveError> {
        let last = self.last()?;
        if asked == "last" && last > 0 {
            return self.record(last);
        }
        if let Some(number) = asked.parse().ok().filter(|n| (1..=last).contains(n)) {
            return self.record(number);
        }
        // A short form comes from the paper log or from a paper of the job; the newest records are tried first, since
        // those are asked for most.
        if sum::is_prefix(asked) {
            for number in (1..=last).rev() {
                if let Ok(record) = self.record(number)
                    && (record.sha256.begins_with(asked) || record.summary.has_sum(asked))
                {
                    return Ok(record);
                }
            }
        }
        let expected = match last {
            0 => "a record; the archive has none yet".to_owned(),
            _ => format!("a number up to {last}, the short form of a sum, or `last`"),
        };
        let shown = asked.chars().take(60).map(|c| if c.is_control() { '?' } else { c }).collect();
        Err(ArchiveError::NoRecord { asked: shown, expected })
    }

    /// Keys of other files that lie beside some records under their numbers, as a program that keeps two computers alike
    /// puts them there where both wrote one: in the records' own folder, or in one beside it. Each folder is listed once.
    ///
    /// # Errors
    /// What the place refuses.
    pub fn beside(&self, numbers: &BTreeSet<u32>) -> Result<Vec<(u32, String)>, ArchiveError> {
        let found = astray(self.store(), &Among::of(numbers))?.into_iter();
        let numbered = found.filter(|a| a.kind != Kind::Folder).filter_map(|a| Some((a.number()?, a.key)));
        let mut beside: Vec<(u32, String)> =
            numbered.filter(|(number, _)| numbers.contains(number)).collect();
        beside.sort();
        Ok(beside)
    }

    /// A record under a key as [`Archive::beside`] gives it; `None` of what is none, or cannot be read.
    ///
    /// # Errors
    /// The place went away.
    pub fn lying_at(&self, key: &str) -> Result<Option<Record>, ArchiveError> {
        match self.small(key) {
            Ok(bytes) => Ok(bytes.flatten().and_then(|bytes| Record::read(&bytes).ok())),
            Err(_) => self.still_there().map(|()| None),
        }
    }

    /// Writes a file's bytes, held against their sum before the first is written and again on the way.
    ///
    /// # Errors
    /// Content that is gone or is not what it was, what the place refuses, and whoever is written to.
    pub fn give_back(&self, file: &Entry, to: &mut dyn Write) -> Result<(), ArchiveError> {
        self.hold(file)?;
        let damaged = |why| ArchiveError::Content { name: file.name.clone(), why };
        let mut reader = self.content(file)?.reader;
        let (sum, _) = Sum::through(&mut reader, |piece| to.write_all(piece))?;
        if sum != file.sha256 {
            return Err(damaged("its kept bytes changed while they were read"));
        }
        Ok(())
    }

    /// The first bytes of a kept file, no more than so many, once all of it was held against its length and sum.
    ///
    /// # Errors
    /// Content that is gone or is not what it was, and what the place refuses.
    pub(crate) fn beginning(&self, file: &Entry, most: u64) -> Result<Vec<u8>, ArchiveError> {
        let damaged = |why| ArchiveError::Content { name: file.name.clone(), why };
        let Opened { mut reader, bytes } = self.content(file)?;
        if bytes != file.bytes {
            return Err(damaged("its kept bytes are not as many as they were"));
        }
        let (mut kept, most) = (Vec::new(), usize::try_from(most).unwrap_or(usize::MAX));
        let (sum, _) = Sum::through(&mut reader, |piece| {
            let room = most.saturating_sub(kept.len()).min(piece.len());
            kept.extend_from_slice(piece.get(..room).unwrap_or_default());
            Ok(())
        })?;
        if sum != file.sha256 {
            return Err(damaged("its kept bytes do not have their sum"));
        }
        Ok(kept)
    }

    /// Holds a kept file against its length and sum.
    ///
    /// # Errors
    /// Content that is gone or is not what it was, and what the place refuses.
    pub fn hold(&self, file: &Entry) -> Result<(), ArchiveError> {
        let damaged = |why| ArchiveError::Content { name: file.name.clone(), why };
        let Opened { mut reader, bytes } = self.content(file)?;
        if bytes != file.bytes {
            return Err(damaged("its kept bytes are not as many as they were"));
        }
        if Sum::of_reader(&mut reader)?.0 != file.sha256 {
            return Err(damaged("its kept bytes do not have their sum"));
        }
        Ok(())
    }

    fn content(&self, file: &Entry) -> Result<Opened, ArchiveError> {
        let gone = || ArchiveError::Content { name: file.name.clone(), why: "its kept bytes are gone" };
        let Opened { reader, bytes } = self.store.get(&key::content(&file.sha256))?.ok_or_else(gone)?;
        // Reads no more bytes than the record says, whatever lies there.
        Ok(Opened { reader: Box::new(reader.take(file.bytes.saturating_add(1))), bytes })
    }

    /// Puts a sealed record into its place.
    pub(crate) fn put_record(&self, number: u32, bytes: &[u8]) -> Result<Put, ArchiveError> {
        Ok(self.store.put(&key::record(number), &mut &*bytes)?)
    }
}
