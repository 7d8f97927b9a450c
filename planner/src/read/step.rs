//! One step of a key's path.

/// One step of a key's path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// Into a map, at a key.
    Key(String),
    /// Into a list, at a place counted from 0.
    Index(usize),
}
