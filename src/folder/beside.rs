//! Folders beside the place: the one being written, the one replaced, and what a kill left behind.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::Duration;

use borewright_planner::read::desktops::is_desktops;
use borewright_planner::read::fault::plain;

use super::listed::{self, Listed};
use super::sums::Sums;
use super::{PREFIX, disk};
use crate::status::Failure;

/// No plan takes that long to write: what is older was left by a kill or a power loss.
const OLD: Duration = Duration::from_secs(3600);

/// Between the name of a folder that stepped aside and that of its place.
const WAS: &str = "-was-";

/// A new folder beside the place, gone when it is dropped.
///
/// # Errors
/// What the disk refuses.
pub(super) fn stage(parent: &Path) -> Result<tempfile::TempDir, Failure> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(PREFIX);
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The mask of whoever runs it still applies.
        builder.permissions(fs::Permissions::from_mode(0o777));
    }
    builder.tempdir_in(parent).map_err(disk(parent))
}

/// Where the folder at `out` steps aside to.
pub(super) fn aside(staged: &Path, out: &Path) -> PathBuf {
    let mut name = staged.file_name().unwrap_or_default().to_owned();
    name.push(WAS);
    name.push(out.file_name().unwrap_or_default());
    staged.with_file_name(name)
}

/// Takes a replaced folder away, file by file as listed; what is somebody's moves to the new folder. Says what
/// could not be done: the plan is written whatever comes of this.
pub(super) fn remove_old(old: &Path, out: &Path, sums: &Sums) -> Vec<String> {
    let shown = |path: &Path| plain(&path.display().to_string(), 300);
    let mut said = Vec::new();
    let listed = Listed::of(old);
    let mut list = None;
    for (path, name, about) in listed::files(old).unwrap_or_default() {
        if name == listed::WRITTEN && listed.is_some() {
            // Last: what is left says of itself whose it is.
            list = Some(path);
            continue;
        }
        let own = |l: &Listed| l.unaltered(&name, &path, &about, sums).unwrap_or(false);
        let own = listed.as_ref().is_some_and(own);
        if own || (about.is_file() && is_desktops(&name)) {
            let _ = fs::remove_file(&path);
            continue;
        }
        let place = out.join(&name);
        if !place.exists() && place.parent().is_some_and(Path::is_dir) && fs::rename(&path, &place).is_ok() {
            said.push(format!("{}: put there while the plan was written, and kept", shown(&place)));
        }
    }
    let others = listed::files(old).map_or(1, |left| left.iter().filter(|f| f.1 != listed::WRITTEN).count());
    if others == 0
        && let Some(list) = list
    {
        let _ = fs::remove_file(list);
    }
    remove_folders(old);
    if fs::symlink_metadata(old).is_ok() {
        said.push(format!("{}: written, but the old copy could not be removed: {}", shown(out), shown(old)));
    }
    said
}

/// Removes folders from the innermost out, as far as they are empty.
fn remove_folders(folder: &Path) {
    for entry in fs::read_dir(folder).into_iter().flatten().flatten() {
        if entry.file_type().is_ok_and(|t| t.is_dir()) {
            remove_folders(&entry.path());
        }
    }
    let _ = fs::remove_dir(folder);
}

/// Takes away what kills left beside the place: folders of this name and of this user, an hour old, that hold
/// nothing but files of their own list. Whatever else is called so stays.
pub(super) fn clear_old(parent: &Path) {
    for entry in fs::read_dir(parent).into_iter().flatten().flatten() {
        let name = entry.file_name().to_string_lossy().into_owned();
        let path = entry.path();
        let Ok(about) = fs::symlink_metadata(&path) else { continue };
        if !name.starts_with(PREFIX) || !about.is_dir() || !is_own(&about) || !is_old(&about) {
            continue;
        }
        // The only copy of a plan whose place is empty is no litter.
        if name.split_once(WAS).is_some_and(|(_, place)| !parent.join(place).exists()) {
            continue;
        }
        let Ok(files) = listed::files(&path) else { continue };
        let listed = Listed::of(&path);
        // A file that a kill cut short has its name in the list, and bytes that are a plan's and nobody's work.
        let all = files.iter().all(|(file, name, about)| {
            let is_listed = || listed.as_ref().is_some_and(|l| l.names(name) || is_desktops(name));
            about.is_file() && (is_listed() || (name == listed::WRITTEN && listed::is_begun(file)))
        });
        if all {
            for (file, ..) in &files {
                let _ = fs::remove_file(file);
            }
            remove_folders(&path);
        }
    }
}

fn is_old(about: &fs::Metadata) -> bool {
    about.modified().ok().and_then(|m| m.elapsed().ok()).is_some_and(|age| age > OLD)
}

/// Whether whoever runs this owns the folder.
#[cfg(unix)]
fn is_own(about: &fs::Metadata) -> bool {
    use std::os::unix::fs::MetadataExt;
    // The standard library has no question for one's own number; a file of one's own answers it.
    tempfile::tempfile().and_then(|f| f.metadata()).is_ok_and(|own| own.uid() == about.uid())
}

#[cfg(not(unix))]
fn is_own(_: &fs::Metadata) -> bool {
    true
}
