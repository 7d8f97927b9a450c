//! The gasket's combustion seal must stand clear of the bore.

use borewright_geometry::Bound;

use super::{Asked, Clause, DATUM, Judges, PLACE, Stated, metal};
use crate::job::limits::FIRE_RING_BORE;
use crate::plan::worked::{Origin, Symbol, Worked};

/// Ring beyond the bore.
pub(super) const LIMIT: Stated = Stated::metal(
    FIRE_RING_BORE,
    "bore inside the fire ring",
    "Inside of the fire ring beyond the finished bore.",
    Judges::Bore(clauses),
)
.unless(|asked| asked.no_ring(LIMIT.name));

/// What a margin is worked from.
const WORKING: [Symbol; 10] = [
    Symbol::mm(
        "m",
        "ring beyond the bore and the limit",
        Origin::Figure("G / 2 - B / 2 - sqrt((x - x_g)^2 + (y - y_g)^2) - w"),
    ),
    Symbol::mm("x_g", "the ring's middle, along", Origin::Formula("t_x + g_x")),
    Symbol::mm("y_g", "the same across", Origin::Formula("t_y + g_y")),
    Symbol::mm("G", "inside of the fire ring", Origin::Block("fire_ring.inside")),
    Symbol::mm("B", "the finished bore", Origin::Stated("finish.bore")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.fire_ring_bore")),
    Symbol::mm("t_x", "where the bore belongs, along", Origin::Belongs),
    Symbol::mm("t_y", "the same across", Origin::Belongs),
    Symbol::mm("g_x", "where the dowels put the gasket, along", Origin::Stated("gasket_shift")),
    Symbol::mm("g_y", "the same across", Origin::Stated("gasket_shift")),
];

/// ring inside / 2 - |c - g| - finish bore / 2 - fire_ring_bore.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let (Some(limit), Some(ring)) = (asked.job.limits.get(LIMIT.name), asked.job.block.fire_ring) else {
        return Vec::new();
    };
    let radius_mm = ring.inside_mm / 2.0 - asked.job.finish.bore_mm / 2.0 - limit.least_mm;
    let bound = Bound::Inside { centre_mm: asked.gasket_mm(), radius_mm };
    let ([t_x, t_y], [g_x, g_y]) = (asked.true_mm(), asked.job.gasket_shift_mm[asked.bank]);
    let [x_g, y_g] = asked.gasket_mm();
    let kept = [x_g, y_g, ring.inside_mm, asked.job.finish.bore_mm, limit.least_mm, t_x, t_y, g_x, g_y]
        .into_iter()
        .chain(asked.datum_worked());
    let worked = Worked::of(&[&WORKING, &PLACE, &DATUM], kept.collect());
    let mut clause = metal(&LIMIT, limit, "ring round the bore".into(), bound, asked.datum_spread(), worked);
    clause.with_radius = 0.0;
    vec![clause]
}
