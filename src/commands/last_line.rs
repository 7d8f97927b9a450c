//! Keeps the sum of the last line that was recorded, which `plan`, `prove`, `file` and `report` miss where it is gone.

use std::fs;
use std::path::Path;

use borewright_planner::record::{Log, kept, kept_in};

/// Keeps the last sum of a record that was just added to, and those that it does not have any more.
///
/// What cannot be kept is no fault of the record, which is on the disk.
pub(super) fn keep(folder: &Path, job: &str, log: &Log) {
    let mut sums = kept(folder, job);
    sums.retain(|sum| !log.knows(sum));
    sums.push(log.last_sum.clone());
    let lines: String = sums.iter().map(|sum| format!("{sum} {job}\n")).collect();
    let path = kept_in(folder);
    // A link there leads to a file of somebody else's.
    if !fs::symlink_metadata(&path).is_ok_and(|about| about.is_symlink()) {
        let _ = fs::write(path, lines);
    }
}
