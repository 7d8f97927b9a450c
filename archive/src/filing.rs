//! Filing: the content first, each once, then the record that names it.

use std::fs::{self, File};
use std::io::{self, Read};
use std::path::{Path, PathBuf};

use crate::archive::Archive;
use crate::error::ArchiveError;
use crate::key;
use crate::name;
use crate::record::{Entry, FORMAT, MOST_BYTES, MOST_FILE_BYTES, MOST_FILES, Record};
use crate::several::several;
use crate::store::Put;
use crate::sum::{Checked, Sum};
use crate::summary::Summary;
use crate::time::Time;

/// Records before the last that are looked through for one of the very same files: decades of most shops, and some
/// seconds from a slow disk.
pub const LOOKED_BACK: u32 = 2000;
/// Of them, read at once.
const AT_ONCE: usize = 64;

/// How often other writers may take the next number before this one gives up.
const MOST_TRIES: usize = 1000;

/// Where the bytes of a file come from.
#[derive(Debug, Clone)]
pub enum Origin {
    /// A file.
    Path(PathBuf),
    /// Memory.
    Bytes(Vec<u8>),
}

/// A file to be kept.
#[derive(Debug, Clone)]
pub struct Item {
    /// Its name in the record.
    pub name: String,
    /// Its bytes.
    pub from: Origin,
    /// What other files of the record call it.
    pub called: Option<String>,
    /// Whether its words are to be found.
    pub words: bool,
    /// The sum that it must have, where it was read before.
    pub expected: Option<Sum>,
}

/// What is filed.
#[derive(Debug, Clone)]
pub struct Filing {
    /// When.
    pub at: Time,
    /// By which program.
    pub tool: String,
    /// What it is found by.
    pub summary: Summary,
    /// The files, in any order.
    pub items: Vec<Item>,
}

/// What came of a filing.
#[derive(Debug, Clone, PartialEq)]
pub struct Filed {
    /// The record.
    pub record: Record,
    /// Whether the last record held these very files already, so that none was added.
    pub again: bool,
    /// Bytes that were not there before.
    pub new_bytes: u64,
    /// When the record before it was filed, where that is later: a clock was set back.
    pub later_before: Option<Time>,
    /// The newest record before the last one that holds these very files, where none was new: it was filed before,
    /// and something else after it. Looked for among the last 2000.
    pub same_as: Option<u32>,
}

impl Item {
    /// A file on the disk, under a name.
    #[must_use]
    pub fn at(name: String, path: PathBuf) -> Self {
        Self { name, from: Origin::Path(path), called: None, words: false, expected: None }
    }

    fn open(&self) -> io::Result<Box<dyn Read + '_>> {
        match &self.from {
            Origin::Bytes(bytes) => Ok(Box::new(bytes.as_slice())),
            Origin::Path(path) => {
                // Opening a pipe could wait for ever.
                if !fs::metadata(path)?.is_file() {
                    return Err(io::Error::other("something that is not a file"));
                }
                Ok(Box::new(File::open(path)?.take(MOST_FILE_BYTES + 1)))
            }
        }
    }
}

