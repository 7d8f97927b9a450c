//! The largest files that are read, bytes: what is larger is none of ours, and is left before it fills the memory.

/// A description: a page of text; 256 KiB is a thousand pages' worth of bores.
pub const MOST_YAML_BYTES: u64 = 256 * 1024;

/// A table of readings: it may hold a million scanned points; 64 MiB holds them.
pub const MOST_TABLE_BYTES: u64 = 64 * 1024 * 1024;

/// A job's record: some hundred thousand lines.
pub const MOST_RECORD_BYTES: u64 = 64 * 1024 * 1024;

/// A coordinate list, of which a control numbers 99,999 rows, and the list of a folder's files.
pub const MOST_LIST_BYTES: u64 = 16 * 1024 * 1024;

/// A plan, and whatever else of ours is read back: sixteen cylinders with every pass and list are under 2 MiB.
pub const MOST_PLAN_BYTES: u64 = 64 * 1024 * 1024;

/// Any file that is read or written.
pub const MOST_FILE_BYTES: u64 = 256 * 1024 * 1024;
