//! How things are said, alike on every sheet, list, drawing and page of the terminal.
//!
//! In: a figure in mm, a name somebody typed, a fingerprint. Out: the digits and words that are printed of it.
//! Whatever two rooms print of one thing is worked out here, so that no two of them round it, shorten it or name its side
//! differently. Nothing here knows a page, a list or a plan as a whole.

pub(crate) mod alike;
pub(crate) mod as_left;
pub(crate) mod explained;
pub(crate) mod findings;
pub(crate) mod fingerprint;
pub(crate) mod number;
pub(crate) mod reasons;
pub(crate) mod record;
pub(crate) mod row;
pub(crate) mod set_up;
pub(crate) mod short;
pub(crate) mod sides;
pub(crate) mod slug;
pub(crate) mod tightest;
pub(crate) mod units;
pub(crate) mod window;
