//! Keeps the sum of the last line that was recorded, which `plan`, `prove`, `file` and `report` miss where it is gone, in two
//! places, of which a backup puts back one.

use std::fs::{self, File};
use std::io::Write;
use std::path::Path;

use borewright_planner::record::{BEGUN, Log, Whose, kept, kept_in, kept_lines, of_others, taken_out};

/// Keeps the last sum of a record that was just added to, and those that it does not have any more.
///
/// What cannot be kept is no fault of the record, which is on the disk.
pub(super) fn keep(folder: &Path, whose: &Whose, (before, log): (&Log, &Log)) {
    let mut own = kept(folder, whose);
    // Whose the lines before were stays known, and that nobody knew it.
    let others = of_others(folder, whose, before).into_iter().chain(taken_out(folder, whose, before));
    own.retain(|sum| !log.knows(sum));
    own.push(log.last_sum.clone());
    let own = own.into_iter().map(|sum| (sum, whose.clone()));
    write(folder, &own.chain(others).collect::<Vec<_>>());
}

/// Keeps whose a record is that is about to be begun, before its first line is on the disk: a power loss between the two would
/// leave a line of which nothing says whose it is.
pub(super) fn begin(folder: &Path, whose: &Whose, before: &Log) {
    let is_begun = !before.last_sum.is_empty() || kept_in(folder).iter().any(|path| path.exists());
    if !is_begun {
        write(folder, &[(BEGUN.to_owned(), whose.clone())]);
    }
}

/// Writes what is kept of a record into both places, one after the other: of two that were cut off one is whole.
fn write(folder: &Path, sums: &[(String, Whose)]) {
    let lines = kept_lines(sums);
    for path in kept_in(folder) {
        // A link there leads to a file of somebody else's.
        if !fs::symlink_metadata(&path).is_ok_and(|about| about.is_symlink()) {
            let _ = File::create(path).and_then(|mut file| {
                file.write_all(lines.as_bytes())?;
                file.sync_all()
            });
        }
    }
}
