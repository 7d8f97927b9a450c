//! The output folder: written beside and moved into place whole; nothing of anyone else's is lost.

mod beside;
mod listed;
mod lock;
mod replace;
mod sums;
mod sync;
#[cfg(test)]
mod tests;
mod windows_errors;

use std::fs;
use std::path::{Path, PathBuf};

use borewright_output::Artifact;

use crate::status::Failure;
pub(crate) use lock::{Lock, take};
pub(crate) use sums::Sums;
pub(crate) use sync::{create_dir_all, folder as sync_folder, write_file};

/// What every folder that is being written, or was replaced, is called beside its place.
const PREFIX: &str = ".borewright-";

/// The list of what was written that lies beside it.
pub(crate) const LIST: borewright_planner::verify::Written =
    borewright_planner::verify::Written { name: listed::WRITTEN, head: listed::HEAD };

/// The sums and names of a folder that this program wrote; `None` where it has no list.
pub(crate) fn written(out: &Path) -> Option<Vec<(String, String)>> {
    listed::Listed::of(out).map(listed::Listed::files)
}

/// The first file of a folder that this program did not write, or that was changed since.
///
/// # Errors
/// What the disk refuses.
pub(crate) fn foreign(out: &Path) -> Result<Option<(PathBuf, &'static str)>, Failure> {
    listed::foreign(out, &Sums::default())
}

fn disk(path: &Path) -> impl FnOnce(std::io::Error) -> Failure + '_ {
    |source| Failure::Disk { path: path.to_owned(), source }
}

/// Puts the artifacts into `out`, in place of what this program wrote there before, and says what is left over.
///
/// The folder is made beside its place and exchanged in one step, so that whoever looks, kills the program or
/// pulls the plug finds the old plan or the new one: everything is on the disk before the exchange, and the
/// exchange is before anything old goes. What somebody puts into the folder meanwhile stays theirs.
///
/// # Errors
/// A place that holds anything this program did not write, another plan being written there, and what the disk
/// refuses. Nothing of the old folder is then lost, and nothing of the new one left.
pub(crate) fn write(out: &Path, artifacts: &[Artifact]) -> Result<Vec<String>, Failure> {
    write_over(out, artifacts, &Sums::default())
}

/// Writes a folder as [`write()`] does, where the files of the one that stood there may have been read ahead.
///
/// # Errors
/// As [`write()`].
pub(crate) fn write_over(out: &Path, artifacts: &[Artifact], sums: &Sums) -> Result<Vec<String>, Failure> {
    listed::may_replace(out, sums)?;
    let parent = match out.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    };
    sync::create_dir_all(&parent)?;
    let _lock = lock::take(&parent, out)?;
    // Whoever wrote it may have been at it until just now.
    listed::may_replace(out, sums)?;
    beside::clear_old(&parent);
    let staged = beside::stage(&parent)?;
    // The list of what follows comes first: a folder left by a kill then says of itself whose it is.
    let mut written = format!("{}\n", listed::HEAD);
    for artifact in artifacts {
        written.push_str(&format!("{} {}\n", artifact.sha256, artifact.path));
    }
    sync::write_file(&staged.path().join(listed::WRITTEN), written.as_bytes())?;
    let mut folders = vec![staged.path().to_owned()];
    let mut files = Vec::with_capacity(artifacts.len());
    for artifact in artifacts {
        let path = staged.path().join(&artifact.path);
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(disk(folder))?;
            if !folders.iter().any(|f| f == folder) {
                folders.push(folder.to_owned());
            }
        }
        files.push((path, artifact.bytes.as_slice()));
    }
    sync::write_files(&files)?;
    for folder in folders.iter().rev() {
        sync::folder(folder).map_err(disk(folder))?;
    }
    let old = replace::into_place(staged, out, sums)?;
    sync::folder(&parent).map_err(disk(&parent))?;
    Ok(old.map(|old| beside::remove_old(&old, out, sums)).unwrap_or_default())
}
