//! A length as a gauge is read.

use crate::plan::sentence::{Quantity, before_mm, mm};

/// A length told as a gauge is read, its unit told elsewhere.
pub(super) fn fine(value_mm: f64) -> Quantity {
    before_mm(value_mm, 3)
}

/// A length told as a gauge is read, with its unit.
pub(in crate::record) fn fine_mm(value_mm: f64) -> Quantity {
    mm(value_mm, 3)
}
