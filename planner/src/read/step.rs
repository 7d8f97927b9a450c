//! One step of a key's path.

/// One step of a key's path.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Step {
    /// Into a map, at a key.
    Key(String),
    /// Into a list, at a place counted from 0.
    Index(usize),
}

impl Step {
    /// Whether this is the step into the value of a place: what is read with its place is read as a map of its own, whose
    /// `value` is no key of the file.
    pub(super) fn is_value(&self) -> bool {
        *self == Self::Key("value".into())
    }
}
