//! A record that is likely of the same job under another number, customer or block's name: which was put right since.

use std::path::Path;

use borewright_archive::{Archive, Found, Query, Record, Summary};
use borewright_planner::read::fault::plain;
use borewright_planner::read::name::alike;

use super::index;
use super::of_job::{found, last_word};
use crate::filing;
use crate::place::Place;
use crate::status::Failure;

/// Most records that are looked at for it, newest first.
const MOST: usize = 100;

/// The newest such record that was filed later, and what was put right.
///
/// # Errors
/// What the archive refuses.
pub(super) fn later(
    archive: &Archive,
    cache: (Option<&Path>, &Place),
    record: &Record,
) -> Result<Option<(Found, &'static str)>, Failure> {
    newest(archive, cache, record, |number| number > record.number)
}

/// The newest that was filed before.
///
/// # Errors
/// What the archive refuses.
pub(super) fn before(
    archive: &Archive,
    cache: (Option<&Path>, &Place),
    record: &Record,
) -> Result<Option<(Found, &'static str)>, Failure> {
    newest(archive, cache, record, |number| number < record.number)
}

fn newest(
    archive: &Archive,
    cache: (Option<&Path>, &Place),
    record: &Record,
    when: impl Fn(u32) -> bool,
) -> Result<Option<(Found, &'static str)>, Failure> {
    let own = filing::whose(record);
    let mut numbers: Vec<u32> =
        candidates(archive, cache, record)?.into_iter().filter(|n| when(*n)).collect();
    numbers.sort_unstable_by(|a, b| b.cmp(a));
    numbers.dedup();
    for number in numbers.into_iter().take(MOST) {
        let Ok(other) = archive.record(number) else {
            archive.still_there()?;
            continue;
        };
        let its = filing::whose(&other);
        if let Some(word) = own.put_right(&its).filter(|_| !own.is(&its)) {
            return Ok(Some((found(other), word)));
        }
    }
    Ok(None)
}

/// Records of the same number, and of the same block's name for the same customer: all others have two names put right, or none.
fn candidates(
    archive: &Archive,
    (cache, place): (Option<&Path>, &Place),
    record: &Record,
) -> Result<Vec<u32>, Failure> {
    let told = |what: &str| record.summary.told(what).trim().to_owned();
    let tags = |whats: &[&str]| -> Vec<(String, String)> {
        let own = whats.iter().map(|what| ((*what).to_owned(), told(what)));
        own.filter(|(_, word)| !word.is_empty()).collect()
    };
    let index = match index::quietly(cache, place, archive) {
        Ok(index) => index,
        Err(Failure::Archive(error)) => return Err(error.into()),
        // No place for an index: every record is looked at, the newest first.
        Err(_) => return Ok((1..=archive.last()?).collect()),
    };
    let mut numbers = Vec::new();
    for tags in [tags(&["job"]), tags(&["customer", "block"])].into_iter().filter(|tags| !tags.is_empty()) {
        let (found, _) = index.find(&Query { tags, most: u32::MAX, ..Query::default() })?;
        numbers.extend(found.into_iter().map(|one| one.number));
    }
    Ok(numbers)
}

/// What is asked of another record.
pub(super) fn question(other: &Found, record: &Record, word: &str) -> String {
    let name = |own: &Summary| match plain(&own.told(if word == "number" { "job" } else { word }), 60) {
        name if alike(&name, "") => "nobody".to_owned(),
        name => name,
    };
    format!(
        "{}, is of {word} {} and this of {word} {}, with most of what was read the same: was the {word} put right, and is it the same \
         block",
        last_word(other),
        name(&other.summary),
        name(&record.summary),
    )
}
