//! Jobs in an archive: what of one is kept and by which names, the summary that it is found by, and what is worked out of
//! records again.

mod again;
mod as_left;
mod differ;
mod figures;
mod inputs;
mod issued;
mod left_out;
mod older;
mod report;
mod summary;
mod whose;

use std::path::Path;

use borewright_archive::{Archive, Filing, Item, Origin, Time, gather};
use borewright_planner::job::Job;
use borewright_planner::record::{let_go, of_others, taken_out};

use crate::place::Place;
use crate::status::Failure;
pub(crate) use again::{Again, again, lay_out};
pub(crate) use as_left::as_left;
pub(crate) use differ::{Difference, Differences};
pub(crate) use figures::{family_query, of_family, of_filing as figures_of};
pub(crate) use issued::Issued;
pub(crate) use older::{OwnTable, lines_more, may_know_more, recorded};
pub(crate) use whose::{figures_in, of_one_job, whose};

/// Folders of a job that are kept whole beside the plan.
pub(crate) const ROOMS: [&str; 3] = ["notes", "record", report::ROOM];

/// What a summary calls sums of recorded lines that are another job's, or that nothing says are this one's.
pub(crate) const OF_OTHERS: &str = "of_others";

/// What a summary calls sums of lines that the folder had and that were taken out of it: another job's, or let through by name.
pub(crate) const TAKEN_OUT: &str = "taken_out";

/// Which program files, with its version.
pub(crate) const TOOL: &str = concat!("borewright ", env!("CARGO_PKG_VERSION"));

/// Endings of files in which words are looked for.
const TEXTS: [&str; 5] = ["txt", "md", "csv", "yaml", "log"];

/// The archive at a place, or a new one there.
///
/// # Errors
/// A place that is none.
pub(crate) fn archive(place: &Place, begin: bool) -> Result<Archive, Failure> {
    let store = place.store()?;
    let archive = if begin { Archive::begin(store) } else { Archive::open(store) };
    Ok(archive?)
}

/// Everything of a job that is kept, and what it is found by; `stands`: the verdict as the work stands, and why where it
/// is not go. Beside it what of the job's folder is not kept.
///
/// # Errors
/// A report that is not of this job as it is, and files that cannot be kept, all at once.
pub(crate) fn filing(
    path: &Path,
    folder: &Path,
    job: &Job,
    (issued, stands): (&Issued, (&str, &str)),
    at: Time,
) -> Result<(Filing, Vec<String>), Failure> {
    report::stands(path, folder)?;
    let mut items = inputs::items(folder, job);
    items.extend(issued.items());
    items.push(Item {
        name: figures::NAME.to_owned(),
        from: Origin::Bytes(figures::of(path, folder, job, issued)?),
        called: None,
        words: false,
        expected: None,
    });
    let record = folder.join(borewright_planner::record::FILE);
    if std::fs::symlink_metadata(&record).is_ok_and(|about| about.is_file()) {
        items.push(with_words(Item::at(format!("job/{}", borewright_planner::record::FILE), record)));
    }
    let mut faults = Vec::new();
    for room in ROOMS {
        match gather(&folder.join(room), &format!("job/{room}")) {
            Ok(found) => items.extend(found.into_iter().map(with_words)),
            Err(mut found) => faults.append(&mut found),
        }
    }
    if !faults.is_empty() {
        return Err(borewright_archive::ArchiveError::Items(faults).into());
    }
    // An input that lies among the notes is one file.
    let mut kept: Vec<Item> = Vec::with_capacity(items.len());
    for item in items {
        match kept.iter_mut().find(|k| k.name == item.name) {
            Some(same) => same.words |= item.words,
            None => kept.push(item),
        }
    }
    let left = left_out::of(folder, &kept);
    let mut summary = summary::of(job, issued, stands);
    // An opened folder must not take for this job's what the folder that was filed did not.
    for (sum, _) in of_others(folder, &job.whose(), &job.log) {
        summary.word(OF_OTHERS, &sum);
    }
    let taken_out = taken_out(folder, &job.whose(), &job.log).into_iter().map(|(sum, _)| sum);
    taken_out.chain(let_go(&job.log)).for_each(|sum| summary.word(TAKEN_OUT, &sum));
    Ok((Filing { at, tool: TOOL.to_owned(), summary, items: kept }, left))
}

fn with_words(mut item: Item) -> Item {
    let ending = Path::new(&item.name).extension().map(|e| e.to_string_lossy().to_lowercase());
    item.words = ending.is_none_or(|e| TEXTS.contains(&e.as_str()));
    item
}
