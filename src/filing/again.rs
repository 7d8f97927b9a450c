//! A record planned again from its own inputs, and where today's figures are others.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use borewright_archive::{Archive, ArchiveError, Entry, Record};
use borewright_planner::job::Job;
use borewright_planner::plan::{Prior, Release};
use borewright_planner::read::bounds::{MOST_PLAN_BYTES, MOST_TABLE_BYTES};
use borewright_planner::read::sum::begins_with;
use borewright_planner::record::{FILE, Written, tell_as_then};
use serde_json::Value;

use super::differ::{Differences, differences};
use crate::status::Failure;

/// What came of planning a record again.
#[derive(Debug, Clone, PartialEq)]
pub(crate) enum Again {
    /// The figures that were filed; of one that was planned in doubt of its record, beside what.
    Alike(Vec<String>),
    /// Other figures.
    Other(Differences),
    /// None: why not, in a line or more.
    Not(String),
}

/// The plan as a record has it.
pub(super) const PLAN: &str = "job/out/plan.json";

/// Plans a record again in a folder of the caller's.
///
/// # Errors
/// What is kept is spoiled or cannot be laid out; inputs that today's program refuses are an answer.
pub(crate) fn again(archive: &Archive, record: &Record, scratch: &Path) -> Result<Again, Failure> {
    let Some(entry) = record.file(PLAN).filter(|e| e.bytes <= MOST_PLAN_BYTES) else {
        return Ok(Again::Not("it has no plan".to_owned()));
    };
    let mut bytes = Vec::new();
    archive.give_back(entry, &mut bytes)?;
    let Ok(then) = serde_json::from_slice::<Value>(&bytes) else {
        return Ok(Again::Not("its plan is of a form that this version does not read".to_owned()));
    };
    let main = then["inputs"][0]["file"].as_str().unwrap_or("job.yaml").to_owned();
    let mut kept = lay_out(archive, record, scratch)?;
    as_planned(&mut kept, &then)?;
    let Some(job) = kept.get(&main) else {
        return Ok(Again::Not("its job is not among its files".to_owned()));
    };
    let mut job = match borewright_planner::load_kept(job, &kept) {
        Ok(job) => job,
        Err(faults) => return Ok(Again::Not(format!("today's version refuses its inputs: {faults}"))),
    };
    let doubts = in_doubt(&mut job, &then);
    let release = then["release"]["who"].as_str().zip(then["release"]["why"].as_str());
    let release = release.map(|(who, why)| Release { who: who.to_owned(), why: why.to_owned() });
    // What the family said then is part of the record; what the archive would say of it today is not asked.
    let prior = match serde_json::from_value::<Option<Prior>>(then["prior"].clone()) {
        Ok(prior) => prior,
        Err(_) => {
            let why = "what its family said is of a form that this version does not read";
            return Ok(Again::Not(why.to_owned()));
        }
    };
    let made = borewright_planner::plan_job_with(job, release, prior)
        .map_err(|e| e.to_string())
        .and_then(|planning| borewright_output::bundle(&planning).map_err(|e| e.to_string()));
    let now = match made {
        Ok(bundle) => borewright_output::plan_json(&bundle.plan)?,
        Err(why) => return Ok(Again::Not(format!("today's version makes no plan of it: {why}"))),
    };
    if now == bytes {
        return Ok(Again::Alike(doubts));
    }
    let Ok(now) = serde_json::from_slice::<Value>(&now) else {
        return Ok(Again::Not("today's plan cannot be read back".to_owned()));
    };
    let differences = differences(&then, &now);
    Ok(if differences.0.is_empty() { Again::Alike(doubts) } else { Again::Other(differences) })
}

/// Tells a job what its plan was told of the record by what lay beside it, which is not filed: that lines were another job's, or
/// gone. Planned without it, a job that was filed in doubt would come out otherwise.
fn in_doubt(job: &mut Job, then: &Value) -> Vec<String> {
    let word = |finding: &Value, key: &str| finding[key].as_str().unwrap_or_default().to_owned();
    let findings = then["findings"].as_array().into_iter().flatten();
    let findings: Vec<[String; 3]> =
        findings.map(|finding| ["code", "verdict", "text"].map(|key| word(finding, key))).collect();
    let findings: Vec<Written<'_>> = findings.iter().map(|own| own.each_ref().map(String::as_str)).collect();
    tell_as_then(&mut job.log, &findings, then["record_sum"].as_str())
}

/// Takes from the record of the readings what was added since the plan was made.
fn as_planned(kept: &mut BTreeMap<String, PathBuf>, then: &Value) -> Result<(), Failure> {
    let Some(path) = kept.get(FILE).cloned() else { return Ok(()) };
    let made = then["inputs"].as_array().and_then(|all| all.iter().find(|i| i["file"] == FILE));
    let Some(sum) = made.and_then(|made| made["sha256"].as_str()) else {
        kept.remove(FILE);
        return Ok(());
    };
    let disk = |source| Failure::Disk { path: path.clone(), source };
    let bytes = fs::read(&path).map_err(disk)?;
    if let Some(known) = begins_with(&bytes, sum).and_then(|known| bytes.get(..known)) {
        fs::write(&path, known).map_err(disk)?;
    }
    Ok(())
}

/// Lays out what the job reads, each file under the name that the job has for it: that name is a key, never a path.
pub(crate) fn lay_out(
    archive: &Archive,
    record: &Record,
    scratch: &Path,
) -> Result<BTreeMap<String, PathBuf>, Failure> {
    let mut kept = BTreeMap::new();
    let named = record.files.iter().filter_map(|file| Some((file, file.called.clone()?)));
    for (number, (file, called)) in named.enumerate() {
        // A folder each: the job's own file keeps its name, which its plan knows it by.
        let folder = scratch.join(number.to_string());
        let path = folder.join(Path::new(&called).file_name().unwrap_or("file".as_ref()));
        fs::create_dir_all(&folder).map_err(|source| Failure::Disk { path: folder.clone(), source })?;
        put(archive, file, &path)?;
        kept.insert(called, path);
    }
    Ok(kept)
}

pub(super) fn put(archive: &Archive, file: &Entry, path: &Path) -> Result<(), Failure> {
    let disk = |source| Failure::Disk { path: path.to_owned(), source };
    // No input is that large; a forged record may say so.
    if file.bytes > MOST_TABLE_BYTES {
        return Err(ArchiveError::Content { name: file.name.clone(), why: "larger than any input" }.into());
    }
    let mut to = fs::File::create(path).map_err(disk)?;
    Ok(archive.give_back(file, &mut to)?)
}
