//! Sums of files that were read already: a folder is looked through three times while it is replaced, and read once.

use std::collections::BTreeMap;
use std::fs::{self, Metadata};
use std::path::Path;
use std::sync::{Arc, Mutex, PoisonError};
use std::time::Duration;

use borewright_planner::read::source::sha256_hex;

use super::{disk, listed};
use crate::status::Failure;

/// A file that was changed less than this before it was read may be changed again within the same tick of the disk's
/// clock, and nothing would show it: the coarsest in use, of memory cards, ticks every two seconds.
const SETTLED: Duration = Duration::from_secs(3);

/// What a file was known by when it was read. Whoever writes to it changes its times, and nobody sets the second of
/// them back.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
struct Stamp {
    device: u64,
    number: u64,
    bytes: u64,
    modified: (i64, i64),
    changed: (i64, i64),
}

impl Stamp {
    #[cfg(unix)]
    fn of(about: &Metadata) -> Option<Self> {
        use std::os::unix::fs::MetadataExt;
        Some(Self {
            device: about.dev(),
            number: about.ino(),
            bytes: about.len(),
            modified: (about.mtime(), about.mtime_nsec()),
            changed: (about.ctime(), about.ctime_nsec()),
        })
    }

    /// Without a time that nobody sets, every look reads anew.
    #[cfg(not(unix))]
    fn of(_: &Metadata) -> Option<Self> {
        None
    }

    fn is_settled(&self) -> bool {
        let changed = u64::try_from(self.changed.0.max(self.modified.0)).map(Duration::from_secs);
        let now = std::time::SystemTime::now().duration_since(std::time::UNIX_EPOCH);
        // A time to come tells nothing.
        changed.is_ok_and(|at| now.is_ok_and(|now| now.checked_sub(at).is_some_and(|age| age > SETTLED)))
    }
}

/// Sums by what their files were known by.
#[derive(Debug, Default)]
pub(crate) struct Sums(Mutex<BTreeMap<Stamp, String>>);

impl Sums {
    /// Begins to read a folder that this program wrote, beside whatever else is done before it is replaced.
    pub(crate) fn ahead(out: &Path) -> Arc<Self> {
        let sums = Arc::new(Self::default());
        let (theirs, out) = (Arc::clone(&sums), out.to_owned());
        // What it finds is asked again when it counts; and a system with no thread to spare reads then.
        let _ = std::thread::Builder::new().spawn(move || {
            let _ = listed::may_replace(&out, &theirs);
        });
        sums
    }

    /// The sum of the file at `path`, which is as `about` says.
    ///
    /// # Errors
    /// What the disk refuses.
    pub(super) fn of(&self, path: &Path, about: &Metadata) -> Result<String, Failure> {
        let stamp = Stamp::of(about).filter(Stamp::is_settled);
        let known = |stamp: &Stamp| self.0.lock().unwrap_or_else(PoisonError::into_inner).get(stamp).cloned();
        if let Some(sum) = stamp.as_ref().and_then(known) {
            return Ok(sum);
        }
        let sum = sha256_hex(&fs::read(path).map_err(disk(path))?);
        if let Some(stamp) = stamp {
            self.0.lock().unwrap_or_else(PoisonError::into_inner).insert(stamp, sum.clone());
        }
        Ok(sum)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[cfg(unix)]
    #[test]
    fn a_file_is_read_again_once_anything_of_it_changed() {
        let dir = tempfile::tempdir().unwrap();
        let path = dir.path().join("a.txt");
        fs::write(&path, "one").unwrap();
        let sums = Sums::default();
        let sum = |sums: &Sums| sums.of(&path, &fs::symlink_metadata(&path).unwrap()).unwrap();
        // Written this moment: nothing is kept of it.
        assert_eq!(sum(&sums), sha256_hex(b"one"));
        assert!(sums.0.lock().unwrap().is_empty());
        std::thread::sleep(SETTLED + Duration::from_secs(1));
        let before = fs::metadata(&path).unwrap();
        assert_eq!(sum(&sums), sha256_hex(b"one"));
        assert_eq!(sums.0.lock().unwrap().len(), 1);
        // What is known is taken as it is, while the file is as it was.
        sums.0.lock().unwrap().values_mut().for_each(|known| "known".clone_into(known));
        assert_eq!(sum(&sums), "known");
        // Other words of the same length, with the old time put back.
        fs::write(&path, "two").unwrap();
        fs::File::open(&path).unwrap().set_modified(before.modified().unwrap()).unwrap();
        assert_eq!(sum(&sums), sha256_hex(b"two"));
        // Another file in its place.
        fs::write(dir.path().join("b.txt"), "six").unwrap();
        fs::rename(dir.path().join("b.txt"), &path).unwrap();
        assert_eq!(sum(&sums), sha256_hex(b"six"));
    }
}
