//! The position zone about the true position.

use borewright_geometry::Bound;

use super::{Asked, Clause, metal};
use crate::job::Aim;

/// position / 2 - |c - t|; reported but not binding where the bores follow what is there.
pub(super) fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let Some(limit) = asked.job.limits.position else { return Vec::new() };
    let bound = Bound::Inside { centre_mm: asked.true_mm(), radius_mm: limit.least_mm / 2.0 };
    let mut clause =
        metal("position", limit, "zone about the true position".into(), bound, asked.datum_spread());
    clause.with_radius = 0.0;
    clause.binding = asked.job.aim == Aim::Journal;
    // A zone is better smaller: preferred is a smaller one.
    clause.prefer_margin_mm = limit.prefer_mm.map(|prefer| (limit.least_mm - prefer) / 2.0);
    vec![clause]
}
