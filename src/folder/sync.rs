//! Writing so that a power loss afterwards takes nothing back.

use std::collections::VecDeque;
use std::fs::{self, File, OpenOptions};
use std::io::{self, Write};
use std::num::NonZero;
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

/// Writes new files, and waits for all of them together until they are on the disk.
///
/// # Errors
/// A file that is there already, and the first that the disk refuses.
pub(super) fn write_files(files: &[(PathBuf, &[u8])]) -> Result<(), Failure> {
    let processors = std::thread::available_parallelism().map_or(1, NonZero::get);
    let write = |(path, bytes): &(PathBuf, &[u8])| {
        new_file(path, bytes).map(|file| (path.clone(), file)).map_err(disk(path))
    };
    let written = together(processors.min(AT_ONCE), files.iter().collect(), write)?;
    let wait = |(path, file): (PathBuf, File)| file.sync_all().map_err(disk(&path));
    together(AT_ONCE, written.into(), wait).map(drop)
}

/// Does the same with each of some things, so many at once.
///
/// # Errors
/// The first of each worker's; what is left then is not begun.
fn together<T: Send, R: Send>(
    workers: usize,
    things: VecDeque<T>,
    act: impl Fn(T) -> Result<R, Failure> + Sync,
) -> Result<Vec<R>, Failure> {
    let left = Mutex::new(things);
    let next = || left.lock().ok().and_then(|mut things| things.pop_front());
    let work = || {
        let mut done = Vec::new();
        while let Some(thing) = next() {
            done.push(act(thing)?);
        }
        Ok(done)
    };
    std::thread::scope(|scope| {
        let others: Vec<_> = (1..workers).map(|_| scope.spawn(work)).collect();
        let own = work();
        let theirs = others.into_iter().map(|w| w.join().unwrap_or_else(|e| std::panic::resume_unwind(e)));
        theirs.fold(own, |all: Result<Vec<R>, Failure>, theirs| {
            let mut all = all?;
            all.extend(theirs?);
            Ok(all)
        })
    })
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
