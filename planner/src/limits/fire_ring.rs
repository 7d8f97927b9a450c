//! The gasket's combustion seal: it must stand on the flange, and clear of the bore.

use borewright_geometry::Bound;

use super::{Asked, Clause, metal};

fn gasket_mm(asked: &Asked<'_>) -> [f64; 2] {
    let [x, y] = asked.true_mm();
    let [dx, dy] = asked.job.gasket_shift_mm[asked.bank];
    [x + dx, y + dy]
}

/// R_flange - |c - g| - ring outside / 2 - fire_ring_cover; R_flange of the sleeve's own flange.
pub(super) fn cover(asked: &Asked<'_>) -> Vec<Clause> {
    let (Some(limit), Some(ring)) = (asked.job.limits.fire_ring_cover, asked.job.block.fire_ring) else {
        return Vec::new();
    };
    let radius_mm = asked.pocket.flange_metal_mm - ring.outside_mm / 2.0 - limit.least_mm;
    let bound = Bound::Inside { centre_mm: gasket_mm(asked), radius_mm };
    let mut clause =
        metal("fire_ring_cover", limit, "flange round the ring".into(), bound, asked.datum_spread());
    clause.with_radius = 0.0;
    vec![clause]
}

/// ring inside / 2 - |c - g| - finish bore / 2 - fire_ring_bore.
pub(super) fn bore(asked: &Asked<'_>) -> Vec<Clause> {
    let (Some(limit), Some(ring)) = (asked.job.limits.fire_ring_bore, asked.job.block.fire_ring) else {
        return Vec::new();
    };
    let radius_mm = ring.inside_mm / 2.0 - asked.job.finish.bore_mm / 2.0 - limit.least_mm;
    let bound = Bound::Inside { centre_mm: gasket_mm(asked), radius_mm };
    let mut clause =
        metal("fire_ring_bore", limit, "ring round the bore".into(), bound, asked.datum_spread());
    clause.with_radius = 0.0;
    vec![clause]
}
