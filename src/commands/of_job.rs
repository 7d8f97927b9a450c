//! The records of one job, and which of them is its last.

use std::collections::BTreeSet;
use std::path::Path;

use borewright_archive::{Archive, Filing, Found, Held, Index, LOOKED_BACK, Query, Record, Summary};
use borewright_planner::family::{Figures, read_as_another};
use borewright_planner::read::fault::plain;
use borewright_planner::read::name::alike;

use super::index;
use crate::filing;
use crate::place::Place;
use crate::status::{self, Failure};

/// Of which job the records are asked for.
#[derive(Clone, Copy)]
pub(super) enum Own<'a> {
    /// That of a record of the archive: its number and summary.
    Record(u32, &'a Summary),
    /// One that is to be filed.
    Filing(&'a Filing),
}

impl<'a> Own<'a> {
    /// What is to be filed comes after every record.
    fn number(self) -> u32 {
        match self {
            Self::Record(number, _) => number,
            Self::Filing(_) => u32::MAX,
        }
    }

    fn summary(self) -> &'a Summary {
        match self {
            Self::Record(_, summary) => summary,
            Self::Filing(filing) => &filing.summary,
        }
    }

    fn query(self) -> Query {
        let number = self.summary().told("job").trim().to_owned();
        Query { tags: vec![("job".to_owned(), number)], most: u32::MAX, ..Query::default() }
    }
}

/// Most records of a job whose readings are held against those of one.
const MOST_ENGINES: usize = 20;

/// Most records of a job that are held against one of it, line by line.
const MOST_BESIDE: usize = 100;

/// Records of one job, newest first.
#[derive(Debug, Clone, Default, PartialEq)]
pub(super) struct OfJob(Vec<Found>);

impl OfJob {
    /// By an index, which was brought up to the archive; what it says of a record is held against it, but of those that
    /// were held.
    ///
    /// # Errors
    /// A damaged index, and what the archive refuses.
    pub(super) fn by(
        index: &Index,
        archive: &Archive,
        own: Own<'_>,
        held: &BTreeSet<u32>,
    ) -> Result<Self, Failure> {
        let (mut found, _) = index.find(&own.query())?;
        let asked: Vec<Found> = found.iter().filter(|one| !held.contains(&one.number)).cloned().collect();
        let others = Held::of(archive, &asked)?.others;
        found.retain(|one| !others.contains(&one.number));
        Self::among(found, archive, own)
    }

    /// By the index where there is a place for one, else by every record.
    ///
    /// # Errors
    /// What the archive refuses.
    pub(super) fn of(
        archive: &Archive,
        (cache, place): (Option<&Path>, &Place),
        own: Own<'_>,
    ) -> Result<Self, Failure> {
        let by_index = index::quietly(cache, place, archive)
            .and_then(|index| index::asked(index, (cache, place), archive, &own.query()));
        let found = match by_index {
            Ok(asked) => asked.found,
            Err(Failure::Archive(error)) => return Err(error.into()),
            Err(_) => {
                let all = (1..=archive.last()?).rev().filter_map(|number| archive.record(number).ok());
                let number = own.summary().told("job");
                all.filter(|record| alike(&record.summary.told("job"), &number)).map(found).collect()
            }
        };
        Self::among(found, archive, own)
    }

    /// Those of some records of one number that are of this job.
    fn among(mut found: Vec<Found>, archive: &Archive, own: Own<'_>) -> Result<Self, Failure> {
        if own.summary().told("job").trim().is_empty() {
            return Ok(Self::default());
        }
        let mut all: Vec<(u32, &Summary)> = found.iter().map(|one| (one.number, &one.summary)).collect();
        if !all.iter().any(|(number, _)| *number == own.number()) {
            all.push((own.number(), own.summary()));
        }
        let mut figures = |number: u32| -> Result<Option<Figures>, Failure> {
            match (own, archive.record(number)) {
                (Own::Filing(filing), _) if number == u32::MAX => Ok(filing::figures_of(filing)),
                (_, Ok(record)) => filing::figures_in(archive, &record),
                (_, Err(_)) => Ok(archive.still_there().map(|()| None)?),
            }
        };
        let jobs = filing::of_one_job(&all, &mut figures)?;
        let this = jobs.into_iter().find(|job| job.contains(&own.number())).unwrap_or_default();
        found.retain(|one| this.contains(&one.number));
        Ok(Self(found))
    }

