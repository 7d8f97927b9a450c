//! The figures of a block that its family is learned from, as they lie in a record.

use std::path::Path;

use borewright_archive::{Archive, Filing, Found, Index, Origin, Query};
use borewright_planner::family::{self, Block, Figures, Filed};
use borewright_planner::job::Job;
use borewright_planner::read::bounds::MOST_PLAN_BYTES;
use borewright_planner::record::{FILE, Paper};

use serde_json::Value;

use super::Issued;
use crate::status::Failure;

/// Their name in a record.
pub(super) const NAME: &str = "figures.json";

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

/// Of a job that is to be filed.
pub(crate) fn of_filing(filing: &Filing) -> Option<Figures> {
    match &filing.items.iter().find(|item| item.name == NAME)?.from {
        Origin::Bytes(bytes) => parsed(bytes),
        Origin::Path(_) => None,
    }
}

/// Asks for every record of a family.
pub(crate) fn family_query(family: &str) -> Query {
    Query { tags: vec![("family".to_owned(), family.to_owned())], most: u32::MAX, ..Query::default() }
}

/// The figures of some records of a family; how many of them have none that can be read. The index keeps them once they
/// were read, by their sums.
///
/// # Errors
/// What the archive or the index refuses.
pub(crate) fn of_family(
    archive: &Archive,
    index: &mut Index,
    found: &[Found],
) -> Result<(Vec<Filed>, usize), Failure> {
    let (mut all, mut without) = (Vec::new(), 0);
    index.files(archive, found, NAME, MOST_PLAN_BYTES, &mut |one, bytes| match bytes
        .and_then(|b| read(one, &b))
    {
        Some(one) => all.push(one),
        None => without += 1,
    })?;
    Ok((all, without))
}

fn read(found: &Found, bytes: &[u8]) -> Option<Filed> {
    let figures = parsed(bytes)?;
    let block = Block { record: found.number, at: found.at.to_string(), job: figures.job.clone() };
    Some(Filed { block, customer: found.summary.told("customer"), figures })
}

/// Figures as they lie in a record; `None` of what is none.
pub(super) fn parsed(bytes: &[u8]) -> Option<Figures> {
    let value: Value = serde_json::from_slice(bytes).ok().filter(is_of_this_world)?;
    serde_json::from_value(value).ok()
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
