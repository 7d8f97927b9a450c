//! An archive: records of files and their sums, chained, kept in a folder or a bucket and found again.
//!
//! It knows files and sums, and a small summary that it is handed; nothing of what the files are about.

mod address;
mod archive;
mod astray;
mod audit;
mod error;
mod filing;
mod index;
mod key;
pub mod name;
mod record;
mod several;
mod store;
mod sum;
mod summary;
mod time;

pub use address::{Address, AddressFault};
pub use archive::Archive;
pub use audit::{Audit, Fault, Halfway, Head, Level, Stage, Watch, Witness};
pub use error::ArchiveError;
pub use filing::{Filed, Filing, Item, LOOKED_BACK, Origin, gather};
pub use index::{Fold, Found, Held, Index, IndexError, Query, Unread, Updated};
pub use record::{Entry, Record, Unreadable};
#[cfg(feature = "s3")]
pub use store::Object;
pub use store::{Folder, Kind, Listed, Opened, Put, Store, StoreError};
pub use sum::Sum;
pub use summary::Summary;
pub use time::Time;
