//! An archive in a folder, of one computer or a share.

use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::{Path, PathBuf};

use super::{Kind, Listed, Opened, Put, Store, StoreError, beside};
use crate::sum::Sum;

/// A folder. Files are written beside, synced, and moved in under a name that must be free.
#[derive(Debug, Clone)]
pub struct Folder {
    root: PathBuf,
}

impl Folder {
    /// The folder at a path, whether it is there or not.
    #[must_use]
    pub fn at(root: &Path) -> Self {
        Self { root: root.to_owned() }
    }

    /// Takes away what kills left behind a day and more ago.
    pub fn clear_old(&self) {
        beside::clear_old(&self.root.join(beside::ROOM));
    }

    fn error(&self, key: &str, source: io::Error) -> StoreError {
        StoreError { at: self.root.join(key).display().to_string(), source }
    }

    /// Makes the folders of a key, as open as the place itself and no more; a link among them is refused.
    fn make_folders(&self, key: &str) -> io::Result<PathBuf> {
        let mut path = self.root.clone();
        let mut parts: Vec<&str> = key.split('/').collect();
        parts.pop();
        for part in parts {
            let above = path.clone();
            path.push(part);
            match fs::symlink_metadata(&path) {
                Ok(about) if about.is_dir() => continue,
                Ok(_) => return Err(io::Error::other("something that is not a folder stands in the way")),
                Err(e) if e.kind() == io::ErrorKind::NotFound => {}
                Err(e) => return Err(e),
            }
            match make_folder(&path, self.mode()?) {
                // Another writer was first.
                Err(e) if e.kind() == io::ErrorKind::AlreadyExists => {}
                other => other?,
            }
            sync_folder(&above)?;
        }
        Ok(path)
    }

    /// The rights of a new file: whoever may read the place may read it, and nobody else.
    fn mode(&self) -> io::Result<Option<u32>> {
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            Ok(Some(fs::metadata(&self.root)?.permissions().mode() & 0o777))
        }
        #[cfg(not(unix))]
        Ok(None)
    }

    fn put_file(&self, key: &str, from: &mut dyn Read) -> io::Result<Put> {
        let target = self.root.join(key);
        if fs::symlink_metadata(&target).is_ok() {
            return Ok(Put::Taken);
        }
        let room = self.make_folders(&format!("{}/x", beside::ROOM))?;
        let mut written = beside::new(&room, self.mode()?.map(|mode| mode & 0o666))?;
        let file = &mut written.file;
        Sum::through(from, |piece| file.write_all(piece))?;
        close_to_writing(file)?;
        file.sync_all()?;
        let folder = self.make_folders(key)?;
        let put = move_in(&written.path, &target)?;
        if put == Put::New {
            sync_folder(&folder)?;
        }
        Ok(put)
    }

    /// A file's own data, `None` where there is nothing; a link or pipe is refused and never opened.
    fn about(&self, key: &str) -> io::Result<Option<fs::Metadata>> {
        match fs::symlink_metadata(self.root.join(key)) {
            Ok(about) if about.is_file() => Ok(Some(about)),
            Ok(_) => Err(io::Error::other("something that is not a file")),
            Err(e) if matches!(e.kind(), io::ErrorKind::NotFound | io::ErrorKind::NotADirectory) => Ok(None),
            Err(e) => Err(e),
        }
    }
}

/// Takes the right to write off a kept file, so that it is not changed by a slip; the folder's rights decide who
/// reads it.
fn close_to_writing(file: &File) -> io::Result<()> {
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let mode = file.metadata()?.permissions().mode() & 0o444;
        match file.set_permissions(fs::Permissions::from_mode(mode)) {
            // A share may have no rights to set.
            Err(e) if matches!(e.kind(), io::ErrorKind::PermissionDenied | io::ErrorKind::Unsupported) => {
                Ok(())
            }
            other => other,
        }
    }
    #[cfg(not(unix))]
    {
        let _ = file;
        Ok(())
    }
}

fn make_folder(path: &Path, mode: Option<u32>) -> io::Result<()> {
    let mut builder = fs::DirBuilder::new();
    #[cfg(unix)]
    if let Some(mode) = mode {
        use std::os::unix::fs::DirBuilderExt;
        builder.mode(mode);
    }
    #[cfg(not(unix))]
    let _ = (&mut builder, mode);
    builder.create(path)
}

