//! The gasket's combustion seal must stand on the flange.

use borewright_geometry::Bound;

use super::{Asked, Clause, Judges, Stated, metal};

/// Flange beyond the ring.
pub(super) const LIMIT: Stated = Stated::metal(
    "fire_ring_cover",
    "flange under the fire ring",
    "Flange beyond the outside of the fire ring.",
    Judges::Bore(clauses),
)
.unless(|asked| asked.pocket.flange.as_ref().and_then(|_| asked.no_ring(LIMIT.name)));

/// R_flange - |c - g| - ring outside / 2 - fire_ring_cover; R_flange of the sleeve's own flange.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let (Some(limit), Some(ring)) = (asked.job.limits.get(LIMIT.name), asked.job.block.fire_ring) else {
        return Vec::new();
    };
    // Said of a flange: a plain sleeve has none.
    let Some(flange) = &asked.pocket.flange else { return Vec::new() };
    let radius_mm = flange.metal_mm - ring.outside_mm / 2.0 - limit.least_mm;
    let bound = Bound::Inside { centre_mm: asked.gasket_mm(), radius_mm };
    let mut clause = metal(&LIMIT, limit, "flange round the ring".into(), bound, asked.datum_spread());
    clause.with_radius = 0.0;
    vec![clause]
}
