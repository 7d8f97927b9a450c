//! What is behind of what is known: an archive that was put back, a job's folder that is an older state.

use std::path::Path;

use borewright_archive::{Archive, Filing, Found};
use borewright_planner::record::FILE;

use crate::args::FileArgs;
use crate::commands::known::Known;
use crate::commands::of_job::{self, OfJob, Own};
use crate::filing::{self, Issued};
use crate::place::Place;
use crate::status::{self, Failure};

/// Refuses an archive that ends before what was seen of it: the numbers after its end were given out.
///
/// # Errors
/// One that is behind, and what it refuses.
pub(super) fn goes_on(asked: &FileArgs, place: &Place, archive: &Archive) -> Result<Known, Failure> {
    let mut known = Known::of(asked.cache.folder.as_deref(), place);
    if asked.begin && archive.last()? == 0 {
        known.forget();
    }
    match known.behind(archive)? {
        None => Ok(known),
        Some(found) => {
            let found = format!("{found}; {}", known.way_out());
            let expected = "the newest copy of the archive, so that no number is given out twice";
            Err(Failure::Archived { place: place.told(), found, expected })
        }
    }
}

/// What the archive knows of this job that its folder does not: lines that were recorded, or a plan that replaced this one.
///
/// # Errors
/// What the archive refuses.
pub(super) fn knows_more(
    asked: &FileArgs,
    place: &Place,
    archive: &Archive,
    (folder, issued): (&Path, &Issued),
    filing: &Filing,
) -> Result<Option<String>, Failure> {
    if archive.last()? == 0 {
        return Ok(None);
    }
    let of_job = OfJob::of(archive, (asked.cache.folder.as_deref(), place), Own::Filing(filing))?;
    let Some((last, before)) = of_job.all().split_first() else { return Ok(None) };
    let last_word = of_job::last_word(last);
    let another = of_job.another_engine(archive, u32::MAX, filing::figures_of(filing).as_ref())?;
    if let Ok(record) = archive.record(last.number) {
        let own = std::fs::read(folder.join(FILE)).unwrap_or_default();
        let summaries = of_job.all().iter().map(|one| &one.summary).chain([&filing.summary]);
        let missing = filing::lines_more(archive, &record, &filing::OwnTable::with(own, summaries))?;
        if let Some(first) = missing.first() {
            let lines = match missing.len() {
                1 => "a recorded line".to_owned(),
                n => format!("{n} recorded lines"),
            };
            let other = another.map(|other| format!(". But {other}")).unwrap_or_default();
            return Ok(Some(format!(
                "{lines} of this job that this folder has not, in {last_word}; the first is {first}{other}"
            )));
        }
    }
    status::remark(another.as_slice());
    let is_this = |one: &&Found| one.summary.told("fingerprint") == issued.plan.fingerprint;
    let older = before.iter().find(is_this).filter(|_| !is_this(&last));
    Ok(older.map(|one| {
        format!("this plan in record {} already, and a later one of this job: {last_word}", one.number)
    }))
}
