//! Writing so that a power loss afterwards takes nothing back.

use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::Path;

use super::disk;
use crate::status::Failure;

/// Writes a new file and waits until it is on the disk.
///
/// # Errors
/// A file that is there already, and what the disk refuses.
pub(crate) fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    let write = || -> io::Result<()> {
        let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
        file.write_all(bytes)?;
        file.sync_all()
    };
    write().map_err(disk(path))
}

/// Waits until the names in a folder are on the disk; systems that cannot be asked do so of themselves.
pub(crate) fn folder(path: &Path) -> io::Result<()> {
    if !cfg!(unix) {
        return Ok(());
    }
    match File::open(path).and_then(|folder| folder.sync_all()) {
        // Some network disks do not know the question.
        Err(e) if matches!(e.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) => Ok(()),
        other => other,
    }
}

/// Makes a folder and what is missing above it, each name on the disk.
///
/// # Errors
/// What the disk refuses.
pub(crate) fn create_dir_all(path: &Path) -> Result<(), Failure> {
    let missing: Vec<&Path> =
        path.ancestors().take_while(|p| !p.as_os_str().is_empty() && !p.exists()).collect();
    fs::create_dir_all(path).map_err(disk(path))?;
    for made in missing {
        let above = made.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        folder(above).map_err(disk(above))?;
    }
    Ok(())
}
