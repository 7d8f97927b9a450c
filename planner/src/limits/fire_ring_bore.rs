//! The gasket's combustion seal must stand clear of the bore.

use borewright_geometry::Bound;

use super::{Asked, Clause, Judges, Stated, metal};

/// Ring beyond the bore.
pub(super) const LIMIT: Stated = Stated::metal(
    "fire_ring_bore",
    "bore inside the fire ring",
    "Inside of the fire ring beyond the finished bore.",
    Judges::Bore(clauses),
)
.unless(|asked| asked.no_ring(LIMIT.name));

/// ring inside / 2 - |c - g| - finish bore / 2 - fire_ring_bore.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let (Some(limit), Some(ring)) = (asked.job.limits.get(LIMIT.name), asked.job.block.fire_ring) else {
        return Vec::new();
    };
    let radius_mm = ring.inside_mm / 2.0 - asked.job.finish.bore_mm / 2.0 - limit.least_mm;
    let bound = Bound::Inside { centre_mm: asked.gasket_mm(), radius_mm };
    let mut clause = metal(&LIMIT, limit, "ring round the bore".into(), bound, asked.datum_spread());
    clause.with_radius = 0.0;
    vec![clause]
}
