//! The store that an archive lies in: things are put there once, read and listed; nothing is ever replaced or taken
//! away.

mod beside;
#[cfg(feature = "s3")]
mod create_only;
mod folder;
#[cfg(feature = "s3")]
mod object;
#[cfg(test)]
#[cfg(feature = "s3")]
mod refusals;
#[cfg(feature = "s3")]
mod refused;
#[cfg(test)]
pub(crate) mod testing;
#[cfg(test)]
mod tests;

use std::fmt;
use std::io::{self, Read};

pub use folder::Folder;
#[cfg(feature = "s3")]
pub use object::Object;

/// What became of putting something.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Put {
    /// It lies there now, whole and on the disk.
    New,
    /// Something lay there before; it was left as it is.
    Taken,
}

/// One thing in a folder of a place.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub struct Listed {
    /// Its name; bytes that are no text are replaced, and such a name is none of the archive's.
    pub name: String,
    /// What it is.
    pub kind: Kind,
}

/// What a thing is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Kind {
    /// Bytes.
    File,
    /// More things.
    Folder,
    /// A link, a pipe, a device: never the archive's.
    Other,
}

/// A thing opened for reading.
pub struct Opened {
    /// Its bytes.
    pub reader: Box<dyn Read>,
    /// How many there are.
    pub bytes: u64,
}

/// A place could not be read or written.
#[derive(Debug, thiserror::Error)]
#[error("{at}: {source}")]
pub struct StoreError {
    /// Where.
    pub at: String,
    /// Why.
    pub source: io::Error,
}

/// A place that keeps things under keys: parts divided by `/`, made of small letters, digits, `.` and `-` only.
///
/// Any number of threads may ask at once.
pub trait Store: fmt::Debug + Send + Sync {
    /// Makes the place itself where it is missing; what it stands in must be there.
    ///
    /// # Errors
    /// What the place refuses.
    fn make(&self) -> Result<(), StoreError>;

    /// Puts what is read to its end where nothing lies, whole or not at all, even when the power fails; of several
    /// who put at once exactly one is told `New`.
    ///
    /// # Errors
    /// What the reader or the place refuses; nothing lies there then.
    fn put(&self, key: &str, from: &mut dyn Read) -> Result<Put, StoreError>;

    /// Opens what lies under a key; `None` where nothing does.
    ///
    /// # Errors
    /// What the place refuses, and anything that is no file.
    fn get(&self, key: &str) -> Result<Option<Opened>, StoreError>;

    /// How many bytes lie under a key; `None` where nothing does.
    ///
    /// # Errors
    /// What the place refuses, and anything that is no file.
    fn bytes(&self, key: &str) -> Result<Option<u64>, StoreError>;

    /// What lies in a folder, by name; nothing where there is none.
    ///
    /// # Errors
    /// What the place refuses.
    fn list(&self, folder: &str) -> Result<Vec<Listed>, StoreError>;

    /// The place as people name it.
    fn place(&self) -> String;
}
