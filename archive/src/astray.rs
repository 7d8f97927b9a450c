//! What lies among the records under no name of theirs: of two computers that wrote one number at once, a program that keeps them
//! alike leaves the second's beside the first, as a file or in a folder of its own.

use std::collections::BTreeSet;

use crate::error::ArchiveError;
use crate::key;
use crate::store::{Kind, Store, StoreError};

/// A thing among the records that is in no record's place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(crate) struct Astray {
    /// Its key.
    pub(crate) key: String,
    /// What it is.
    pub(crate) kind: Kind,
    /// Whether it lies in a folder that is astray itself.
    pub(crate) is_within: bool,
}

impl Astray {
    /// The record that its name is of: by the first nine digits in a row. What such programs put into a name, a date or a
    /// computer's, has fewer.
    pub(crate) fn number(&self) -> Option<u32> {
        let name = self.key.rsplit('/').next().unwrap_or_default();
        let runs = name.split(|c: char| !c.is_ascii_digit()).filter(|run| run.len() == 9);
        runs.filter_map(|run| run.parse().ok()).find(|n| *n > 0)
    }
}

/// Which of the records' own folders are looked into.
#[derive(Debug)]
pub(crate) enum Among {
    /// All.
    All,
    /// Those of some records.
    Of(BTreeSet<String>),
}

impl Among {
    /// Those that records of some numbers lie in.
    pub(crate) fn of(numbers: &BTreeSet<u32>) -> Self {
        let folders = numbers.iter().flat_map(|number| {
            let own = key::record(*number);
            let mut parts: Vec<String> = own.match_indices('/').map(|(at, _)| own[..at].to_owned()).collect();
            parts.retain(|part| part != key::RECORDS);
            parts
        });
        Self::Of(folders.collect())
    }

    fn has(&self, folder: &str) -> bool {
        match self {
            Self::All => true,
            Self::Of(folders) => folders.contains(folder),
        }
    }
}

/// Folders that a folder astray may hold one in another: as many as the records' own.
const DEEP: usize = 2;

/// Everything astray: beside the records in their own folders, in folders beside those, and in ones that are called as the
/// records' with something behind. A folder is told before what lies in it; each is listed once.
///
/// # Errors
/// What the place refuses.
pub(crate) fn astray(store: &dyn Store, among: &Among) -> Result<Vec<Astray>, ArchiveError> {
    let mut found = Vec::new();
    for outer in store.list(key::RECORDS)? {
        let outer_at = format!("{}/{}", key::RECORDS, outer.name);
        if outer.kind != Kind::Folder || !key::is_part(&outer.name) {
            take(store, (outer_at, outer.kind), &mut found)?;
            continue;
        }
        if !among.has(&outer_at) {
            continue;
        }
        for inner in store.list(&outer_at)? {
            let inner_at = format!("{outer_at}/{}", inner.name);
            if inner.kind != Kind::Folder || !key::is_part(&inner.name) {
                take(store, (inner_at, inner.kind), &mut found)?;
                continue;
            }
            if !among.has(&inner_at) {
                continue;
            }
            for file in store.list(&inner_at)? {
                let at = format!("{inner_at}/{}", file.name);
                if key::number_of(&file.name).is_none_or(|n| key::record(n) != at) {
                    take(store, (at, file.kind), &mut found)?;
                }
            }
        }
    }
    for listed in store.list("")? {
        let is_theirs = listed.name.starts_with(key::RECORDS) && listed.name != key::RECORDS;
        if is_theirs && listed.kind == Kind::Folder {
            within(store, &listed.name, DEEP, &mut found)?;
        }
    }
    Ok(found)
}

fn take(store: &dyn Store, (key, kind): (String, Kind), found: &mut Vec<Astray>) -> Result<(), StoreError> {
    found.push(Astray { key: key.clone(), kind, is_within: false });
    if kind == Kind::Folder { within(store, &key, DEEP, found) } else { Ok(()) }
}

fn within(store: &dyn Store, folder: &str, deep: usize, found: &mut Vec<Astray>) -> Result<(), StoreError> {
    for listed in store.list(folder)? {
        let key = format!("{folder}/{}", listed.name);
        match listed.kind {
            Kind::Folder if deep > 0 => within(store, &key, deep - 1, found)?,
            kind => found.push(Astray { key, kind, is_within: true }),
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_read_out_of_whatever_name_a_file_was_given() {
        let number = |key: &str| Astray { key: key.to_owned(), kind: Kind::File, is_within: false }.number();
        for name in [
            "000000002 (conflicted copy 2026-11-30).json",
            "000000002.sync-conflict-20261130-190000-ABC.json",
            "Copy of 000000002.json",
            "000000002-PC123456789012.json",
        ] {
            assert_eq!(number(&format!("records/000/000/{name}")), Some(2), "{name}");
        }
        assert_eq!(number("records/000/000 (1)/000000002.json"), Some(2));
        for none in ["records/000/000/notes.txt", "records/000/000/000000000 (1).json", "000000002/x"] {
            assert_eq!(number(none), None, "{none}");
        }
    }
}
