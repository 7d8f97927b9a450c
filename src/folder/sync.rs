//! Writing so that a power loss afterwards takes nothing back.

use std::collections::VecDeque;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Mutex;

use super::disk;
use crate::status::Failure;

/// How many files are waited for at once: a disk that keeps a journal writes what is asked of it together in one go.
const AT_ONCE: usize = 8;

/// Writes a new file and waits until it is on the disk.
///
/// # Errors
/// A file that is there already, and what the disk refuses.
pub(crate) fn write_file(path: &Path, bytes: &[u8]) -> Result<(), Failure> {
    new_file(path, bytes).and_then(|file| file.sync_all()).map_err(disk(path))
}

fn new_file(path: &Path, bytes: &[u8]) -> io::Result<File> {
    let mut file = OpenOptions::new().write(true).create_new(true).open(path)?;
    file.write_all(bytes)?;
    Ok(file)
}

/// New files that are waited for together.
#[derive(Default)]
pub(super) struct Files(VecDeque<(PathBuf, File)>);

impl Files {
    /// Writes a new file; it need not be on the disk yet.
    ///
    /// # Errors
    /// A file that is there already, and what the disk refuses.
    pub(super) fn write(&mut self, path: PathBuf, bytes: &[u8]) -> Result<(), Failure> {
        let file = new_file(&path, bytes).map_err(disk(&path))?;
        self.0.push_back((path, file));
        Ok(())
    }

    /// Waits until all are on the disk.
    ///
    /// # Errors
    /// The first that the disk refuses.
    pub(super) fn wait(self) -> Result<(), Failure> {
        let left = Mutex::new(self.0);
        let next = || left.lock().ok().and_then(|mut files| files.pop_front());
        let waits = || {
            while let Some((path, file)) = next() {
                file.sync_all().map_err(disk(&path))?;
            }
            Ok(())
        };
        std::thread::scope(|scope| {
            let workers: Vec<_> = (1..AT_ONCE).map(|_| scope.spawn(waits)).collect();
            let own = waits();
            let theirs =
                workers.into_iter().map(|w| w.join().unwrap_or_else(|e| std::panic::resume_unwind(e)));
            theirs.fold(own, Result::and)
        })
    }
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