/// Gives the written file its name where nothing has it, in one step.
///
/// A second name for the same file is refused by every system where the name is taken; a disk without second names
/// may know a move that replaces nothing. One that knows neither would let two writers replace each other.
fn move_in(written: &Path, target: &Path) -> io::Result<Put> {
    match fs::hard_link(written, target) {
        Ok(()) => Ok(Put::New),
        Err(e) if e.kind() == io::ErrorKind::AlreadyExists => Ok(Put::Taken),
        Err(e) if matches!(e.kind(), io::ErrorKind::StorageFull | io::ErrorKind::NotFound) => Err(e),
        Err(first) => match rename_where_free(written, target) {
            Ok(()) => Ok(Put::New),
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => Ok(Put::Taken),
            Err(_) => Err(first),
        },
    }
}

#[cfg(target_os = "linux")]
pub(super) fn rename_where_free(written: &Path, target: &Path) -> io::Result<()> {
    use rustix::fs::{CWD, RenameFlags, renameat_with};
    renameat_with(CWD, written, CWD, target, RenameFlags::NOREPLACE).map_err(io::Error::from)
}

#[cfg(not(target_os = "linux"))]
pub(super) fn rename_where_free(_: &Path, _: &Path) -> io::Result<()> {
    Err(io::ErrorKind::Unsupported.into())
}

/// Waits until the names in a folder are on the disk; where a system offers no such call, it is skipped.
fn sync_folder(path: &Path) -> io::Result<()> {
    if !cfg!(unix) {
        return Ok(());
    }
    match File::open(path).and_then(|folder| folder.sync_all()) {
        // Some network disks do not know the call.
        Err(e) if matches!(e.kind(), io::ErrorKind::InvalidInput | io::ErrorKind::Unsupported) => Ok(()),
        other => other,
    }
}

impl Store for Folder {
    fn make(&self) -> Result<(), StoreError> {
        let make = || match fs::create_dir(&self.root) {
            Err(e) if e.kind() == io::ErrorKind::AlreadyExists => Ok(()),
            Err(e) => Err(e),
            Ok(()) => match self.root.parent() {
                Some(above) if !above.as_os_str().is_empty() => sync_folder(above),
                _ => sync_folder(Path::new(".")),
            },
        };
        make().map_err(|e| self.error("", e))
    }

    fn put(&self, key: &str, from: &mut dyn Read) -> Result<Put, StoreError> {
        self.put_file(key, from).map_err(|e| self.error(key, e))
    }

    fn get(&self, key: &str) -> Result<Option<Opened>, StoreError> {
        let open = || -> io::Result<Option<Opened>> {
            let Some(about) = self.about(key)? else { return Ok(None) };
            let file = File::open(self.root.join(key))?;
            Ok(Some(Opened { reader: Box::new(file), bytes: about.len() }))
        };
        open().map_err(|e| self.error(key, e))
    }

    fn bytes(&self, key: &str) -> Result<Option<u64>, StoreError> {
        self.about(key).map(|about| about.map(|a| a.len())).map_err(|e| self.error(key, e))
    }

    fn list(&self, folder: &str) -> Result<Vec<Listed>, StoreError> {
        let path = self.root.join(folder);
        let read = || -> io::Result<Vec<Listed>> {
            let entries = match fs::read_dir(&path) {
                Err(e) if e.kind() == io::ErrorKind::NotFound => return Ok(Vec::new()),
                other => other?,
            };
            let mut listed = Vec::new();
            for entry in entries {
                let entry = entry?;
                let kind = entry.file_type()?;
                let kind = match (kind.is_file(), kind.is_dir()) {
                    (true, _) => Kind::File,
                    (_, true) => Kind::Folder,
                    _ => Kind::Other,
                };
                listed.push(Listed { name: entry.file_name().to_string_lossy().into_owned(), kind });
            }
            listed.sort();
            Ok(listed)
        };
        read().map_err(|e| self.error(folder, e))
    }

    fn place(&self) -> String {
        self.root.display().to_string()
    }
}
