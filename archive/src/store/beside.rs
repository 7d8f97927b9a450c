//! Files that are being written beside their place, and what a kill left of them.

use std::fs::{self, File, OpenOptions};
use std::io;
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::time::{Duration, SystemTime};

/// Where files are written before they are moved in.
pub(super) const ROOM: &str = crate::key::BESIDE;
const PREFIX: &str = "new-";

/// Files older than this were left by a kill or a power loss: nothing takes so long to write.
const OLD: Duration = Duration::from_secs(24 * 3600);

/// A file being written; gone when it is dropped.
pub(super) struct Beside {
    pub(super) path: PathBuf,
    pub(super) file: File,
}

impl Drop for Beside {
    fn drop(&mut self) {
        let _ = fs::remove_file(&self.path);
    }
}

/// A new file in the room, under a name of its own.
///
/// # Errors
/// What the disk refuses.
pub(super) fn new(room: &Path, mode: Option<u32>) -> io::Result<Beside> {
    static COUNT: AtomicU64 = AtomicU64::new(0);
    for _ in 0..1000 {
        let count = COUNT.fetch_add(1, Ordering::Relaxed);
        let now = SystemTime::now().duration_since(SystemTime::UNIX_EPOCH).unwrap_or_default();
        let name = format!("{PREFIX}{}-{}-{count}", std::process::id(), now.as_nanos());
        let path = room.join(name);
        match options(mode).open(&path) {
            Ok(file) => return Ok(Beside { path, file }),
            // A process on another computer may have the same number and the same moment in its name.
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => {}
            Err(e) => return Err(e),
        }
    }
    Err(io::ErrorKind::AlreadyExists.into())
}

fn options(mode: Option<u32>) -> OpenOptions {
    let mut options = OpenOptions::new();
    options.write(true).create_new(true);
    #[cfg(unix)]
    {
        use std::os::unix::fs::OpenOptionsExt;
        options.mode(mode.unwrap_or(0o666));
    }
    #[cfg(not(unix))]
    let _ = mode;
    options
}

/// Takes away what kills left: files of this name that nobody has written to for a day.
pub(super) fn clear_old(room: &Path) {
    for entry in fs::read_dir(room).into_iter().flatten().flatten() {
        let own = entry.file_name().to_string_lossy().starts_with(PREFIX);
        let old = entry.metadata().is_ok_and(|about| {
            about.is_file()
                && about.modified().ok().and_then(|m| m.elapsed().ok()).is_some_and(|age| age > OLD)
        });
        if own && old {
            let _ = fs::remove_file(entry.path());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_kill_left_goes_a_day_later_and_nothing_else() {
        let dir = tempfile::tempdir().unwrap();
        let age = |name: &str, hours: u64| {
            fs::write(dir.path().join(name), "x").unwrap();
            let then = SystemTime::now() - Duration::from_secs(hours * 3600);
            File::options().write(true).open(dir.path().join(name)).unwrap().set_modified(then).unwrap();
        };
        age("new-1-1-1", 25);
        age("new-1-1-2", 23);
        age("mine", 1000);
        clear_old(dir.path());
        let mut left: Vec<_> = fs::read_dir(dir.path()).unwrap().map(|e| e.unwrap().file_name()).collect();
        left.sort();
        assert_eq!(left, ["mine", "new-1-1-2"]);
    }

    #[test]
    fn a_file_that_is_given_up_leaves_nothing() {
        let dir = tempfile::tempdir().unwrap();
        drop(new(dir.path(), None).unwrap());
        assert_eq!(fs::read_dir(dir.path()).unwrap().count(), 0);
    }
}
