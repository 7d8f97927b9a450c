//! Metal between the pocket and drilled coolant holes.

use borewright_geometry::Bound;

use super::{Asked, Clause, DATUM, Judges, Lack, Stated, metal};
use crate::job::limits::COOLANT_HOLE;
use crate::plan::sentence::mm;
use crate::plan::worked::{Origin, Symbol, Worked};
use crate::say;

/// Pocket to drilled hole.
pub(super) const LIMIT: Stated =
    Stated::metal(COOLANT_HOLE, "wall to a coolant hole", "Pocket to coolant hole.", Judges::Bore(clauses))
        .unless(not_described);

/// The lack of a limit on coolant holes where the block's description does not say whether there are any.
fn not_described(asked: &Asked<'_>) -> Option<Lack> {
    let limit = asked.job.limits.get(LIMIT.name).filter(|_| !asked.job.block.coolant_holes_told)?;
    Some(Lack {
        code: "coolant_holes_not_described",
        short: "the block does not describe all of it",
        text: say!(
            "a wall of {} to coolant holes is asked for, and the block's description does not say where they \
             are: list them under `coolant_holes`, or say `coolant_holes: []` where none come near a bore",
            mm(limit.least_mm, 3)
        ),
    })
}

/// What a margin is worked from.
const WORKING: [Symbol; 5] = [
    Symbol::mm("m", "wall to the coolant hole beyond the limit", Origin::Figure("e - R - D_h / 2 - w")),
    Symbol::mm("e", "the hole's axis from the pocket's axis where they are nearest", Origin::Between),
    Symbol::mm("R", "radius of the pocket", Origin::Sleeve("body")),
    Symbol::mm("D_h", "diameter of the hole", Origin::Block("coolant_holes")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.coolant_hole")),
];

/// What the metal over a hole that runs below the flange's recess is worked from.
const BELOW_RECESS: [Symbol; 4] = [
    Symbol::mm("m", "metal over the coolant hole beyond the limit", Origin::Figure("e - D_h / 2 - w")),
    Symbol::mm("e", "the hole's axis from the recess itself where they are nearest", Origin::Between),
    Symbol::mm("D_h", "diameter of the hole", Origin::Block("coolant_holes")),
    Symbol::mm("w", "the limit", Origin::Stated("limits.coolant_hole")),
];

/// Distance of the hole's axis from the cylinder's axis, both segments, - R - r_h - coolant_hole.
///
/// The flange's recess is a flat disc: over a hole that runs below it, the distance that counts is that of
/// the hole's axis from the recess itself, - r_h - coolant_hole.
fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let Some(limit) = asked.job.limits.get(LIMIT.name) else { return Vec::new() };
    let holes = asked.job.block.coolant_holes.iter().filter(|h| h.bank == asked.bank);
    holes
        .flat_map(|hole| {
            let below = |[x, y, depth]: [f64; 3]| [x, y, -depth];
            let segment_mm = [below(hole.start_mm), below(hole.end_mm)];
            let shallowest = hole.start_mm[2].min(hole.end_mm[2]);
            asked.pocket.features().filter(|f| !f.wet).map(move |feature| {
                let is_flange = feature.is_flange();
                let ends = [feature.depths.from_mm, feature.depths.to_mm];
                let heights_mm = ends.map(|depth| -depth);
                // From c(d0) to c(d1): the spindle cuts along its own axis.
                let ends_mm = ends.map(|depth| {
                    let [dx, dy] = asked.datum.off_mm(depth);
                    [dx, dy, -depth]
                });
                let least_mm = hole.diameter_mm / 2.0 + limit.least_mm;
                let (hole_mm, own) = ([hole.diameter_mm, limit.least_mm], asked.datum_worked());
                let (bound, worked) = if is_flange && shallowest > feature.depths.to_mm {
                    let radius_mm = feature.radius_mm;
                    let kept = hole_mm.into_iter().chain(own).collect();
                    let bound = Bound::RecessClearOf { segment_mm, heights_mm, radius_mm, least_mm };
                    (bound, Worked::of(&[&BELOW_RECESS, &DATUM], kept))
                } else {
                    let kept = [feature.radius_mm].into_iter().chain(hole_mm).chain(own).collect();
                    let bound =
                        Bound::ClearOf { segment_mm, ends_mm, radius_mm: feature.radius_mm + least_mm };
                    (bound, Worked::of(&[&WORKING, &DATUM], kept))
                };
                let name = format!("{} to {}", feature.name, hole.name);
                let mut clause = metal(&LIMIT, limit, name, bound, asked.datum_spread(), worked);
                clause.with_radius = if is_flange { 0.0 } else { -1.0 };
                clause
            })
        })
        .collect()
}
