//! Metal between neighbouring pockets below the flange.

use borewright_geometry::{Apart, Spread};

use super::{BOTH, Judges, PLACE, PairClause, Stated};
use crate::job::Job;
use crate::job::limits::BRIDGE;
use crate::job::pocket::Pocket;
use crate::plan::judge::FACTOR;
use crate::plan::worked::{Origin, Symbol, Worked};

/// Between neighbouring pockets.
pub(super) const LIMIT: Stated = Stated::metal(
    BRIDGE,
    "bridge",
    "Between neighbouring pockets below the flange.",
    Judges::Neighbours(clauses),
);

/// What a margin is worked from.
const WORKING: [Symbol; 6] = [
    Symbol::mm(
        "m",
        "bridge left beyond the limit",
        Origin::Figure("sqrt((x - x_2)^2 + (y - y_2)^2) - R - R_2 - w"),
    ),
    Symbol::mm("R", "radius of the one pocket", Origin::Sleeve("body")),
    Symbol::mm("R_2", "radius of the other", Origin::Sleeve("body")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.bridge")),
    Symbol::mm("x_2", "planned centre of the neighbour, along", Origin::Neighbour),
    Symbol::mm("y_2", "the same across", Origin::Neighbour),
];

/// |c - c'| - R - R' - bridge, for every pair of cylinders that share a depth.
fn clauses(job: &Job, pocket: &Pocket) -> Vec<PairClause> {
    let Some(limit) = job.limits.get(LIMIT.name) else { return Vec::new() };
    let u = job.instruments.machine_mm;
    let steps = &pocket.steps;
    steps
        .iter()
        .enumerate()
        .flat_map(|(i, one)| steps[i..].iter().map(move |other| (one, other)))
        .filter_map(|(one, other)| {
            let shared = one.depths.shared(&other.depths)?;
            let feature = if one.name == other.name {
                one.name.clone()
            } else {
                format!("{} to {}", one.name, other.name)
            };
            Some(PairClause {
                limit: LIMIT.name,
                feature,
                depth_mm: Some(shared.from_mm),
                apart: Apart {
                    first: 0,
                    second: 1,
                    least_mm: one.radius_mm + other.radius_mm + limit.least_mm,
                    spread: Spread::all(&[u, u]),
                    give: 1.0,
                    z: FACTOR,
                },
                with_radius: -2.0,
                least_mm: limit.least_mm,
                prefer_mm: limit.prefer_mm,
                prefer_margin_mm: limit.prefer_mm.map(|prefer| prefer - limit.least_mm),
                worked: Worked::of(
                    &[&WORKING, &PLACE, &BOTH],
                    vec![one.radius_mm, other.radius_mm, limit.least_mm, u],
                ),
            })
        })
        .collect()
}
