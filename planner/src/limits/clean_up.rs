//! The tool must clean up all round: least radial stock on every pocket cylinder below the flange.

use borewright_geometry::Bound;

use super::{Asked, Clause, metal};

/// R - (|c - m(d)| + r(d)) - clean_up, at both ends of every cylinder that is cut from the parent bore.
pub(super) fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    let Some(limit) = asked.job.limits.clean_up else { return Vec::new() };
    let dry = asked.pocket.steps.iter().filter(|step| !step.wet);
    dry.flat_map(|step| {
        [step.depths.from_mm, step.depths.to_mm].map(|depth| {
            let (centre_mm, radius, source) = asked.found.parent(asked.job, depth);
            let radius_mm = step.radius_mm - radius - limit.least_mm;
            let spread = asked.surface_spread(source, 0.0);
            let bound = Bound::Inside { centre_mm, radius_mm };
            let mut clause = metal("clean_up", limit, step.name.clone(), bound, spread);
            clause.depth_mm = Some(depth);
            clause.with_radius = 1.0;
            clause
        })
    })
    .collect()
}