/// Every file below a folder, under a name before them; links and whatever else is no file are refused, all at once.
/// A folder that is not there has none.
///
/// # Errors
/// What cannot be kept, a line each.
pub fn gather(folder: &Path, before: &str) -> Result<Vec<Item>, Vec<String>> {
    let (mut items, mut faults) = (Vec::new(), Vec::new());
    let mut folders = vec![(folder.to_owned(), before.to_owned())];
    if fs::symlink_metadata(folder).is_err_and(|e| e.kind() == io::ErrorKind::NotFound) {
        return Ok(items);
    }
    while let Some((at, below)) = folders.pop() {
        let shown =
            |name: &str| name.chars().map(|c| if c.is_control() { '?' } else { c }).collect::<String>();
        if fs::symlink_metadata(&at).is_ok_and(|about| !about.is_dir()) {
            faults.push(format!("{}: found a link or a file, expected a folder", shown(&below)));
            continue;
        }
        let entries = match fs::read_dir(&at) {
            Ok(entries) => entries,
            Err(e) => {
                faults.push(format!("{}: {e}", shown(&below)));
                continue;
            }
        };
        for entry in entries {
            let entry = match entry {
                Ok(entry) => entry,
                Err(e) => {
                    faults.push(format!("{}: {e}", shown(&below)));
                    continue;
                }
            };
            let given = entry.file_name();
            let name = format!("{below}/{}", given.to_string_lossy());
            let fault = match (given.to_str(), entry.file_type()) {
                (None, _) => Some("a name that is no text (UTF-8), expected one that is".to_owned()),
                (_, Err(e)) => Some(e.to_string()),
                (_, Ok(kind)) if kind.is_dir() => {
                    folders.push((entry.path(), name.clone()));
                    None
                }
                (_, Ok(kind)) if kind.is_file() => name::fault(&name).map(str::to_owned),
                (_, Ok(kind)) if kind.is_symlink() => {
                    Some("a link, expected a file: put a copy in its place".to_owned())
                }
                _ => Some("something that is neither file nor folder".to_owned()),
            };
            match fault {
                Some(fault) => faults.push(format!("{}: found {fault}", shown(&name))),
                None if entry.file_type().is_ok_and(|kind| kind.is_file()) => {
                    items.push(Item::at(name, entry.path()));
                }
                None => {}
            }
        }
    }
    faults.sort();
    if faults.is_empty() { Ok(items) } else { Err(faults) }
}

impl Archive {
    /// Keeps the files and adds a record of them to the chain.
    ///
    /// Everything that the record names is on the disk before the record is; of several who file at once each gets a
    /// place of its own in the chain. What was kept before is neither written again nor touched.
    ///
    /// # Errors
    /// Files that cannot be kept, a last record that is damaged, a kept file that is not what it was, and what the
    /// disk or the place refuses: no record is then added.
    pub fn file(&self, mut filing: Filing) -> Result<Filed, ArchiveError> {
        let faults = faults(&mut filing);
        if !faults.is_empty() {
            return Err(ArchiveError::Items(faults));
        }
        self.keeps_what_was_first()?;
        let mut new_bytes = 0_u64;
        let mut files = Vec::with_capacity(filing.items.len());
        for item in &filing.items {
            let (entry, new) = self.keep(item)?;
            if new {
                new_bytes = new_bytes.saturating_add(entry.bytes);
            }
            files.push(entry);
        }
        for _ in 0..MOST_TRIES {
            let last = self.last()?;
            let before = if last == 0 { None } else { Some(self.record(last)?) };
            if let Some(before) = &before
                && before.files == files
                && before.summary == filing.summary
            {
                return Ok(Filed {
                    record: before.clone(),
                    again: true,
                    new_bytes,
                    later_before: None,
                    same_as: None,
                });
            }
            let number = last.checked_add(1).filter(|n| *n <= key::LAST);
            let number = number.ok_or_else(|| ArchiveError::Crowded { place: self.store().place() })?;
            let mut record = Record {
                format: FORMAT.to_owned(),
                number,
                before: before.as_ref().map(|b| b.sha256),
                at: filing.at,
                tool: filing.tool.clone(),
                summary: filing.summary.clone(),
                files: files.clone(),
                sha256: Sum::of(b""),
            };
            let bytes = record.sealed().map_err(io::Error::other)?;
            // A record too large to be read back is refused.
            if u64::try_from(bytes.len()).map_or(true, |len| len > MOST_BYTES)
                || Record::read(&bytes).is_err()
            {
                let fault = "the job: found names too long to be listed in one record".to_owned();
                return Err(ArchiveError::Items(vec![fault]));
            }
            if self.put_record(number, &bytes)? == Put::New {
                let later_before = before.map(|b| b.at).filter(|at| *at > filing.at);
                // Files of which some bytes are new were in no record.
                let same_as = if new_bytes == 0 { self.same_before(&record) } else { None };
                return Ok(Filed { record, again: false, new_bytes, later_before, same_as });
            }
        }
        Err(ArchiveError::Crowded { place: self.store().place() })
    }

    /// The newest record before the one before this that holds the same; one that cannot be read is passed over.
    fn same_before(&self, record: &Record) -> Option<u32> {
        let newest = record.number.saturating_sub(2);
        let numbers: Vec<u32> = (newest.saturating_sub(LOOKED_BACK) + 1..=newest).rev().collect();
        let same = |number: &u32| {
            let before = self.record(*number).ok()?;
            (before.files == record.files && before.summary == record.summary).then_some(*number)
        };
        numbers.chunks(AT_ONCE).find_map(|some| several(some, same).into_iter().flatten().next())
    }

