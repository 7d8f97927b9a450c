//! Filed jobs as they left: laid out from their records, each by its last one.

use std::collections::BTreeSet;

use borewright_archive::{Archive, Record};
use borewright_planner::as_left::{self, AsLeft};
use borewright_planner::family::read_as_another;
use borewright_planner::job::Job;
use borewright_planner::read::bounds::{MOST_PLAN_BYTES, MOST_RECORD_BYTES};
use borewright_planner::record::{FILE, Log, Paper};

use super::again::{PLAN, lay_out, put};
use super::whose::{figures_in, of_one_job};
use crate::status::Failure;

/// Jobs as they left, each with the number of its record, and what is to be said of those that cannot be laid out.
type Filed = (Vec<(u32, Job, AsLeft)>, Vec<String>);

/// Every filed job that can be laid out, oldest first, and why each of the others cannot.
///
/// # Errors
/// What the archive or the disk refuses.
pub(crate) fn as_left(archive: &Archive) -> Result<Filed, Failure> {
    let (mut records, mut without) = (Vec::new(), Vec::new());
    for number in 1..=archive.last()? {
        match archive.record(number) {
            Ok(record) => records.push(record),
            Err(error) => {
                archive.still_there()?;
                without.push(format!("record {number}: left out: {error}"));
            }
        }
    }
    let last = last_of_each(archive, &records, &mut without)?;
    records.retain(|record| last.contains(&record.number));
    let mut jobs = Vec::new();
    for record in records {
        match one(archive, &record) {
            Ok((job, left)) => jobs.push((record.number, job, left)),
            Err(why) => {
                archive.still_there()?;
                without.push(format!("record {}: left out: {why}", record.number));
            }
        }
    }
    Ok((jobs, without))
}

/// Numbers of the records that are the last of their job.
fn last_of_each(
    archive: &Archive,
    records: &[Record],
    told: &mut Vec<String>,
) -> Result<BTreeSet<u32>, Failure> {
    let all: Vec<_> = records.iter().map(|record| (record.number, &record.summary)).collect();
    let jobs = of_one_job(&all, &mut |number| {
        let record = records.iter().find(|record| record.number == number);
        record.map_or(Ok(None), |record| figures_in(archive, record))
    })?;
    for pair in jobs.iter().flat_map(|job| job.windows(2)) {
        let figures = |number: &u32| match records.iter().find(|record| record.number == *number) {
            Some(record) => figures_in(archive, record),
            None => Ok(None),
        };
        let [before, now] = [figures(&pair[0])?, figures(&pair[1])?];
        if let Some(bores) = before.zip(now).and_then(|(before, now)| read_as_another(&before, &now)) {
            told.push(format!(
                "record {}: the readings of all {bores} bores differ from those in record {}: if these are two engines, the first is \
                 left out; each wants a number of its own",
                pair[1], pair[0]
            ));
        }
    }
    Ok(jobs.iter().filter_map(|job| job.last().copied()).collect())
}

fn one(archive: &Archive, record: &Record) -> Result<(Job, AsLeft), Failure> {
    let none = |what: &'static str| Failure::Said { found: "a record without one".into(), expected: what };
    let scratch = tempfile::tempdir()?;
    let entry = record.file(PLAN).filter(|e| e.bytes <= MOST_PLAN_BYTES).ok_or(none("a plan"))?;
    let plan = scratch.path().join("plan.json");
    put(archive, entry, &plan)?;
    let paper = Paper::read(&plan)?;
    let kept = lay_out(archive, record, scratch.path())?;
    let main = paper.inputs.first().map_or("job.yaml", |i| i.file.as_str());
    let file = kept.get(main).ok_or(none("its job among its files"))?;
    let mut job = borewright_planner::load_kept(file, &kept)?;
    // A record that was begun after the plan is no input of it.
    if let Some(entry) = record.file(&format!("job/{FILE}")).filter(|e| e.bytes <= MOST_RECORD_BYTES) {
        let mut bytes = Vec::new();
        archive.give_back(entry, &mut bytes)?;
        job.log = Log::read(&bytes);
    }
    let left = as_left::as_left(&job, &paper, Vec::new())?;
    Ok((job, left))
}
