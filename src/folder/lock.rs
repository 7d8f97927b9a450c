//! One plan at a time is written into one place.

use std::fs::File;
use std::io;
use std::path::Path;

use super::{PREFIX, disk};
use crate::status::Failure;

/// Held while a folder is written; its file goes when it is dropped.
pub(crate) struct Lock {
    #[cfg(unix)]
    path: std::path::PathBuf,
    _file: Option<File>,
}

#[cfg(unix)]
impl Drop for Lock {
    fn drop(&mut self) {
        // Removed while it is held, so that nobody else's is.
        if self._file.is_some() {
            let _ = std::fs::remove_file(&self.path);
        }
    }
}

/// Takes the place, or says that somebody is writing there.
///
/// # Errors
/// Another plan being written to the same place, and what the disk refuses.
pub(crate) fn take(parent: &Path, out: &Path) -> Result<Lock, Failure> {
    let name = out.file_name().map(|n| n.to_string_lossy().into_owned()).unwrap_or_default();
    let path = parent.join(format!("{PREFIX}{name}.lock"));
    // A file that is let go of by another between opening and taking it is opened anew.
    for _ in 0..100 {
        match open(&path) {
            Ok(Some(lock)) => return Ok(lock),
            Ok(None) => {}
            Err(e) if e.kind() == io::ErrorKind::WouldBlock => {
                return Err(Failure::Busy { path: out.to_owned() });
            }
            Err(e) => return Err(disk(&path)(e)),
        }
    }
    Err(Failure::Busy { path: out.to_owned() })
}

#[cfg(unix)]
fn open(path: &Path) -> io::Result<Option<Lock>> {
    use std::fs::TryLockError;
    use std::os::unix::fs::{MetadataExt, OpenOptionsExt};

    match std::fs::symlink_metadata(path) {
        Ok(about) if !about.is_file() => {
            return Err(io::Error::other("something that is not a file stands in the lock's place"));
        }
        _ => {}
    }
    let file = std::fs::OpenOptions::new()
        .read(true)
        .write(true)
        .create(true)
        .truncate(false)
        .mode(0o666)
        .open(path)?;
    match file.try_lock() {
        Ok(()) => {}
        Err(TryLockError::WouldBlock) => return Err(io::ErrorKind::WouldBlock.into()),
        // A disk without locks: the exchange is whole all the same.
        Err(TryLockError::Error(_)) => return Ok(Some(Lock { path: path.to_owned(), _file: Some(file) })),
    }
    let own = file.metadata()?;
    let same = std::fs::metadata(path).is_ok_and(|m| m.ino() == own.ino() && m.dev() == own.dev());
    Ok(same.then(|| Lock { path: path.to_owned(), _file: Some(file) }))
}

#[cfg(windows)]
fn open(path: &Path) -> io::Result<Option<Lock>> {
    use std::os::windows::fs::OpenOptionsExt;

    use super::windows_errors::SHARING_VIOLATION;

    const WRITE_AND_DELETE: u32 = 0x4000_0000 | 0x0001_0000;
    const DELETE_ON_CLOSE: u32 = 0x0400_0000;
    // Shared with nobody; the system takes it away with whoever holds it, killed or not.
    let opened = std::fs::OpenOptions::new()
        .write(true)
        .create(true)
        .truncate(false)
        .access_mode(WRITE_AND_DELETE)
        .share_mode(0)
        .custom_flags(DELETE_ON_CLOSE)
        .open(path);
    match opened {
        Ok(file) => Ok(Some(Lock { _file: Some(file) })),
        Err(e) if e.raw_os_error() == Some(SHARING_VIOLATION) => Err(io::ErrorKind::WouldBlock.into()),
        Err(e) => Err(e),
    }
}
