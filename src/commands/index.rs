//! The index of an archive, as commands open it.

use std::path::{Path, PathBuf};

use borewright_archive::{Archive, ArchiveError, Found, Held, Index, Query};
use borewright_planner::read::fault::plain;
use borewright_planner::read::name::folded;

use super::known::Known;
use crate::cache;
use crate::place::Place;
use crate::status::{self, Failure};

/// The index of an archive in its folder of the cache.
const FILE: &str = "index.sqlite";
/// Numbers of records that are named where some cannot be read.
const FIRST: usize = 5;

/// The index of an archive, brought up to it.
///
/// # Errors
/// No place that it can be written to, and what the archive refuses.
pub(super) fn open(cache: Option<&Path>, place: &Place, archive: &Archive) -> Result<Index, Failure> {
    let index = quietly(cache, place, archive)?;
    Known::remark(cache, place, archive)?;
    Ok(index)
}

/// The same, where what was seen of the archive before is for the caller.
///
/// # Errors
/// As [`open`].
pub(super) fn quietly(cache: Option<&Path>, place: &Place, archive: &Archive) -> Result<Index, Failure> {
    let path = file(cache, place)?;
    let opened = Index::open(&path, archive, folded, &mut watch);
    Ok(opened.map_err(|error| unwritten(&path, error))?.0)
}

/// The same, made anew.
///
/// # Errors
/// As [`open`].
fn again(cache: Option<&Path>, place: &Place, archive: &Archive) -> Result<Index, Failure> {
    let path = file(cache, place)?;
    Index::again(&path, archive, folded, &mut watch).map_err(|error| unwritten(&path, error))
}

/// What an index gives, held against the records themselves.
pub(super) struct Asked {
    pub(super) index: Index,
    /// Newest first.
    pub(super) found: Vec<Found>,
    /// Whether there are more.
    pub(super) more: bool,
    /// Numbers of those that were read once and cannot be now; they are found all the same.
    pub(super) unread: Vec<u32>,
}

/// Asks an index. Where the records say something else it is one of another state of the archive, and is made anew.
///
/// # Errors
/// As [`open`].
pub(super) fn asked(
    mut index: Index,
    (cache, place): (Option<&Path>, &Place),
    archive: &Archive,
    query: &Query,
) -> Result<Asked, Failure> {
    let (mut found, mut more) = index.find(query)?;
    let mut held = Held::of(archive, &found)?;
    if !held.others.is_empty() {
        drop(index);
        index = again(cache, place, archive)?;
        (found, more) = index.find(query)?;
        held = Held::of(archive, &found)?;
        found.retain(|f| !held.others.contains(&f.number));
    }
    Ok(Asked { index, found, more, unread: held.unread })
}

fn file(cache: Option<&Path>, place: &Place) -> Result<PathBuf, Failure> {
    match cache::folder(cache, place) {
        Err(Failure::Disk { path, source }) => Err(no_place(&path, &source.to_string())),
        folder => Ok(folder?.join(FILE)),
    }
}

/// Where it is the index itself that would not, the way out is told.
fn unwritten(path: &Path, error: ArchiveError) -> Failure {
    match error {
        ArchiveError::Index(error) => no_place(path, &error.source.to_string()),
        ArchiveError::Disk { source, .. } => no_place(path, &source.to_string()),
        other => other.into(),
    }
}

fn no_place(path: &Path, why: &str) -> Failure {
    Failure::Place {
        path: path.to_owned(),
        found: format!("no place for the archive's index ({})", plain(why, 160)),
        expected: "a folder that can be written to: name one with --cache DIR",
    }
}

fn watch(done: u32, of: u32) {
    use std::io::{IsTerminal, Write};
    let mut to = std::io::stderr().lock();
    if to.is_terminal() && of - done > 2000 {
        let _ = write!(to, "\rindex: {done} of {of} records");
        let _ = to.flush();
    } else if to.is_terminal() && of > 2000 && done == of {
        let _ = write!(to, "\r{:<40}\r", "");
    }
}

/// Says on standard error what of the archive cannot be read, and so is not found or not counted; `more` are numbers of
/// records that the index has and that cannot be read any longer.
///
/// # Errors
/// A damaged index.
pub(super) fn remark_unread(index: &Index, more: &[u32]) -> Result<(), Failure> {
    let mut unread = index.unread()?;
    unread.records.extend_from_slice(more);
    unread.records.sort_unstable();
    let lines = [
        told(&unread.records, "of the archive cannot be read"),
        told(&unread.texts, "with notes that cannot be read and are not searched"),
    ];
    status::remark(&lines.into_iter().flatten().collect::<Vec<String>>());
    Ok(())
}

/// How many records, and the first of them; `None` of none.
fn told(numbers: &[u32], what: &str) -> Option<String> {
    let (count, first) = (numbers.len(), numbers.iter().take(FIRST).map(u32::to_string));
    let records = if count == 1 { "record" } else { "records" };
    let more = if count > FIRST { ", …" } else { "" };
    let first = first.collect::<Vec<_>>().join(", ");
    (count > 0).then(|| format!("{count} {records} {what}: {first}{more}; `audit` says what is wrong"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn of_many_records_the_first_are_named() {
        let said = |numbers: &[u32]| told(numbers, "cannot be read").unwrap_or_default();
        assert_eq!(said(&[]), "");
        assert_eq!(said(&[7]), "1 record cannot be read: 7; `audit` says what is wrong");
        assert_eq!(
            said(&[1, 2, 3, 4, 5, 9]),
            "6 records cannot be read: 1, 2, 3, 4, 5, …; `audit` says what is wrong"
        );
    }
}
