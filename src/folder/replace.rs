//! The exchange of the new folder and the old one.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use super::sums::Sums;
use super::windows_errors::{ACCESS_DENIED, LOCK_VIOLATION, SHARING_VIOLATION};
use super::{disk, listed};
use crate::status::Failure;

/// Moves the new folder to its place; gives where the old one now stands.
///
/// What somebody put into the old folder while the new one was written makes both go back.
///
/// # Errors
/// Such a file, and what the disk refuses.
pub(super) fn into_place(
    staged: tempfile::TempDir,
    out: &Path,
    sums: &Sums,
) -> Result<Option<PathBuf>, Failure> {
    if fs::symlink_metadata(out).is_err() {
        rename(staged.path(), out).map_err(held(out))?;
        let _ = staged.keep();
        return Ok(None);
    }
    let old = if swap(staged.path(), out).is_ok() {
        let (old, path) = (staged.path().to_owned(), out);
        if let Some(found) = found_meanwhile(&old, sums) {
            swap(&old, path).map_err(disk(path))?;
            return Err(back_out(&staged, out, found));
        }
        let _ = staged.keep();
        old
    } else {
        aside(staged, out, sums)?
    };
    Ok(Some(old))
}

/// On a disk without an exchange the old folder steps aside first. Killed in between, both are whole and beside
/// each other.
pub(super) fn aside(staged: tempfile::TempDir, out: &Path, sums: &Sums) -> Result<PathBuf, Failure> {
    let old = super::beside::aside(staged.path(), out);
    rename(out, &old).map_err(held(out))?;
    let found = found_meanwhile(&old, sums);
    if found.is_none() {
        match rename(staged.path(), out) {
            Ok(()) => {
                let _ = staged.keep();
                return Ok(old);
            }
            Err(e) => {
                rename(&old, out).map_err(disk(&old))?;
                return Err(held(out)(e));
            }
        }
    }
    rename(&old, out).map_err(disk(&old))?;
    Err(found.map_or_else(|| listed::refuse(out, "a changed folder"), |found| back_out(&staged, out, found)))
}

/// A file of somebody's in the folder that stepped aside; a folder that cannot be read is kept too.
fn found_meanwhile(old: &Path, sums: &Sums) -> Option<(PathBuf, &'static str)> {
    match listed::foreign(old, sums) {
        Ok(None) => None,
        Ok(Some((path, found))) => Some((path.strip_prefix(old).unwrap_or(&path).to_owned(), found)),
        Err(_) => Some((PathBuf::new(), "a folder that can no longer be read")),
    }
}

fn back_out(staged: &tempfile::TempDir, out: &Path, found: (PathBuf, &'static str)) -> Failure {
    // Whoever wrote into the new folder while it stood in its place gets it back too.
    for (path, name, _) in listed::files(staged.path()).unwrap_or_default() {
        let own = listed::Listed::of(staged.path());
        if !own.is_some_and(|l| l.names(&name)) {
            let place = out.join(&name);
            if !place.exists() {
                let _ = fs::rename(&path, place);
            }
        }
    }
    listed::refuse(&out.join(found.0), found.1)
}

#[cfg(target_os = "linux")]
fn swap(one: &Path, other: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    Ok(renameat_with(CWD, one, CWD, other, RenameFlags::EXCHANGE)?)
}

#[cfg(not(target_os = "linux"))]
fn swap(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// A rename that waits a little for whoever looks into the folder: a virus scanner lets go in a moment.
fn rename(from: &Path, to: &Path) -> io::Result<()> {
    const TRIES: u32 = 10;
    for _ in 0..TRIES {
        match fs::rename(from, to) {
            Err(e) if is_held(&e) => std::thread::sleep(std::time::Duration::from_millis(50)),
            other => return other,
        }
    }
    fs::rename(from, to)
}

/// Whether another program holds something of the folder open; only Windows refuses for that.
fn is_held(error: &io::Error) -> bool {
    cfg!(windows) && matches!(error.raw_os_error(), Some(ACCESS_DENIED | SHARING_VIOLATION | LOCK_VIOLATION))
}

fn held(path: &Path) -> impl FnOnce(io::Error) -> Failure + '_ {
    |source| {
        if is_held(&source) {
            Failure::Held { path: path.to_owned() }
        } else {
            Failure::Disk { path: path.to_owned(), source }
        }
    }
}
