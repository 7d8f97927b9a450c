//! A place that is given as a job and is none: what was meant, where that can be said.

use std::path::{Path, PathBuf};

use crate::status::{Failure, shown};

/// A job's file.
const FILE: &str = "job.yaml";
/// Names that are told of a folder of jobs.
const MOST: usize = 5;
/// What the program writes or reads beside a job, and never as one.
const OTHER: [&str; 7] = ["json", "csv", "pdf", "svg", "html", "nc", "dxf"];

/// Refuses a file that is no job, and a folder of jobs.
///
/// # Errors
/// Either.
pub(super) fn is_job(path: &Path) -> Result<(), Failure> {
    if path.is_dir() {
        let below = jobs_below(path);
        if path.join(FILE).exists() || below.is_empty() {
            return Ok(());
        }
        let more = below.len().saturating_sub(MOST);
        let mut names: Vec<String> = below.iter().take(MOST).map(|job| shown(job)).collect();
        names.extend((more > 0).then(|| format!("and {more} more")));
        let said =
            format!("{}: found a folder of jobs, expected one of them: {}", shown(path), names.join(", "));
        return Err(Failure::Asked(said));
    }
    let is_other =
        path.extension().and_then(|e| e.to_str()).is_some_and(|e| OTHER.contains(&e.to_lowercase().as_str()));
    if !(is_other && path.is_file()) {
        return Ok(());
    }
    let mut folders = path.ancestors().skip(1).take(4);
    let job = folders.find(|folder| folder.join(FILE).exists()).map(shown);
    let given = job.map_or_else(|| "the job's folder".to_owned(), |job| format!("the job's folder: {job}"));
    Err(Failure::Asked(format!("{}: found a file that is no job, expected {given}", shown(path))))
}

/// Folders below one that have a job, by name.
fn jobs_below(path: &Path) -> Vec<PathBuf> {
    let entries = std::fs::read_dir(path).into_iter().flatten().filter_map(Result::ok);
    let mut below: Vec<PathBuf> = entries.map(|e| e.path()).filter(|p| p.join(FILE).is_file()).collect();
    below.sort();
    below
}
