//! What Windows answers where somebody else holds a file: its system error codes, by its own names for them.

/// `ERROR_ACCESS_DENIED`: also of a folder in which a file is open.
pub(super) const ACCESS_DENIED: i32 = 5;
/// `ERROR_SHARING_VIOLATION`: opened by another who shares it with nobody.
pub(super) const SHARING_VIOLATION: i32 = 32;
/// `ERROR_LOCK_VIOLATION`: a part of it is locked by another.
pub(super) const LOCK_VIOLATION: i32 = 33;
