//! Keeps the sum of the last line that was recorded, which `plan`, `prove`, `file` and `report` miss where it is gone, in two
//! places, of which a backup puts back one.

use std::fs;
use std::path::Path;

use borewright_planner::record::{Log, kept, kept_in, of_others};

/// Keeps the last sum of a record that was just added to, and those that it does not have any more.
///
/// What cannot be kept is no fault of the record, which is on the disk.
pub(super) fn keep(folder: &Path, job: &str, log: &Log) {
    let mut sums = kept(folder, job);
    sums.retain(|sum| !log.knows(sum));
    sums.push(log.last_sum.clone());
    let own = sums.into_iter().map(|sum| (sum, job.to_owned()));
    // Whose the lines before were stays known.
    let lines = own.chain(of_others(folder, job, log));
    let lines: String = lines.map(|(sum, job)| format!("{sum} {job}\n")).collect();
    for path in kept_in(folder) {
        // A link there leads to a file of somebody else's.
        if !fs::symlink_metadata(&path).is_ok_and(|about| about.is_symlink()) {
            let _ = fs::write(path, &lines);
        }
    }
}