    /// Keeps one file; whether it was not there before.
    fn keep(&self, item: &Item) -> Result<(Entry, bool), ArchiveError> {
        let disk = |source| ArchiveError::Disk { name: item.name.clone(), source };
        let changed = || ArchiveError::Changed { name: item.name.clone() };
        let (sum, bytes) = Sum::of_reader(&mut item.open().map_err(disk)?).map_err(disk)?;
        if bytes > MOST_FILE_BYTES {
            let fault = format!("{}: found more than 4 GiB, expected less", item.name);
            return Err(ArchiveError::Items(vec![fault]));
        }
        if item.expected.is_some_and(|expected| expected != sum) {
            return Err(changed());
        }
        let entry = Entry {
            name: item.name.clone(),
            bytes,
            sha256: sum,
            called: item.called.clone(),
            words: item.words,
        };
        let mut reader = Checked::new(item.open().map_err(disk)?, sum);
        let put = match self.store().bytes(&key::content(&sum))? {
            Some(_) => Put::Taken,
            None => match self.store().put(&key::content(&sum), &mut reader) {
                Err(_) if reader.is_other() => return Err(changed()),
                other => other?,
            },
        };
        if put == Put::Taken {
            // A new record must not rely on a kept file that is spoiled.
            self.hold(&entry)?;
        }
        Ok((entry, put == Put::New))
    }
}

/// Puts the files into the order of their names, and says what keeps them from being a record.
fn faults(filing: &mut Filing) -> Vec<String> {
    filing.items.sort_by(|a, b| a.name.cmp(&b.name));
    let shown = |name: &str| name.chars().map(|c| if c.is_control() { '?' } else { c }).collect::<String>();
    let mut faults = Vec::new();
    if filing.items.len() > MOST_FILES {
        faults.push(format!("the job: found {} files, expected at most {MOST_FILES}", filing.items.len()));
    }
    for item in &filing.items {
        if let Some(fault) = name::fault(&item.name) {
            faults.push(format!("{}: found {fault}", shown(&item.name)));
        }
    }
    for pair in filing.items.windows(2) {
        if let [a, b] = pair
            && a.name == b.name
        {
            faults.push(format!("{}: found two files of this name", shown(&a.name)));
        }
    }
    faults
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::store::Folder;

    #[test]
    fn the_same_files_filed_again_after_others_name_the_record_that_has_them() {
        let dir = tempfile::tempdir().unwrap();
        let archive = Archive::begin(Box::new(Folder::at(&dir.path().join("archive")))).unwrap();
        let file = |title: &str, note: &str| {
            let from = Origin::Bytes(note.as_bytes().to_vec());
            let item = Item { name: "a.txt".to_owned(), from, called: None, words: true, expected: None };
            let summary = Summary { title: title.to_owned(), ..Summary::default() };
            let filing = Filing { at: Time::now(), tool: "test".to_owned(), summary, items: vec![item] };
            let filed = archive.file(filing).unwrap();
            (filed.record.number, filed.again, filed.same_as)
        };
        assert_eq!(file("tern", "a crack"), (1, false, None));
        assert_eq!(file("tern", "a crack"), (1, true, None));
        assert_eq!(file("petrel", "no crack"), (2, false, None));
        assert_eq!(file("tern", "a crack"), (3, false, Some(1)));
        // The newest of them; and bytes that are known under another title are another job.
        assert_eq!(file("petrel", "no crack"), (4, false, Some(2)));
        assert_eq!(file("tern", "a crack"), (5, false, Some(3)));
        assert_eq!(file("skua", "a crack"), (6, false, None));
        // What cannot be read is passed over.
        std::fs::remove_file(dir.path().join("archive").join(key::record(3))).unwrap();
        assert_eq!(file("kite", "a crack"), (7, false, None));
        std::fs::remove_file(dir.path().join("archive").join(key::record(5))).unwrap();
        assert_eq!(file("tern", "a crack"), (8, false, Some(1)));
    }
}
