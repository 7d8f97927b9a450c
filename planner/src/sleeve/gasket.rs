//! The gasket's fire ring on the new flange: how much of it stands on iron, all round.

use crate::job::Job;
use crate::place::Positions;
use crate::plan::fit::RingSeat;

/// Every bore planned; none where the block has no fire ring or the sleeve no flange.
pub(super) fn fire_rings(job: &Job, positions: &Positions) -> Vec<RingSeat> {
    let (Some(ring), Some(recess)) = (job.block.fire_ring, &positions.pocket.flange) else {
        return Vec::new();
    };
    let flange = recess.metal_mm;
    let (inner, outer) = (ring.inside_mm / 2.0, ring.outside_mm / 2.0);
    let bore_radius = job.finish.bore_mm / 2.0;
    let flat = job.sleeves[positions.sleeve].flange().and_then(|f| f.flats_mm).map_or(flange, |f| f / 2.0);
    positions
        .bores
        .iter()
        .map(|bore| {
            let shift = job.gasket_shift_mm[bore.bank];
            let off = [0, 1].map(|k| bore.planned_mm[k] - bore.true_mm[k] - shift[k]);
            let mut seat = RingSeat {
                cylinder: bore.site.cylinder,
                on_flange_least: f64::INFINITY,
                least_at: 0.0,
                ring: outer - inner,
                joint_under: false,
                on_block_most: 0.0,
                over_bore_most: 0.0,
            };
            for degrees in 0_u16..360 {
                let clock = f64::from(degrees);
                let (sin, cos) = clock.to_radians().sin_cos();
                // Where the ray from the ring's centre leaves a circle about the planned one.
                let reach = |r: f64| {
                    let along = off[0] * cos + off[1] * sin;
                    let across = off[1] * cos - off[0] * sin;
                    along + (r * r - across * across).max(0.0).sqrt()
                };
                let round = reach(flange);
                // A flat cuts the ray where its x reaches the flat on that side.
                let cut = if cos.abs() > 1e-9 { (flat * cos.signum() + off[0]) / cos } else { f64::INFINITY };
                let edge = round.min(cut);
                let iron = edge.clamp(inner, outer) - reach(bore_radius).clamp(inner, outer);
                if iron < seat.on_flange_least {
                    (seat.on_flange_least, seat.least_at) = (iron.max(0.0), clock);
                }
                seat.joint_under |= edge < outer;
                seat.on_block_most = seat.on_block_most.max(outer - edge.clamp(inner, outer));
                seat.over_bore_most = seat.over_bore_most.max(reach(bore_radius).clamp(inner, outer) - inner);
            }
            seat
        })
        .collect()
}
