//! Tables as they were written: rows that lack, copies, and figures coarser than they are said to be.

mod coarse;
mod copied;
mod no_scatter;
mod row_missing;

use super::{Asked, Kind, Suspicion, evidence, grid};
pub(super) use row_missing::unless_explained;

pub(super) const KINDS: &[Kind] =
    &[row_missing::suspicions, copied::suspicions, coarse::suspicions, no_scatter::suspicions];
