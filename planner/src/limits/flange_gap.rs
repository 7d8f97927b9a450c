//! Metal, or air, between neighbouring flange recesses.

use borewright_geometry::{Apart, Spread};

use super::PairClause;
use crate::job::Job;
use crate::job::pocket::Pocket;
use crate::plan::judge::FACTOR;

/// |c - c'| - F - F' - flange_gap, F half the flats where the flange has them, else the recess' radius.
pub(super) fn clauses(job: &Job, pocket: &Pocket) -> Vec<PairClause> {
    let Some(limit) = job.limits.flange_gap else { return Vec::new() };
    let u = job.instruments.machine_mm;
    vec![PairClause {
        limit: "flange_gap",
        feature: "flange".into(),
        depth_mm: Some(0.0),
        apart: Apart {
            first: 0,
            second: 1,
            least_mm: 2.0 * pocket.flange_half_mm + limit.least_mm,
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
