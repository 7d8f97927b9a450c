//! Pocket: every cylinder and the ledge to size.

use super::cutting::Purpose;
use super::{Bench, Cutter, cutting};
use crate::plan::{Stage, Stock};

/// Window of a register's size, mm either side. Common practice, no source.
const SIZE_MM: f64 = 0.006;
/// Window of a ledge's depth, mm either side. Common practice, no source.
const LEDGE_MM: f64 = 0.010;

pub(super) fn stage(bench: &mut Bench<'_>) {
    let job = bench.job;
    let allowance = job.pocket_allowance_mm;
    if allowance <= 0.0 {
        return;
    }
    let parent = job.block.parent.material.name.clone();
    let mut features = bench.positions.pocket.steps.clone();
    features.reverse();
    features.push(bench.positions.pocket.flange.clone());
    let ledge = features.len() - 1;
    for (i, feature) in features.iter().enumerate() {
        let deep = feature.depths.to_mm + job.machine.clearance_mm;
        let cutting = match cutting::choose(job, feature.diameter_mm(), deep, &[&parent], Purpose::Finish) {
            Ok(cutting) => cutting,
            Err(none) => {
                bench.missing(Stage::Pocket, "no_tool", format!("pocket, {}: {}", feature.name, none.why));
                continue;
            }
        };
        if cutting.depth_mm < allowance {
            let text = format!(
                "pocket, {}: the allowance of {allowance:.3} mm is more than {} may take ({:.3} mm)",
                feature.name, cutting.tool, cutting.depth_mm
            );
            bench.missing(Stage::Pocket, "allowance", text);
        }
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in &bench.cuts {
            let mut pass = bench.pass(
                step,
                cut,
                &Cutter {
                    stage: Stage::Pocket,
                    feature: &feature.name,
                    diameter_mm: feature.diameter_mm(),
                    depths_mm: [feature.depths.from_mm, feature.depths.to_mm],
                    cutting: Some(&cutting),
                    material: &parent,
                },
            );
            pass.stock = Stock { min: allowance, max: allowance };
            pass.stop = Some(if i == ledge {
                format!("ledge {:.3} mm deep at 4 points, within {LEDGE_MM:.3} mm", feature.depths.to_mm)
            } else if feature.wet {
                format!("size {:.3} mm, clear of burrs", feature.diameter_mm())
            } else {
                format!(
                    "size {:.3} mm within {SIZE_MM:.3} mm, 3 depths x 2 ways, at 20 C",
                    feature.diameter_mm()
                )
            });
            passes.push(pass);
        }
        bench.passes.append(&mut passes);
    }
}
