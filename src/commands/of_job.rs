//! The records of one job, and which of them is its last.

use std::path::Path;

use borewright_archive::{Archive, Found, Index, Query, Summary};
use borewright_planner::read::fault::plain;

use super::index;
use crate::place::Place;
use crate::status::{self, Failure};

/// Records of one job, newest first.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct OfJob(Vec<Found>);

impl OfJob {
    /// By an index, which was brought up to the archive.
    ///
    /// # Errors
    /// A damaged index.
    pub(super) fn by(index: &Index, summary: &Summary) -> Result<Self, Failure> {
        let number = summary.told("job");
        let query = Query { tags: vec![("job".to_owned(), number)], most: u32::MAX, ..Query::default() };
        let (mut found, _) = index.find(&query)?;
        found.retain(|one| same(&one.summary, summary));
        Ok(Self(found))
    }

    /// By the index where there is a place for one, else by every record.
    ///
    /// # Errors
    /// What the archive refuses.
    pub(super) fn of(
        archive: &Archive,
        (cache, place): (Option<&Path>, &Place),
        summary: &Summary,
    ) -> Result<Self, Failure> {
        match index::quietly(cache, place, archive) {
            Ok(index) => Self::by(&index, summary),
            Err(Failure::Archive(error)) => Err(error.into()),
            Err(_) => {
                let all = (1..=archive.last()?).rev().filter_map(|number| archive.record(number).ok());
                let own = all.filter(|record| same(&record.summary, summary));
                Ok(Self(own.map(found).collect()))
            }
        }
    }

    /// All of them, newest first.
    pub(super) fn all(&self) -> &[Found] {
        &self.0
    }

    /// The last one, where it is later than a record.
    pub(super) fn after(&self, number: u32) -> Option<&Found> {
        self.0.first().filter(|last| last.number > number)
    }
}

fn found(record: borewright_archive::Record) -> Found {
    Found { number: record.number, sum: record.sha256, at: record.at, summary: record.summary }
}

/// Whether two records are of one job. Numbers are a shop's own: two customers' jobs may have one.
fn same(a: &Summary, b: &Summary) -> bool {
    let told = |of: &Summary, what: &str| of.told(what).trim().to_lowercase();
    !told(a, "job").is_empty() && ["job", "customer"].iter().all(|what| told(a, what) == told(b, what))
}

/// A record as the last word of its job: number, day, verdict, and why.
pub(super) fn last_word(last: &Found) -> String {
    let word = |what: &str, most: usize| plain(&last.summary.told(what), most);
    let why = Some(word("why", 300)).filter(|why| !why.is_empty()).map(|why| format!(": {why}"));
    format!("record {}, {}, {}{}", last.number, last.at.day(), word("verdict", 10), why.unwrap_or_default())
}

/// Says on standard error which records of an archive lie there twice: another computer wrote one of the same number.
///
/// # Errors
/// What the archive refuses.
pub(super) fn remark_twice(archive: &Archive, numbers: impl IntoIterator<Item = u32>) -> Result<(), Failure> {
    const FIRST: usize = 3;
    let mut lines = Vec::new();
    for (number, other) in archive.beside(&numbers.into_iter().collect())? {
        lines.push(format!(
            "there are two records {number}: beside the one that is read here lies {}: `audit` says what it is; look at \
             both before anything is cut",
            plain(&other, 200)
        ));
    }
    let more = lines.len().saturating_sub(FIRST);
    lines.truncate(FIRST);
    if more > 0 {
        lines.push(format!("and {more} more such records"));
    }
    status::remark(&lines);
    Ok(())
}
