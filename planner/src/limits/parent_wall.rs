//! The wall left in the parent metal behind the pocket, at every reading.

use borewright_geometry::Bound;

use super::{Asked, Clause, metal};
use crate::job::{Limit, Rotation};

/// Readings within this of the major thrust side count as thrust, degrees.
const THRUST_WITHIN_DEG: f64 = 45.0;

/// |p - c| - R - least for every reading; p stands the wall beyond the surface it was measured from.
pub(super) fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let limits = &asked.job.limits;
    if limits.parent_wall.is_none() && limits.parent_wall_thrust.is_none() {
        return Vec::new();
    }
    let readings = asked.job.set_ups.iter().flat_map(|s| &s.walls);
    readings
        .filter(|w| w.cylinder == asked.site.cylinder)
        .filter_map(|reading| {
            let wall = reading.wall_mm?;
            let limit = limit_at(asked, reading.clock_deg)?;
            let step = asked.pocket.at(reading.depth_mm).filter(|step| !step.wet)?;
            let (middle, radius, source) =
                asked.found.surface(asked.job, reading.surface, reading.depth_mm)?;
            let (sin, cos) = reading.clock_deg.to_radians().sin_cos();
            let far = radius + wall;
            let bound = Bound::Outside {
                centre_mm: [middle[0] + far * cos, middle[1] + far * sin],
                radius_mm: step.radius_mm + limit.least_mm,
            };
            let spread = asked.surface_spread(source, asked.job.instruments.wall_mm);
            let mut clause = metal("parent_wall", limit, step.name.clone(), bound, spread);
            clause.depth_mm = Some(reading.depth_mm);
            clause.clock_deg = Some(reading.clock_deg);
            Some(clause)
        })
        .collect()
}

/// The thrust limit near the major thrust side where one is set, else the general one.
fn limit_at(asked: &Asked<'_>, clock_deg: f64) -> Option<Limit> {
    let limits = &asked.job.limits;
    let thrust_deg = match asked.job.block.rotation {
        Some(Rotation::Clockwise) => Some(90.0),
        Some(Rotation::Anticlockwise) => Some(270.0),
        None => None,
    };
    let off = |side: f64| {
        let turn = (clock_deg - side).rem_euclid(360.0);
        turn.min(360.0 - turn)
    };
    match (thrust_deg, limits.parent_wall_thrust) {
        // A reading typed as 45 degrees is within, whatever its last bit.
        (Some(side), Some(thrust)) if off(side) <= THRUST_WITHIN_DEG + 1e-9 => Some(thrust),
        _ => limits.parent_wall,
    }
}
