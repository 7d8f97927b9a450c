//! One record: which files with which sums, when, by which program, after which record; and its own sum.
//!
//! A record is a text of JSON whose last line but one is its own sum, over every byte before that line.

use serde::{Deserialize, Serialize};

use crate::name;
use crate::sum::Sum;
use crate::summary::Summary;
use crate::time::Time;

/// What the format calls itself.
pub(crate) const FORMAT: &str = "borewright/record/1";

/// Most files of a record; a job has some thirty, and a camera's card a few thousand.
pub(crate) const MOST_FILES: usize = 20_000;
/// Largest record, bytes: 20,000 files with long names.
pub(crate) const MOST_BYTES: u64 = 16 * 1024 * 1024;
/// Largest file, bytes: minutes of film.
pub(crate) const MOST_FILE_BYTES: u64 = 4 * 1024 * 1024 * 1024;
/// How much of a file is searched for words, bytes.
const MOST_TEXT: u64 = 1024 * 1024;
/// How much of all files of a record together is, bytes.
const MOST_TEXTS: u64 = 4 * 1024 * 1024;

/// One file of a record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// Its name in the record.
    pub name: String,
    /// How many bytes it has.
    pub bytes: u64,
    /// Their sum, under which the content lies in the archive.
    pub sha256: Sum,
    /// What other files of the record call it, where that is something else.
    #[serde(rename = "as", default, skip_serializing_if = "Option::is_none")]
    pub called: Option<String>,
    /// Whether its words are to be found.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub words: bool,
}

/// A record.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Record {
    /// `borewright/record/1`.
    pub format: String,
    /// Its place in the chain, counted from 1.
    pub number: u32,
    /// The sum of the record before it; `None` for the first.
    pub before: Option<Sum>,
    /// When it was filed.
    pub at: Time,
    /// Which program filed it, with its version.
    pub tool: String,
    /// What it is found by.
    pub summary: Summary,
    /// Its files, by name.
    pub files: Vec<Entry>,
    /// Its own sum; the writer works it out, the reader holds it against the bytes.
    #[serde(skip_serializing)]
    pub sha256: Sum,
}

/// Why bytes are no record.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum Unreadable {
    /// Its end is not that of a record.
    #[error("it does not end as a record does: cut off, or added to")]
    Cut,
    /// Its bytes do not have the sum at its end.
    #[error("its bytes do not have the sum that stands at its end")]
    Altered,
    /// Its bytes have their sum, and are no record of a format that is known here.
    #[error("its bytes have their sum, but are no record that this version reads: {0}")]
    Foreign(String),
}

const TAIL_HEAD: &str = ",\n  \"sha256\": \"";
const TAIL_END: &str = "\"\n}\n";
const TAIL: usize = TAIL_HEAD.len() + 64 + TAIL_END.len();

impl Record {
    /// The bytes of a record, its own sum worked out and put in.
    ///
    /// # Errors
    /// None that is known: text and numbers always serialise.
    pub fn sealed(&mut self) -> Result<Vec<u8>, serde_json::Error> {
        let mut text = serde_json::to_string_pretty(self)?;
        // Without the closing brace and the line end before it.
        text.truncate(text.len().saturating_sub(2));
        self.sha256 = Sum::of(text.as_bytes());
        text.push_str(TAIL_HEAD);
        text.push_str(&self.sha256.to_string());
        text.push_str(TAIL_END);
        Ok(text.into_bytes())
    }

    /// Reads a record back and holds its bytes against its own sum.
    ///
    /// # Errors
    /// Bytes that are cut off, altered, or no record.
    pub fn read(bytes: &[u8]) -> Result<Self, Unreadable> {
        let body = bytes.len().checked_sub(TAIL).ok_or(Unreadable::Cut)?;
        let (body, tail) = bytes.split_at_checked(body).ok_or(Unreadable::Cut)?;
        let sum = std::str::from_utf8(tail)
            .ok()
            .and_then(|tail| tail.strip_prefix(TAIL_HEAD)?.strip_suffix(TAIL_END))
            .and_then(Sum::parse)
            .ok_or(Unreadable::Cut)?;
        if Sum::of(body) != sum {
            return Err(Unreadable::Altered);
        }
        let record: Self = serde_json::from_slice(bytes).map_err(|e| Unreadable::Foreign(e.to_string()))?;
        match record.fault() {
            Some(fault) => Err(Unreadable::Foreign(fault)),
            None => Ok(record),
        }
    }

