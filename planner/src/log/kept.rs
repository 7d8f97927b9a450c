//! The sum of the last line that was recorded, kept beside the record: a table put back as it was an hour ago, or taken away,
//! shows nothing of that itself.

use std::fs;
use std::path::{Path, PathBuf};

use super::{FILE, Log};

/// Where it stands, beside the record; never filed with a job.
const NAME: &str = ".borewright-cut.sum";
/// Much longer than it ever is.
const MOST_BYTES: u64 = 64 * 1024;

/// Where the sums of a job's folder are kept.
#[must_use]
pub fn kept_in(folder: &Path) -> PathBuf {
    folder.join(FILE).with_file_name(NAME)
}

/// The sums that are kept of a job's record; none of another job's, whose folder was copied.
#[must_use]
pub fn kept(folder: &Path, job: &str) -> Vec<String> {
    let path = kept_in(folder);
    let is_small = fs::metadata(&path).is_ok_and(|about| about.is_file() && about.len() <= MOST_BYTES);
    let text = is_small.then(|| fs::read_to_string(&path).ok()).flatten().unwrap_or_default();
    // A line without its end was cut off while it was written.
    let whole = text.split_inclusive('\n').filter_map(|line| line.strip_suffix('\n')?.split_once(' '));
    whole.filter(|(_, of)| *of == job).map(|(sum, _)| sum.to_owned()).collect()
}

/// Tells the record what of it is gone.
pub fn miss_kept(folder: &Path, job: &str, log: &mut Log) {
    kept(folder, job).iter().for_each(|sum| log.miss(sum));
}