    /// The newest of the others that has recorded lines which a record has not, and how many: the job went on in two folders. `own`
    /// is what was recorded in that record.
    ///
    /// # Errors
    /// What the archive refuses.
    pub(super) fn beside(
        &self,
        archive: &Archive,
        number: u32,
        own: Vec<u8>,
    ) -> Result<Option<(&Found, Vec<String>)>, Failure> {
        let own = self.own(own);
        for other in self.0.iter().filter(|one| one.number != number).take(MOST_BESIDE) {
            let Ok(record) = archive.record(other.number) else {
                archive.still_there()?;
                continue;
            };
            let lines = filing::lines_more(archive, &record, &own)?;
            if !lines.is_empty() {
                return Ok(Some((other, lines)));
            }
        }
        Ok(None)
    }

    /// What was recorded in one of them, with what any of them says was taken out.
    pub(super) fn own(&self, table: Vec<u8>) -> filing::OwnTable {
        filing::OwnTable::with(table, self.0.iter().map(|one| &one.summary))
    }

    /// In a sentence, that the newest of the others which stands otherwise may be of another engine than a job's own figures: every
    /// bore was read otherwise, and not as one engine is that is read anew.
    ///
    /// # Errors
    /// The archive went away.
    pub(super) fn another_engine(
        &self,
        archive: &Archive,
        number: u32,
        own: Option<&Figures>,
    ) -> Result<Option<String>, Failure> {
        let Some(own) = own else { return Ok(None) };
        for other in self.0.iter().filter(|one| one.number != number).take(MOST_ENGINES) {
            let Ok(record) = archive.record(other.number) else {
                archive.still_there()?;
                continue;
            };
            let then = filing::figures_in(archive, &record)?;
            if let Some(bores) = then.and_then(|then| read_as_another(&then, own)) {
                return Ok(Some(format!(
                    "the readings of all {bores} bores differ from those in record {}, and not as one engine's do that is read anew: if \
                     these are two engines, each wants a number of its own (`job` in job.yaml)",
                    other.number
                )));
            }
        }
        Ok(None)
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

pub(super) fn found(record: Record) -> Found {
    Found { number: record.number, sum: record.sha256, at: record.at, summary: record.summary }
}

/// A record as the last word of its job: number, day, verdict, and why.
pub(super) fn last_word(last: &Found) -> String {
    let word = |what: &str, most: usize| plain(&last.summary.told(what), most);
    let why = Some(word("why", 300)).filter(|why| !why.is_empty()).map(|why| format!(": {why}"));
    format!("record {}, {}, {}{}", last.number, last.at.day(), word("verdict", 10), why.unwrap_or_default())
}

/// Numbers beyond the last of an archive under which another computer's record is looked for: another computer may have filed more meanwhile, which lie in a folder of their own.
const LOOKED_ON: u32 = 200;

/// In a sentence, that beside some record of an archive another of the same number lies which is of this job and may be later than a
/// record, or knows what that has not: which of the two is the last nobody knows. `None` where there is none. `own` is what was recorded
/// in the record.
///
/// # Errors
/// What the archive refuses.
pub(super) fn twin(archive: &Archive, record: &Record, own: &[u8]) -> Result<Option<String>, Failure> {
    let last = archive.last()?;
    let own = filing::OwnTable::with(own.to_vec(), [&record.summary]);
    let to = last.saturating_add(LOOKED_ON);
    let numbers = (last.saturating_sub(LOOKED_BACK).max(1)..=to).chain([record.number]).collect();
    for (number, key) in archive.beside(&numbers)? {
        let other = archive.lying_at(&key)?;
        let doubted = match &other {
            // One that cannot be read may be any job's.
            None => number >= record.number,
            Some(other) => {
                let is_of_it = alike(&other.summary.told("job"), &record.summary.told("job"));
                let is_copy = archive.record(number).is_ok_and(|one| one.sha256 == other.sha256);
                is_of_it
                    && !is_copy
                    && (number >= record.number || filing::may_know_more(archive, other, &own)?)
            }
        };
        if doubted {
            let what = other
                .map(|other| format!(" ({}, {})", other.at.day(), plain(&other.summary.told("verdict"), 10)));
            let lies = if number > last {
                format!("a record {number} lies beside the archive's, which end at record {last}")
            } else {
                format!("another record {number} lies beside the one of that number")
            };
            return Ok(Some(format!(
                "{lies}, {}{}: two computers filed at once, and which is the last of this job is not known; `audit` says what it \
                 is",
                plain(&key, 200),
                what.unwrap_or_default()
            )));
        }
    }
    Ok(None)
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