    /// Why the record must not be laid out, whoever wrote it; `None` where it may.
    fn fault(&self) -> Option<String> {
        if self.format != FORMAT {
            return Some(format!("its format is not {FORMAT}"));
        }
        if self.number == 0 || self.before.is_none() != (self.number == 1) {
            return Some("only the first record has none before it".to_owned());
        }
        if self.files.len() > MOST_FILES {
            return Some(format!("more than {MOST_FILES} files"));
        }
        let named = self.files.iter().find_map(|f| name::fault(&f.name));
        if let Some(fault) = named {
            return Some(fault.to_owned());
        }
        if !self.files.is_sorted_by(|a, b| a.name < b.name) {
            return Some("files that are not in the order of their names, or one named twice".to_owned());
        }
        if self.files.iter().any(|f| f.bytes > MOST_FILE_BYTES) {
            return Some("a file of more than 4 GiB".to_owned());
        }
        None
    }

    /// The bytes of all files together, each name counted.
    #[must_use]
    pub fn total_bytes(&self) -> u64 {
        self.files.iter().fold(0, |total, f| total.saturating_add(f.bytes))
    }

    /// Each file whose words are to be found, with how many of its first bytes are searched: no more than 1 MiB of one
    /// and 4 MiB of all together, in the order of their names.
    pub fn searched(&self) -> impl Iterator<Item = (&Entry, u64)> {
        let mut left = MOST_TEXTS;
        self.files.iter().filter(|f| f.words).map(move |file| {
            let bytes = file.bytes.min(MOST_TEXT).min(left);
            left = left.saturating_sub(bytes);
            (file, bytes)
        })
    }

    /// A file by its name.
    #[must_use]
    pub fn file(&self, name: &str) -> Option<&Entry> {
        let found = self.files.binary_search_by(|f| f.name.as_str().cmp(name)).ok()?;
        self.files.get(found)
    }
}

#[cfg(test)]
pub(crate) mod tests {
    use super::*;

    pub(crate) fn sample() -> Record {
        let entry = |name: &str, bytes: &[u8]| Entry {
            name: name.to_owned(),
            bytes: bytes.len() as u64,
            sha256: Sum::of(bytes),
            called: None,
            words: false,
        };
        Record {
            format: FORMAT.to_owned(),
            number: 2,
            before: Some(Sum::of(b"first")),
            at: Time::parse("2026-11-26T08:15:00Z").unwrap(),
            tool: "test 1".to_owned(),
            summary: Summary { title: "\"sha256\": \"no\"\n}\n".to_owned(), ..Summary::default() },
            files: vec![entry("a.txt", b"a"), entry("b/c.txt", b"c")],
            sha256: Sum::of(b""),
        }
    }

    #[test]
    fn a_record_comes_back_as_it_was_sealed() {
        let mut record = sample();
        let bytes = record.sealed().unwrap();
        assert_eq!(Record::read(&bytes), Ok(record));
        // The text must be JSON as a whole, and its sum that of all before the sum's line.
        let value: serde_json::Value = serde_json::from_slice(&bytes).unwrap();
        let text = String::from_utf8(bytes).unwrap();
        let at = text.rfind(",\n  \"sha256\"").unwrap();
        assert_eq!(value["sha256"], Sum::of(&text.as_bytes()[..at]).to_string());
    }

    #[test]
    fn every_flipped_bit_and_every_cut_is_found() {
        let bytes = sample().sealed().unwrap();
        for at in 0..bytes.len() {
            for bit in 0..8 {
                let mut altered = bytes.clone();
                altered[at] ^= 1 << bit;
                assert!(Record::read(&altered).is_err(), "byte {at}, bit {bit}");
            }
            assert!(Record::read(&bytes[..at]).is_err(), "cut at {at}");
        }
        for more in [b"\n".as_slice(), b" ", b"{}"] {
            assert!(Record::read(&[&bytes, more].concat()).is_err());
        }
    }

    #[test]
    fn of_long_files_the_beginning_is_searched_and_of_many_no_more_than_four_mebibytes() {
        const KIB: u64 = 1024;
        let mut record = sample();
        let sizes = [1, 1024, 1500, 1024, 1024, 1024, 7].map(|kib| kib * KIB);
        record.files = (0_u32..)
            .zip(sizes)
            .map(|(n, bytes)| Entry { name: format!("{n}"), bytes, words: n != 1, ..record.files[0].clone() })
            .collect();
        let searched: Vec<u64> = record.searched().map(|(_, bytes)| bytes / KIB).collect();
        assert_eq!(searched, [1, 1024, 1024, 1024, 1023, 0]);
    }

    #[test]
    fn names_that_lead_out_are_no_record_even_with_their_sum() {
        for name in ["../../x", "/x", "c:\\x"] {
            let mut record = sample();
            record.files[0].name = name.to_owned();
            let bytes = record.sealed().unwrap();
            assert!(matches!(Record::read(&bytes), Err(Unreadable::Foreign(_))), "{name}");
        }
        let mut twice = sample();
        twice.files[1].name = "a.txt".to_owned();
        let bytes = twice.sealed().unwrap();
        assert!(matches!(Record::read(&bytes), Err(Unreadable::Foreign(_))));
    }
}
