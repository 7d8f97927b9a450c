//! The gasket's combustion seal must stand on the flange.

use borewright_geometry::Bound;

use super::{Asked, Clause, DATUM, Judges, PLACE, Stated, metal};
use crate::job::limits::FIRE_RING_COVER;
use crate::plan::worked::{Origin, Symbol, Worked};

/// Flange beyond the ring.
pub(super) const LIMIT: Stated = Stated::metal(
    FIRE_RING_COVER,
    "flange under the fire ring",
    "Flange beyond the outside of the fire ring.",
    Judges::Bore(clauses),
)
.unless(|asked| asked.pocket.flange.as_ref().and_then(|_| asked.no_ring(LIMIT.name)));

/// What a margin is worked from.
const WORKING: [Symbol; 10] = [
    Symbol::mm(
        "m",
        "flange beyond the ring and the limit",
        Origin::Figure("F / 2 - G / 2 - sqrt((x - x_g)^2 + (y - y_g)^2) - w"),
    ),
    Symbol::mm("x_g", "the ring's middle, along", Origin::Formula("t_x + g_x")),
    Symbol::mm("y_g", "the same across", Origin::Formula("t_y + g_y")),
    Symbol::mm("G", "outside of the fire ring", Origin::Block("fire_ring.outside")),
    Symbol::mm("F", "diameter of the sleeve's flange", Origin::Sleeve("flange.diameter")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.fire_ring_cover")),
    Symbol::mm("t_x", "where the bore belongs, along", Origin::Belongs),
    Symbol::mm("t_y", "the same across", Origin::Belongs),
    Symbol::mm("g_x", "where the dowels put the gasket, along", Origin::Stated("gasket_shift")),
    Symbol::mm("g_y", "the same across", Origin::Stated("gasket_shift")),
];

/// R_flange - |c - g| - ring outside / 2 - fire_ring_cover; R_flange of the sleeve's own flange.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let (Some(limit), Some(ring)) = (asked.job.limits.get(LIMIT.name), asked.job.block.fire_ring) else {
        return Vec::new();
    };
    // Said of a flange: a plain sleeve has none.
    let Some(flange) = &asked.pocket.flange else { return Vec::new() };
    let radius_mm = flange.metal_mm - ring.outside_mm / 2.0 - limit.least_mm;
    let bound = Bound::Inside { centre_mm: asked.gasket_mm(), radius_mm };
    let ([t_x, t_y], [g_x, g_y]) = (asked.true_mm(), asked.job.gasket_shift_mm[asked.bank]);
    let [x_g, y_g] = asked.gasket_mm();
    let kept = [x_g, y_g, ring.outside_mm, 2.0 * flange.metal_mm, limit.least_mm, t_x, t_y, g_x, g_y]
        .into_iter()
        .chain(asked.datum_worked());
    let worked = Worked::of(&[&WORKING, &PLACE, &DATUM], kept.collect());
    let mut clause =
        metal(&LIMIT, limit, "flange round the ring".into(), bound, asked.datum_spread(), worked);
    clause.with_radius = 0.0;
    vec![clause]
}
