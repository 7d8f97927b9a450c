//! Keeps the sum of the last line that was recorded, which `plan`, `prove`, `file` and `report` miss where it is gone, in two
//! places, of which a backup puts back one.

use std::fs;
use std::path::Path;

use borewright_planner::record::{Log, Whose, kept, kept_in, kept_lines, of_others};

/// Keeps the last sum of a record that was just added to, and those that it does not have any more.
///
/// What cannot be kept is no fault of the record, which is on the disk.
pub(super) fn keep(folder: &Path, whose: &Whose, (before, log): (&Log, &Log)) {
    let mut own = kept(folder, whose);
    // Whose the lines before were stays known, and that nobody knew it.
    let others = of_others(folder, whose, before);
    own.retain(|sum| !log.knows(sum));
    own.push(log.last_sum.clone());
    let own = own.into_iter().map(|sum| (sum, whose.clone()));
    write(folder, &own.chain(others).collect::<Vec<_>>());
}

/// Writes what is kept of a record into both places.
fn write(folder: &Path, sums: &[(String, Whose)]) {
    let lines = kept_lines(sums);
    for path in kept_in(folder) {
        // A link there leads to a file of somebody else's.
        if !fs::symlink_metadata(&path).is_ok_and(|about| about.is_symlink()) {
            let _ = fs::write(path, &lines);
        }
    }
}
