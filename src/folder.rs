//! The output folder: written beside and moved into place whole; nothing of anyone else's is lost.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use borewright_output::Artifact;
use borewright_planner::read::source::sha256_hex;

use crate::status::Failure;

/// The file that says which files of a folder this program wrote, with their SHA-256.
const WRITTEN: &str = ".written";

/// Its first line.
const HEAD: &str = "borewright wrote these files; it replaces the folder only while they are as listed";

fn disk(path: &Path) -> impl FnOnce(std::io::Error) -> Failure + '_ {
    |source| Failure::Disk { path: path.to_owned(), source }
}

/// Puts the artifacts into `out`, in place of what this program wrote there before.
///
/// The folder is made beside its place and exchanged in one step, so that whoever looks, or kills the
/// program, finds the old plan or the new one.
///
/// # Errors
/// A place that holds anything this program did not write, and what the disk refuses.
pub(crate) fn write(out: &Path, artifacts: &[Artifact]) -> Result<(), Failure> {
    may_replace(out)?;
    let parent = match out.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    };
    fs::create_dir_all(&parent).map_err(disk(&parent))?;
    let mut builder = tempfile::Builder::new();
    builder.prefix(".borewright-");
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        // The mask of whoever runs it still applies.
        builder.permissions(fs::Permissions::from_mode(0o777));
    }
    let beside = builder.tempdir_in(&parent).map_err(disk(&parent))?;
    let mut written = format!("{HEAD}\n");
    for artifact in artifacts {
        let path = beside.path().join(&artifact.path);
        if let Some(folder) = path.parent() {
            fs::create_dir_all(folder).map_err(disk(folder))?;
        }
        fs::write(&path, &artifact.bytes).map_err(disk(&path))?;
        written.push_str(&format!("{} {}\n", sha256_hex(&artifact.bytes), artifact.path));
    }
    let path = beside.path().join(WRITTEN);
    fs::write(&path, written).map_err(disk(&path))?;
    exchange(beside, out)
}

/// Whether `out` is nothing, an empty folder, or a folder whose every file this program wrote.
fn may_replace(out: &Path) -> Result<(), Failure> {
    let refuse = |path: &Path, found: String| Failure::Place {
        path: path.to_owned(),
        found,
        expected: "a new folder, or one that holds only what borewright wrote there: \
                   move your own files away, or choose another place with --out",
    };
    let about = match fs::symlink_metadata(out) {
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return Ok(()),
        other => other.map_err(disk(out))?,
    };
    if !about.is_dir() {
        return Err(refuse(out, "something that is not a folder".into()));
    }
    let listed = listed(out);
    let mut folders = vec![out.to_owned()];
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).map_err(disk(&folder))? {
            let path = entry.map_err(disk(&folder))?.path();
            let about = fs::symlink_metadata(&path).map_err(disk(&path))?;
            let name = relative(out, &path);
            if about.is_dir() {
                folders.push(path);
            } else if name == WRITTEN && listed.is_some() {
                continue;
            } else {
                let Some(sum) = listed.as_ref().and_then(|l| l.get(&name)) else {
                    return Err(refuse(&path, "a file that borewright did not write".into()));
                };
                let bytes = fs::read(&path).map_err(disk(&path))?;
                if !about.is_file() || sha256_hex(&bytes) != *sum {
                    return Err(refuse(&path, "a file changed since borewright wrote it".into()));
                }
            }
        }
    }
    Ok(())
}

/// The files listed as written, with their sums; `None` where there is no such list.
fn listed(out: &Path) -> Option<BTreeMap<String, String>> {
    let text = fs::read_to_string(out.join(WRITTEN)).ok()?;
    let mut lines = text.lines();
    if lines.next()? != HEAD {
        return None;
    }
    Some(
        lines
            .filter_map(|l| l.split_once(' '))
            .map(|(sum, name)| (name.to_owned(), sum.to_owned()))
            .collect(),
    )
}

fn relative(out: &Path, path: &Path) -> String {
    let below = path.strip_prefix(out).unwrap_or(path);
    below.components().map(|c| c.as_os_str().to_string_lossy()).collect::<Vec<_>>().join("/")
}

/// Moves the new folder to its place; what stood there goes when `beside` is dropped.
fn exchange(beside: tempfile::TempDir, out: &Path) -> Result<(), Failure> {
    if fs::symlink_metadata(out).is_err() {
        let path = beside.keep();
        return fs::rename(&path, out).map_err(disk(out));
    }
    #[cfg(target_os = "linux")]
    {
        use rustix::fs::{CWD, RenameFlags, renameat_with};
        if renameat_with(CWD, beside.path(), CWD, out, RenameFlags::EXCHANGE).is_ok() {
            return beside.close().map_err(disk(out));
        }
    }
    // A disk without an exchange: the old folder steps aside first. Killed in between, both are whole
    // and beside each other.
    let old = beside.path().with_extension("old");
    fs::rename(out, &old).map_err(disk(out))?;
    let path = beside.keep();
    if let Err(source) = fs::rename(&path, out) {
        let _ = fs::rename(&old, out);
        return Err(Failure::Disk { path: out.to_owned(), source });
    }
    fs::remove_dir_all(&old).map_err(disk(&old))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn artifact(path: &str, text: &str) -> Artifact {
        Artifact { path: path.into(), bytes: text.as_bytes().to_vec() }
    }

    fn is_place<T: std::fmt::Debug>(result: Result<T, Failure>) -> bool {
        matches!(result, Err(Failure::Place { .. }))
    }

    #[test]
    fn a_second_plan_takes_the_place_of_the_first_whole() {
        let dir = tempfile::tempdir().unwrap();
        let out = dir.path().join("out");
        write(&out, &[artifact("a.txt", "one"), artifact("lists/b.nc", "two")]).unwrap();
        write(&out, &[artifact("a.txt", "three")]).unwrap();
        assert_eq!(fs::read_to_string(out.join("a.txt")).unwrap(), "three");
        assert!(!out.join("lists").exists());
        // Nothing is left beside it.
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 1);
    }

    #[test]
    fn what_somebody_else_wrote_is_never_removed() {
        let dir = tempfile::tempdir().unwrap();
        let out = dir.path().join("out");
        fs::create_dir(&out).unwrap();
        fs::write(out.join("notes.txt"), "mine").unwrap();
        assert!(is_place(write(&out, &[artifact("a.txt", "one")])));
        fs::remove_file(out.join("notes.txt")).unwrap();
        write(&out, &[artifact("a.txt", "one")]).unwrap();
        // A note put beside the plan, and a list changed by hand, are somebody's work.
        fs::write(out.join("notes.txt"), "mine").unwrap();
        assert!(is_place(write(&out, &[artifact("a.txt", "two")])));
        fs::remove_file(out.join("notes.txt")).unwrap();
        fs::write(out.join("a.txt"), "edited").unwrap();
        assert!(is_place(write(&out, &[artifact("a.txt", "two")])));
        assert_eq!(fs::read_to_string(out.join("a.txt")).unwrap(), "edited");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_in_the_place_of_the_folder_is_left_alone() {
        let dir = tempfile::tempdir().unwrap();
        let (out, elsewhere) = (dir.path().join("out"), dir.path().join("elsewhere"));
        fs::create_dir(&elsewhere).unwrap();
        std::os::unix::fs::symlink(&elsewhere, &out).unwrap();
        assert!(is_place(write(&out, &[artifact("a.txt", "one")])));
        assert_eq!(fs::read_dir(&elsewhere).unwrap().count(), 0);
    }
}
