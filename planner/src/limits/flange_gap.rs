//! Metal, or air, between neighbouring flange recesses.

use borewright_geometry::{Apart, Spread};

use super::{BOTH, Judges, PLACE, PairClause, Stated};
use crate::job::Job;
use crate::job::limits::FLANGE_GAP;
use crate::job::pocket::Pocket;
use crate::plan::judge::FACTOR;
use crate::plan::worked::{Origin, Symbol, Worked};

/// Between neighbouring flanges.
pub(super) const LIMIT: Stated = Stated::metal(
    FLANGE_GAP,
    "gap between flanges",
    "Between neighbouring flange pockets.",
    Judges::Neighbours(clauses),
);

/// What a margin is worked from.
const WORKING: [Symbol; 5] = [
    Symbol::mm(
        "m",
        "gap between the flanges beyond the limit",
        Origin::Figure("sqrt((x - x_2)^2 + (y - y_2)^2) - 2 * F - w"),
    ),
    Symbol::mm("F", "half the flats, or the recess' radius of a round flange", Origin::Sleeve("flange")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.flange_gap")),
    Symbol::mm("x_2", "planned centre of the neighbour, along", Origin::Neighbour),
    Symbol::mm("y_2", "the same across", Origin::Neighbour),
];

/// |c - c'| - F - F' - flange_gap, F half the flats where the flange has them, else the recess' radius.
fn clauses(job: &Job, pocket: &Pocket) -> Vec<PairClause> {
    let (Some(limit), Some(flange)) = (job.limits.get(LIMIT.name), &pocket.flange) else { return Vec::new() };
    let u = job.instruments.machine_mm;
    vec![PairClause {
        limit: LIMIT.name,
        feature: "flange".into(),
        depth_mm: Some(0.0),
        apart: Apart {
            first: 0,
            second: 1,
            least_mm: 2.0 * flange.half_mm + limit.least_mm,
            spread: Spread::all(&[u, u]),
            give: 1.0,
            z: FACTOR,
        },
        with_radius: 0.0,
        least_mm: limit.least_mm,
        prefer_mm: limit.prefer_mm,
        prefer_margin_mm: limit.prefer_mm.map(|prefer| prefer - limit.least_mm),
        worked: Worked::of(&[&WORKING, &PLACE, &BOTH], vec![flange.half_mm, limit.least_mm, u]),
    }]
}
