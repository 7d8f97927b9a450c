//! Flats of neighbouring flanges, cut to the distance that the planned centres really have.

use borewright_geometry::clock::distance_mm;

use crate::job::Job;
use crate::place::Positions;
use crate::plan::fit::FlatPair;

/// Gap between two flats unless the sleeves' own flats leave one at the nominal spacing, mm. Common practice.
const GAP_MM: f64 = 0.04;

/// Every pair of neighbours; none where the flange has no flats and clears its neighbour.
pub(super) fn flats(job: &Job, positions: &Positions) -> Vec<FlatPair> {
    let sleeve = &job.sleeves[positions.sleeve];
    let Some(flats) = sleeve.flange().and_then(|f| f.flats_mm) else { return Vec::new() };
    let at = &job.engine.running;
    let block = job.block.parent.material.strain(at.block_c);
    let iron = sleeve.material.strain(at.sleeve_c);
    let pairs = positions.pairs.iter();
    pairs
        .map(|&(front, rear)| {
            let (a, b) = (&positions.bores[front], &positions.bores[rear]);
            let distance = distance_mm(a.planned_mm, b.planned_mm);
            let nominal = distance_mm(a.true_mm, b.true_mm);
            let meant = nominal - flats;
            let gap = if meant > 0.0 { meant } else { GAP_MM };
            let across = distance - gap;
            FlatPair {
                front: a.site.cylinder,
                rear: b.site.cylinder,
                distance,
                off_nominal: distance - nominal,
                gap_as_supplied: distance - flats,
                gap,
                centre_to_flat: across / 2.0,
                gap_hot: distance * (1.0 + block) - across * (1.0 + iron),
            }
        })
        .collect()
}
