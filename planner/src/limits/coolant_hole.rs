//! Metal between the pocket and drilled coolant holes.

use borewright_geometry::Bound;

use super::{Asked, Clause, metal};

/// Distance of the hole's axis from the cylinder's axis, both segments, - R - r_h - coolant_hole.
pub(super) fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let Some(limit) = asked.job.limits.coolant_hole else { return Vec::new() };
    let holes = asked.job.block.coolant_holes.iter().filter(|h| h.bank == asked.bank);
    holes
        .flat_map(|hole| {
            let below = |[x, y, depth]: [f64; 3]| [x, y, -depth];
            let segment_mm = [below(hole.start_mm), below(hole.end_mm)];
            asked.pocket.features().filter(|f| !f.wet).map(move |feature| {
                let bound = Bound::ClearOf {
                    segment_mm,
                    heights_mm: [-feature.depths.from_mm, -feature.depths.to_mm],
                    radius_mm: feature.radius_mm + hole.diameter_mm / 2.0 + limit.least_mm,
                };
                let name = format!("{} to {}", feature.name, hole.name);
                let mut clause = metal("coolant_hole", limit, name, bound, asked.datum_spread());
                clause.with_radius = if feature.name == asked.pocket.flange.name { 0.0 } else { -1.0 };
                clause
            })
        })
        .collect()
}
