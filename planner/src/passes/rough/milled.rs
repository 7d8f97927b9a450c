//! A part of the pocket milled: rounds of a cutter smaller than what is open.

use super::{NOTHING_MM, Roughing};
use crate::passes::iron::liner;
use crate::passes::mill::{self, Round};
use crate::passes::old_surface::{apart, depths};
use crate::passes::{Bench, Missing, spread, worked};
use crate::plan::{Stage, Stock};
use crate::say;

/// A part milled: rounds of the cutter from what is open to the part's radius less the allowance.
pub(super) fn down(bench: &mut Bench<'_>, what: &Roughing<'_>) {
    let job = bench.job;
    let parent = job.block.parent.material.name.clone();
    let deep = what.depths_mm[1] + job.machine.clearance_mm;
    // Where the old liner reaches beyond what is open, the cutter meets it too.
    let iron = liner(bench).filter(|liner| {
        bench.cuts.iter().any(|cut| {
            depths(cut, what.depths_mm)
                .into_iter()
                .any(|d| liner.outside_mm / 2.0 + apart(cut, d) > what.open_mm + NOTHING_MM)
        })
    });
    let metal = iron.map(|l| l.material.name);
    let metals: Vec<&str> = metal.iter().map(String::as_str).chain([parent.as_str()]).collect();
    let found = mill::choose(job, deep, what.open_mm, &metals);
    let Some(choice) = bench.tool(Stage::Rough, say!("roughing {}", what.feature), found) else { return };
    let mut last = what.open_mm;
    let Some(radii) = mill::radii(what.open_mm, what.end_mm, choice.cutting.depth_mm) else {
        let text = say!("milling {} would take more than {} rounds", what.feature, spread::MOST_PASSES);
        bench.missing(Stage::Rough, Missing::ManyPasses, text);
        return;
    };
    for radius in radii {
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in &bench.cuts {
            let round = Round {
                stage: Stage::Rough,
                feature: what.feature,
                radius_mm: radius,
                depths_mm: what.depths_mm,
                stock: Stock { min: radius - last, max: radius - last },
                material: &choice.cutting.material,
                to_size: false,
            };
            let mut pass = mill::pass(bench, step, cut, &choice, &round);
            if let Some(pass) = &mut pass {
                pass.worked.push(worked::even(radius, last));
                pass.worked.extend(what.deep.clone());
            }
            passes.extend(pass);
        }
        if passes.len() < bench.cuts.len() {
            let text = say!("roughing {}: no way of the cutter with its step down", what.feature);
            bench.missing(Stage::Rough, Missing::Tool, text);
            return;
        }
        bench.passes.append(&mut passes);
        last = radius;
    }
}
