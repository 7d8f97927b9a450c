//! The report that is filed with a job: of this plan and of the record as it is, as it was written.

use std::path::Path;

use crate::commands::report;
use crate::folder;
use crate::status::Failure;

/// The folder that `report` writes.
pub(super) const ROOM: &str = "report";

/// Refuses a report that says something else than the job says now. A folder of that name without a report is the shop's own.
///
/// # Errors
/// One that was changed, or that was made of another plan or before the record went on.
pub(super) fn stands(path: &Path, folder: &Path) -> Result<(), Failure> {
    let room = folder.join(ROOM);
    let file = room.join("report.json");
    if file.symlink_metadata().is_err() {
        return Ok(());
    }
    let refuse = |path: &Path, found: &str| {
        Err(Failure::Place {
            path: path.to_owned(),
            found: found.to_owned(),
            expected: "the report of this plan and of the record as it is: `report` again, then file",
        })
    };
    if let Some((path, found)) = folder::foreign(&room)? {
        return refuse(&path, found);
    }
    let (_, left) = report::of(path, None)?;
    let now = borewright_output::report_json(&left)?;
    let then = std::fs::read(&file).map_err(|source| Failure::Disk { path: file.clone(), source })?;
    if then == now {
        Ok(())
    } else {
        refuse(&file, "a report of another plan, or made before the record went on")
    }
}
