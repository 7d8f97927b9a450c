//! The user's own folder for what can be made again: an index, how far an audit came. Never the truth.

use std::fs;
use std::path::{Path, PathBuf};

use borewright_archive::Sum;
use borewright_planner::read::bounds::MOST_PLAN_BYTES;

use crate::place::Place;
use crate::status::Failure;

/// The folder of an archive's things, made where it is missing; closed to others, since customers' names are in it.
///
/// # Errors
/// No such folder known, and what the disk refuses.
pub(crate) fn folder(given: Option<&Path>, place: &Place) -> Result<PathBuf, Failure> {
    let root = given.map(Path::to_owned).or_else(usual).ok_or(Failure::NoCache)?;
    let key = Sum::of(&place.identity()).to_string();
    let folder = root.join(key.get(..16).unwrap_or_default());
    let mut builder = fs::DirBuilder::new();
    builder.recursive(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(0o700);
    }
    builder.create(&folder).map_err(|source| Failure::Disk { path: folder.clone(), source })?;
    Ok(folder)
}

/// Where a user's caches lie on this system (XDG Base Directory Specification 0.8 on Linux).
fn usual() -> Option<PathBuf> {
    let set = |name: &str| std::env::var_os(name).map(PathBuf::from).filter(|path| path.is_absolute());
    let root = if cfg!(windows) {
        set("LOCALAPPDATA")
    } else if cfg!(target_os = "macos") {
        set("HOME").map(|home| home.join("Library/Caches"))
    } else {
        set("XDG_CACHE_HOME").or_else(|| set("HOME").map(|home| home.join(".cache")))
    };
    root.map(|root| root.join("borewright"))
}

/// Puts a small file into such a folder, whole or not at all; one that cannot be written is done without.
pub(crate) fn put(path: &Path, bytes: &[u8]) {
    let Some(folder) = path.parent() else { return };
    let written = tempfile::NamedTempFile::new_in(folder).and_then(|mut file| {
        std::io::Write::write_all(&mut file, bytes)?;
        file.persist(path).map_err(|e| e.error)
    });
    drop(written);
}

/// A small file of such a folder, where it can be read.
pub(crate) fn get(path: &Path) -> Option<Vec<u8>> {
    let about = fs::symlink_metadata(path).ok()?;
    (about.is_file() && about.len() <= MOST_PLAN_BYTES).then(|| fs::read(path).ok()).flatten()
}
