//! The figures of a block that its family is learned from, as they lie in a record.

use std::path::Path;

use borewright_archive::{Archive, Index, Query, Record};
use borewright_planner::family::{self, Block, Figures};
use borewright_planner::job::Job;
use borewright_planner::record::{FILE, Paper};

use serde_json::Value;

use super::Issued;
use crate::status::Failure;

/// Their name in a record.
pub(super) const NAME: &str = "figures.json";
/// No block has more, bytes.
const MOST_BYTES: u64 = 64 * 1024 * 1024;

/// Of a job as it was issued and recorded.
///
/// # Errors
/// Readings that make no survey.
pub(super) fn of(path: &Path, folder: &Path, job: &Job, issued: &Issued) -> Result<Vec<u8>, Failure> {
    let mut figures = family::figures(job)?;
    figures.hours_asked = Some(issued.plan.hours());
    let record = std::fs::read(folder.join(FILE)).ok();
    if let (Some(bytes), Ok(paper)) = (record, Paper::with_checks(&folder.join("out/plan.json"))) {
        figures.record(&bytes, &paper.checks, borewright_planner::job_units(path)?);
    }
    Ok(borewright_output::figures_json(&figures)?)
}

/// The figures of every record of a family; how many of them have none that can be read.
///
/// # Errors
/// What the archive or the index refuses.
pub(crate) fn of_family(
    archive: &Archive,
    index: &Index,
    family: &str,
) -> Result<(Vec<(Block, Figures)>, usize), Failure> {
    let query =
        Query { tags: vec![("family".to_owned(), family.to_owned())], most: u32::MAX, ..Query::default() };
    let (found, _) = index.find(&query)?;
    let (mut all, mut without) = (Vec::new(), 0);
    for found in found {
        match archive.record(found.number).ok().and_then(|record| read(archive, &record)) {
            Some(one) => all.push(one),
            None => {
                archive.still_there()?;
                without += 1;
            }
        }
    }
    Ok((all, without))
}

fn read(archive: &Archive, record: &Record) -> Option<(Block, Figures)> {
    let entry = record.file(NAME).filter(|e| e.bytes <= MOST_BYTES)?;
    let mut bytes = Vec::new();
    archive.give_back(entry, &mut bytes).ok()?;
    let value: Value = serde_json::from_slice(&bytes).ok().filter(is_of_this_world)?;
    let figures: Figures = serde_json::from_value(value).ok()?;
    let block = Block { record: record.number, at: record.at.to_string(), job: figures.job.clone() };
    Some((block, figures))
}

/// Whether no figure is beyond what a block can have, mm: sums of larger ones would be no numbers any more.
fn is_of_this_world(value: &Value) -> bool {
    const MOST: f64 = 1e6;
    match value {
        Value::Number(number) => number.as_f64().is_some_and(|n| n.abs() <= MOST),
        Value::Array(all) => all.iter().all(is_of_this_world),
        Value::Object(map) => map.values().all(is_of_this_world),
        _ => true,
    }
}
