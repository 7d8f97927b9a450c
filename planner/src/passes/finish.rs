//! Finish bore: the fitted sleeve to the finished bore less the hone stock.

use super::{Bench, Cutter, cutting, spread};
use crate::plan::{Stage, Stock};

pub(super) fn stage(bench: &mut Bench<'_>) {
    let job = bench.job;
    let (start, end) = (bench.sleeve.bore_mm / 2.0, (job.finish.bore_mm - job.finish.hone_stock_mm) / 2.0);
    let metal = bench.sleeve.material.name.clone();
    let length = bench.sleeve.length_mm;
    let reach = length + job.machine.clearance_mm + job.finish.plate_mm.unwrap_or(0.0);
    let tool = cutting::choose(job, 2.0 * end, reach, &[&metal]);
    let radii = match &tool {
        Ok(tool) => spread::radii(start, start, end, tool.depth_mm, tool.depth_mm),
        Err(none) => {
            bench.missing(Stage::Finish, "no_tool", format!("finish bore: {}", none.why));
            return;
        }
    };
    let Some(radii) = radii else {
        bench.missing(
            Stage::Finish,
            "too_many_passes",
            format!("finish bore would take more than {} passes", spread::MOST_PASSES),
        );
        return;
    };
    let mut last = start;
    let count = radii.len();
    for (i, radius) in radii.into_iter().enumerate() {
        let cutting = match cutting::choose(job, 2.0 * radius, reach, &[&metal]) {
            Ok(cutting) => cutting,
            Err(none) => {
                bench.missing(Stage::Finish, "no_tool", format!("finish bore: {}", none.why));
                return;
            }
        };
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in &bench.cuts {
            let mut pass = bench.pass(
                step,
                cut,
                &Cutter {
                    stage: Stage::Finish,
                    feature: "finish bore",
                    diameter_mm: 2.0 * radius,
                    depths_mm: [0.0, length],
                    cutting: Some(&cutting),
                    material: &metal,
                },
            );
            pass.stock = Stock { min: radius - last, max: radius - last };
            if i == 0 {
                pass.stop = Some(
                    "plate on, zero re-indicated from the mains, never from the sleeve. If the first touch cuts \
                     one side only by more than the sleeve's wall variation + 0.05 STOP"
                        .into(),
                );
            } else if i + 1 == count {
                pass.stop = Some(format!("size {:.3}, 3 depths x 2 ways", 2.0 * radius));
            }
            passes.push(pass);
        }
        bench.passes.append(&mut passes);
        last = radius;
    }
}
