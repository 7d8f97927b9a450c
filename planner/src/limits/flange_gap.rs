//! Metal, or air, between neighbouring flange recesses.

use borewright_geometry::{Apart, Spread};

use super::{Judges, PairClause, Stated};
use crate::job::Job;
use crate::job::pocket::Pocket;
use crate::plan::judge::FACTOR;

/// Between neighbouring flanges.
pub(super) const LIMIT: Stated = Stated::metal(
    "flange_gap",
    "gap between flanges",
    "Between neighbouring flange pockets.",
    Judges::Neighbours(clauses),
);

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
    }]
}
