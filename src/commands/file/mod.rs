//! `file`: a job as it was issued, kept in the archive.

use std::path::{Path, PathBuf};

use borewright_archive::{Entry, Filed, Record, Time};
use borewright_planner::job::Job;
use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;
use serde_json::json;

use super::{plan, print};
use crate::args::{FileArgs, Format};
use crate::filing::{self, Issued};
use crate::place::Place;
use crate::status::{self, Failure, Status};

/// The folder that `plan` writes, beside those that a shop fills.
const OUT: &str = "out";

/// Files a job as it was issued into the archive at a place, and prints what the paper log wants.
pub(super) fn run(asked: &FileArgs, place: &Place) -> Result<Status, Failure> {
    let at = moment(asked.at)?;
    let path = &asked.job.path;
    let job = borewright_planner::load(path)?;
    let folder = if path.is_dir() { path } else { path.parent().unwrap_or(path) };
    lies_elsewhere(place, folder)?;
    let issued = Issued::read(&super::plan::beside(path), folder, &job)?;
    let verdict = stands(path, &job, &issued)?;
    let filing = filing::filing(path, folder, &job, (&issued, &verdict), at)?;
    let archive = filing::archive(place, asked.begin)?;
    place.clear_old();
    let filed = archive.file(filing)?;
    if let Some(later) = filed.later_before {
        status::remark(&[format!(
            "the clock says {}, but record {} was filed at {later}: one of the two clocks is wrong",
            filed.record.at,
            filed.record.number.saturating_sub(1)
        )]);
    }
    if let Some(number) = filed.same_as {
        status::remark(&[format!(
            "as record {number} already: the same job with the same files; other jobs were filed since, so that it is \
             record {} too",
            filed.record.number
        )]);
    }
    status::remark(&searched_in_part(&filed.record));
    match asked.printed.format {
        Format::Json => {
            let record = &filed.record;
            let mut text = serde_json::to_string_pretty(&json!({
                "format": "borewright/filed/1",
                "record": record.number,
                "sha256": record.sha256,
                "short": record.sha256.short(),
                "at": record.at,
                "again": filed.again,
                "same_as": filed.same_as,
                "files": record.files.len(),
                "bytes": record.total_bytes(),
                "new_bytes": filed.new_bytes,
            }))
            .map_err(std::io::Error::other)?;
            text.push('\n');
            print(text.as_bytes())?;
        }
        Format::Text => print(told(&filed, &place.told()).as_bytes())?,
    }
    Ok(Status::Go)
}

/// How the work stands: as the plan was issued, or as the record has it by now where that is worse, which is said.
///
/// # Errors
/// A job that can no longer be planned.
fn stands(path: &Path, job: &Job, issued: &Issued) -> Result<String, Failure> {
    let then = issued.plan.verdict.clone();
    let before = plan::before(&plan::beside(path).join("plan.json"));
    let known = before.as_deref().and_then(plan::Before::of);
    let folder = if path.is_dir() { path } else { path.parent().unwrap_or(path) };
    let kept = !borewright_planner::record::kept(folder, &job.number).is_empty();
    let recorded = kept || !job.log.entries.is_empty() || !job.log.told.is_empty();
    if !recorded && known.as_ref().is_none_or(|known| !known.knows_a_record()) {
        return Ok(then);
    }
    let now = plan::planned(path, None, None, &known.iter().collect::<Vec<_>>())?.plan;
    if Some(now.verdict) <= Verdict::of_word(&then) {
        return Ok(then);
    }
    let first = now.findings.iter().find(|f| f.verdict == now.verdict);
    let why = first.map_or_else(String::new, |f| {
        format!(": {}: {}", plain(&f.subject.to_string(), 60), plain(&f.text.to_string(), 300))
    });
    status::remark(&[format!(
        "filed at {}, as `check` has the job by its record; its plan was issued at {}{why}",
        now.verdict.word(),
        plain(&then, 10)
    )]);
    Ok(now.verdict.word().to_owned())
}

/// The moment of a filing: the clock's, or the one that was given.
///
/// # Errors
/// One more than a day ahead of the clock. Clocks and zones differ by less, and a record is never taken back.
fn moment(given: Option<Time>) -> Result<Time, Failure> {
    const DAY_S: i64 = 86_400;
    let now = Time::now();
    match given {
        Some(at) if at.seconds() > now.seconds().saturating_add(DAY_S) => Err(Failure::Said {
            found: format!("--at {at}, where the clock says {now}"),
            expected: "a moment that has come: no more than a day ahead of the clock",
        }),
        given => Ok(given.unwrap_or(now)),
    }
}

/// Refuses an archive inside one of the folders that are filed: each record would hold those before it.
///
/// # Errors
/// A place there.
fn lies_elsewhere(place: &Place, folder: &Path) -> Result<(), Failure> {
    let Some(archive) = place.folder() else { return Ok(()) };
    let at = really(archive);
    for room in filing::ROOMS.into_iter().chain([OUT]) {
        if at.starts_with(really(&folder.join(room))) {
            return Err(Failure::Place {
                path: archive.to_owned(),
                found: format!("an archive inside {room}/ of the job, which is filed itself"),
                expected: "a place outside the job's folder",
            });
        }
    }
    Ok(())
}

/// A path without links, as far as it is there.
fn really(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_owned());
    let (mut there, mut rest) = (path.as_path(), Vec::new());
    loop {
        if let Ok(real) = there.canonicalize() {
            return rest.iter().rev().fold(real, |path, part| path.join(part));
        }
        let (Some(above), Some(name)) = (there.parent(), there.file_name()) else { return path };
        rest.push(name.to_owned());
        there = above;
    }
}

/// Which files are too long to be searched whole, and how much of them is.
fn searched_in_part(record: &Record) -> Vec<String> {
    const FIRST: usize = 5;
    let in_part: Vec<_> = record.searched().filter(|(file, bytes)| *bytes < file.bytes).collect();
    let told = |(file, bytes): &(&Entry, u64)| {
        let name = plain(&file.name, 120);
        match bytes / 1024 {
            0 => format!(
                "{name}: its words are not searched by `find`: there are more than 4 MiB of notes before it"
            ),
            kib => format!("{name}: `find` searches its first {kib} KiB; the rest is kept and not searched"),
        }
    };
    let mut lines: Vec<String> = in_part.iter().take(FIRST).map(told).collect();
    if in_part.len() > FIRST {
        lines.push(format!("and so with {} more", in_part.len() - FIRST));
    }
    lines
}

fn told(filed: &Filed, place: &str) -> String {
    let record = &filed.record;
    let (count, bytes) = (record.files.len(), record.total_bytes());
    let first = if filed.again { "filed before and unchanged" } else { "filed" };
    format!(
        "{first}: job {} is record {} of {place}\n  {count} files, {} KiB; {} KiB of them new to the archive\n  {}\n\n\
         write this into the paper log:\n\n    record {}    {}    {}\n",
        plain(&record.summary.told("job"), 40),
        record.number,
        bytes.div_ceil(1024),
        filed.new_bytes.div_ceil(1024),
        plain(&record.summary.title, 76),
        record.number,
        record.at.day(),
        record.sha256.short(),
    )
}
