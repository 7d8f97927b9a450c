//! The holding of a plain sleeve: friction at the least interference, against gas on its end and the pull of heat.

use std::f64::consts::{FRAC_PI_4, PI};

use crate::job::{Foot, Job, Sleeve};
use crate::place::Positions;
use crate::plan::fit::{Holding, Register};

/// F = µ Σ p π d l over the dry steps, p at the least interference, l below the final deck (as DIN 7190 has it,
/// from memory).
pub(super) fn holding(
    job: &Job,
    sleeve: &Sleeve,
    foot: &Foot,
    positions: &Positions,
    registers: &[Register],
) -> Holding {
    let cut = job.engine.deck.cut_mm;
    let friction = |pressure: fn(&Register) -> Option<f64>| {
        let dry = positions.pocket.steps.iter().filter(|f| !f.wet);
        let each = dry.zip(registers).map(|(feature, register)| {
            let long = feature.depths.to_mm - feature.depths.from_mm.max(cut);
            Some(foot.friction * pressure(register)? * PI * feature.diameter_mm() * long)
        });
        each.sum::<Option<f64>>()
    };
    let cold = friction(|r| r.pressure_least);
    let at_work = friction(|r| r.running.map(|w| w.pressure_least));
    let at = &job.engine.running;
    let bore = job.finish.bore_mm;
    let outside = sleeve.body.iter().map(|s| s.diameter_mm).fold(bore, f64::max);
    let ring = |outer: f64| FRAC_PI_4 * (outer * outer - bore * bore).max(0.0);
    let strain = sleeve.material.strain(at.sleeve_c) - job.block.parent.material.strain(at.block_c);
    let thermal_pull = sleeve.material.elastic_mpa * ring(outside) * strain.abs();
    let gas_load = gas_n(job, sleeve);
    let against = thermal_pull + gas_load.unwrap_or(0.0);
    Holding {
        friction: foot.friction,
        cold,
        at_work,
        gas_load,
        thermal_pull,
        left: at_work.map(|n| n - against),
    }
}

/// Gas on the sleeve's end, N: out to the fire ring, or all of it where the block has none.
pub(super) fn gas_n(job: &Job, sleeve: &Sleeve) -> Option<f64> {
    let mpa = job.engine.head_bolts.and_then(|b| b.gas_mpa)?;
    let top = sleeve.body.first().map_or(0.0, |s| s.diameter_mm);
    let outer = job.block.fire_ring.map_or(top, |ring| ring.inside_mm.min(top));
    let bore = job.finish.bore_mm;
    Some(mpa * FRAC_PI_4 * (outer * outer - bore * bore).max(0.0))
}
