//! What of a folder this program wrote: the list with every file's sum.

use std::collections::BTreeMap;
use std::fs::{self, Metadata};
use std::path::{Path, PathBuf};

use borewright_planner::read::bounds::MOST_FILE_BYTES;
use borewright_planner::read::desktops::is_desktops;

use super::disk;
use super::sums::Sums;
use crate::status::Failure;

/// The file that says which files of a folder this program wrote, with their SHA-256.
pub(super) const WRITTEN: &str = ".written";

/// Its first line.
pub(super) const HEAD: &str =
    "borewright wrote these files; it replaces the folder only while they are as listed";

/// Whether a list was cut off within its first line, as a kill leaves it that comes before anything else is written.
pub(super) fn is_begun(path: &Path) -> bool {
    let short = fs::symlink_metadata(path).is_ok_and(|m| m.is_file() && m.len() <= HEAD.len() as u64);
    short && fs::read(path).is_ok_and(|bytes| HEAD.as_bytes().starts_with(&bytes))
}

/// The files listed as written, with their sums.
pub(super) struct Listed(BTreeMap<String, String>);

impl Listed {
    /// The list of a folder; `None` where there is none, or one that is no list.
    pub(super) fn of(folder: &Path) -> Option<Self> {
        let path = folder.join(WRITTEN);
        // A pipe in its place would keep whoever reads it waiting.
        fs::symlink_metadata(&path).ok().filter(|m| m.is_file() && m.len() <= MOST_FILE_BYTES)?;
        let text = fs::read_to_string(path).ok()?;
        let mut lines = text.lines();
        if lines.next()? != HEAD {
            return None;
        }
        let entries = lines.filter_map(|l| l.split_once(' '));
        Some(Self(entries.map(|(sum, name)| (name.to_owned(), sum.to_owned())).collect()))
    }

    /// Sum and name of every file.
    pub(super) fn files(self) -> Vec<(String, String)> {
        self.0.into_iter().map(|(name, sum)| (sum, name)).collect()
    }

    /// Whether the list names the file.
    pub(super) fn names(&self, name: &str) -> bool {
        name == WRITTEN || self.0.contains_key(name)
    }

    /// Whether the file at `path`, called `name` in the folder, is as it was written.
    pub(super) fn unaltered(
        &self,
        name: &str,
        path: &Path,
        about: &Metadata,
        sums: &Sums,
    ) -> Result<bool, Failure> {
        if name == WRITTEN {
            return Ok(about.is_file());
        }
        let Some(sum) = self.0.get(name) else { return Ok(false) };
        if !about.is_file() || about.len() > MOST_FILE_BYTES {
            return Ok(false);
        }
        Ok(sums.of(path, about)? == *sum)
    }
}

/// Whether `out` is nothing, an empty folder, or a folder whose every file this program wrote.
///
/// # Errors
/// Anything else, with the first file that is not this program's.
pub(super) fn may_replace(out: &Path, sums: &Sums) -> Result<(), Failure> {
    match fs::symlink_metadata(out) {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        other => {
            if !other.map_err(disk(out))?.is_dir() {
                return Err(refuse(out, "something that is not a folder"));
            }
        }
    }
    match foreign(out, sums)? {
        None => Ok(()),
        Some((path, found)) => Err(refuse(&path, found)),
    }
}

pub(super) fn refuse(path: &Path, found: &str) -> Failure {
    Failure::Place {
        path: path.to_owned(),
        found: found.to_owned(),
        expected: "a new folder, or one that holds only what borewright wrote there: \
                   move your own files away, or choose another place with --out",
    }
}

/// The first file of a folder that this program did not write, or that was changed since; what a desktop put there by itself
/// is nobody's.
///
/// # Errors
/// What the disk refuses.
pub(super) fn foreign(out: &Path, sums: &Sums) -> Result<Option<(PathBuf, &'static str)>, Failure> {
    let listed = Listed::of(out);
    for (path, name, about) in files(out)? {
        match &listed {
            Some(listed) if listed.names(&name) => {
                if !listed.unaltered(&name, &path, &about, sums)? {
                    return Ok(Some((path, "a file changed since borewright wrote it")));
                }
            }
            _ if about.is_file() && is_desktops(&name) => {}
            _ => return Ok(Some((path, "a file that borewright did not write"))),
        }
    }
    Ok(None)
}

/// Everything in a folder that is no folder: path, name below it with slashes, and what it is.
///
/// # Errors
/// What the disk refuses.
pub(super) fn files(out: &Path) -> Result<Vec<(PathBuf, String, Metadata)>, Failure> {
    let (mut found, mut folders) = (Vec::new(), vec![out.to_owned()]);
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).map_err(disk(&folder))? {
            let path = entry.map_err(disk(&folder))?.path();
            let about = match fs::symlink_metadata(&path) {
                // Taken away between the two looks.
                Err(e) if e.kind() == std::io::ErrorKind::NotFound => continue,
                other => other.map_err(disk(&path))?,
            };
            if about.is_dir() {
                folders.push(path);
            } else {
                let name = relative(out, &path);
                found.push((path, name, about));
            }
        }
    }
    found.sort_by(|a, b| a.1.cmp(&b.1));
    Ok(found)
}

fn relative(out: &Path, path: &Path) -> String {
    let below = path.strip_prefix(out).unwrap_or(path);
    below.components().map(|c| c.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}
