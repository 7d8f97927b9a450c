//! `file`: a job as it was issued, kept in the archive.

mod behind;
mod stands;

use std::path::{Path, PathBuf};

use borewright_archive::{Entry, Filed, Head, Record, Time};
use borewright_planner::read::fault::plain;
use serde_json::json;

use self::behind::{goes_on, knows_more};
use self::stands::Stands;
use super::{of_job, print, renamed};
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
    let stands = Stands::of(path, &job, &issued)?;
    let as_it_stands = (stands.verdict.as_str(), stands.why.as_str());
    let (filing, left_out) = filing::filing(path, folder, &job, (&issued, as_it_stands), at)?;
    let archive = filing::archive(place, asked.begin)?;
    let mut known = goes_on(asked, place, &archive)?;
    if let Some(found) = knows_more(asked, place, &archive, (folder, &issued), &filing)? {
        let expected = "the job as it stands now; where it went on in two folders, write down here with `record` what this one has not, then \
                        file; another engine wants a number of its own; `file --older` files an older state all the same";
        if !asked.older {
            return Err(Failure::Archived { place: place.told(), found, expected });
        }
        status::remark(&[format!("an older state, filed as was asked: the archive has {found}")]);
    }
    place.clear_old();
    let filed = archive.file(filing).inspect_err(|error| {
        // What was filed already is told as such the next time.
        if !error.is_rejection() {
            status::remark(&["nothing filed: once the cause below is mended, file again".to_owned()]);
        }
    })?;
    known.saw(Head { number: filed.record.number, sum: filed.record.sha256 });
    of_job::remark_twice(&archive, [filed.record.number, filed.record.number.saturating_sub(1)])?;
    let cache = (asked.cache.folder.as_deref(), place);
    if let Some((other, word)) = renamed::before(&archive, cache, &filed.record)? {
        status::remark(&[format!(
            "{}; if so, `open` says of that one that this is the later",
            renamed::question(&other, &filed.record, word)
        )]);
    }
    status::remark(stands.remark.as_slice());
    status::remark(not_kept(&left_out).as_slice());
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
                "not_kept": left_out,
            }))
            .map_err(std::io::Error::other)?;
            text.push('\n');
            print(text.as_bytes())?;
        }
        Format::Text => print(told(&filed, &place.told()).as_bytes())?,
    }
    Ok(Status::Go)
}

/// What of the job's folder is not kept, in a sentence.
fn not_kept(left_out: &[String]) -> Option<String> {
    const FIRST: usize = 5;
    let first = left_out.iter().take(FIRST).map(String::as_str).collect::<Vec<_>>().join(", ");
    let more = match left_out.len().saturating_sub(FIRST) {
        0 => String::new(),
        more => format!(" and {more} more"),
    };
    (!left_out.is_empty()).then(|| {
        format!("not kept: {first}{more}; what is to be kept with a job goes into notes/, record/ or report/")
    })
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
