//! The state of a file on the disk against a sum that was taken of it.

use std::fs::File;
use std::io::Read;
use std::path::Path;

use sha2::{Digest, Sha256};

use super::bounds::MOST_FILE_BYTES;

/// What became of a file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// Its bytes are the same.
    Unaltered,
    /// Lines were added below the same bytes: a record, which is only ever added to.
    Grown,
    /// Its bytes are others.
    Altered,
    /// Nothing is there.
    Missing,
    /// A link is there.
    Link,
    /// A folder is there.
    Folder,
    /// A pipe, a device or a socket is there.
    NoFile,
    /// It cannot be read.
    Unreadable,
}

impl State {
    /// The word that says it of a file.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Unaltered => "unaltered",
            Self::Grown => "added to",
            Self::Altered => "altered",
            Self::Missing => "missing",
            Self::Link => "replaced by a link",
            Self::Folder => "replaced by a folder",
            Self::NoFile => "replaced by something that is no file",
            Self::Unreadable => "cannot be read",
        }
    }
}

/// Holds the file at `path` against a SHA-256 in lower-case hexadecimal. With `follow` a link counts as what it
/// leads to.
#[must_use]
pub fn state(path: &Path, sha256: &str, follow: bool) -> State {
    let about = if follow { std::fs::metadata(path) } else { std::fs::symlink_metadata(path) };
    let about = match about {
        Ok(about) => about,
        Err(e) => return missing(&e),
    };
    // Opening a pipe or device could wait for ever: look first.
    if about.is_dir() {
        return State::Folder;
    }
    if about.is_symlink() {
        return State::Link;
    }
    if !about.is_file() {
        return State::NoFile;
    }
    if about.len() > MOST_FILE_BYTES {
        return State::Altered;
    }
    match sum(path) {
        Ok(own) if own == sha256 => State::Unaltered,
        Ok(_) if is_record(path) && has_grown(path, sha256) => State::Grown,
        Ok(_) => State::Altered,
        Err(e) => missing(&e),
    }
}

fn missing(e: &std::io::Error) -> State {
    match e.kind() {
        // A file where a folder should be has nothing below it.
        std::io::ErrorKind::NotFound | std::io::ErrorKind::NotADirectory => State::Missing,
        _ => State::Unreadable,
    }
}

/// Whether a file is a job's record by its name.
fn is_record(path: &Path) -> bool {
    path.file_name().is_some_and(|name| name == "cut.csv")
}

/// Whether a sum is of the file up to the end of one of its lines.
fn has_grown(path: &Path, sha256: &str) -> bool {
    let mut bytes = Vec::new();
    let read = File::open(path).and_then(|file| file.take(MOST_FILE_BYTES + 1).read_to_end(&mut bytes));
    read.is_ok() && begins_with(&bytes, sha256).is_some()
}

/// How many bytes a sum is of, up to the end of one of the lines; `None` where it is of none of them.
#[must_use]
pub fn begins_with(bytes: &[u8], sha256: &str) -> Option<usize> {
    let mut hasher = Sha256::new();
    let mut length = 0;
    bytes.split_inclusive(|b| *b == b'\n').find_map(|line| {
        hasher.update(line);
        length += line.len();
        let so_far: String = hasher.clone().finalize().iter().map(|byte| format!("{byte:02x}")).collect();
        (so_far == sha256).then_some(length)
    })
}

fn sum(path: &Path) -> std::io::Result<String> {
    let mut file = File::open(path)?.take(MOST_FILE_BYTES + 1);
    let mut hasher = Sha256::new();
    let mut part = [0_u8; 64 * 1024];
    loop {
        match file.read(&mut part)? {
            0 => break,
            n => hasher.update(part.get(..n).unwrap_or_default()),
        }
    }
    Ok(hasher.finalize().iter().map(|byte| format!("{byte:02x}")).collect())
}
