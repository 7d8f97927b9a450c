//! `file`: a job as it was issued, kept in the archive.

use borewright_archive::{Filed, Time};
use borewright_planner::read::fault::plain;
use serde_json::json;

use super::print;
use crate::args::{FileArgs, Format};
use crate::filing::{self, Issued};
use crate::place::Place;
use crate::status::{self, Failure, Status};

/// Files a job as it was issued into the archive at a place, and prints what the paper log wants.
pub(super) fn run(asked: &FileArgs, place: &Place) -> Result<Status, Failure> {
    let path = &asked.job.path;
    let job = borewright_planner::load(path)?;
    let folder = if path.is_dir() { path } else { path.parent().unwrap_or(path) };
    let issued = Issued::read(&super::plan::beside(path), folder, &job)?;
    let filing = filing::filing(path, folder, &job, &issued, asked.at.unwrap_or_else(Time::now))?;
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
