//! Finish bore: the fitted sleeve to the finished bore less the hone stock.

use super::cutting::{Purpose, Wanted};
use super::{Bench, Cutter, Missing, cutting, spread, worked};
use crate::job::Job;
use crate::plan::sentence::{Blank, mm, within_mm};
use crate::plan::{Stage, Stock};
use crate::say;
use crate::sleeve::RUN_OUT_MM;

/// Either side of the size left for the hone, mm. Common practice, no source.
pub(crate) const SIZE_MM: f64 = 0.010;
/// A first touch that cuts one side deeper than the other by more than this beyond what the sleeve's wall varies is
/// wrong, mm. Common practice, no source.
const ONE_SIDED_MM: f64 = 0.05;

/// Appends the finish bore of every cylinder, from the sleeve's bore as supplied to the finished bore less the hone
/// stock; what no tool can take is told as missing, and the passes from there on are left out.
pub(super) fn stage(bench: &mut Bench<'_>) {
    let job = bench.job;
    let (start, end) = (bench.sleeve.bore_mm / 2.0, (job.finish.bore_mm - job.finish.hone_stock_mm) / 2.0);
    let metal = bench.sleeve.material.name.clone();
    let metals = [metal.as_str()];
    // Depths of a plan count from the deck as it is; by now what was to be cut off it is gone.
    let cut_off = job.engine.deck.cut_mm;
    let above = job.machine.clearance_mm + job.finish.plate_mm.unwrap_or(0.0);
    // Through, and a little past, as far as there is room below.
    let past = RUN_OUT_MM.min(job.room_below_mm(bench.sleeve).max(0.0));
    let to = job.end_mm(bench.sleeve) + past;
    let reach = to - cut_off + above;
    let wanted = |radius: f64| Wanted {
        diameter_mm: 2.0 * radius,
        reach_mm: reach,
        open_mm: start,
        materials: &metals,
        purpose: Purpose::Finish,
        // Spread over as many passes as it takes.
        side_mm: 0.0,
    };
    let what = || "finish bore".into();
    let Some(tool) = bench.tool(Stage::Finish, what(), cutting::choose(job, &wanted(end))) else { return };
    let Some(radii) = spread::radii(start, start, end, tool.depth_mm, tool.depth_mm) else {
        bench.missing(
            Stage::Finish,
            Missing::ManyPasses,
            say!("finish bore would take more than {} passes", spread::MOST_PASSES),
        );
        return;
    };
    let mut last = start;
    let count = radii.len();
    for (i, radius) in radii.into_iter().enumerate() {
        let found = cutting::choose(job, &wanted(radius));
        let Some(cutting) = bench.tool(Stage::Finish, what(), found) else { return };
        if radius - last > cutting.depth_mm + 1e-9 {
            let text = say!(
                "finish bore: {} a side is more than {} may take ({})",
                mm(radius - last, 3),
                cutting.tool,
                mm(cutting.depth_mm, 3)
            );
            bench.missing(Stage::Finish, Missing::Allowance, text);
            return;
        }
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in bench.spread() {
            let mut pass = bench.pass(
                step,
                cut,
                &Cutter {
                    stage: Stage::Finish,
                    feature: "finish bore",
                    diameter_mm: 2.0 * radius,
                    depths_mm: [cut_off, to],
                    cutting: Some(&cutting),
                    material: &metal,
                },
            );
            pass.stock = Stock { min: radius - last, max: radius - last };
            pass.worked.push(worked::even(radius, last));
            pass.worked.push(worked::bore_size(pass.diameter, job.finish.bore_mm));
            pass.worked.push(worked::finish_depth(to, [bench.sleeve.length_mm, cut_off, past]));
            let warm = job.at_cutting_words(pass.diameter, bench.sleeve.material.expansion_per_k);
            let size = say!(
                "size {} within {}, 3 depths x 2 ways{}",
                mm(pass.diameter, 3),
                within_mm(pass.diameter, SIZE_MM, 3),
                warm
            );
            let touch = say!(
                "{}, zero from the mains. If the first touch cut one side only by more than {} + the sleeve's \
                 wall variation as measured{} STOP",
                on_the_deck(job),
                mm(ONE_SIDED_MM, 2),
                Blank
            );
            pass.stop = match (i == 0, i + 1 == count) {
                (true, true) => Some(say!("{}; {}", touch, size).into()),
                (true, false) => Some(touch.into()),
                (false, true) => Some(size.into()),
                (false, false) => None,
            };
            // Fed down, and fed up again with the spindle turning.
            pass.minutes = 2.0 * reach / pass.feed;
            passes.push(pass);
        }
        bench.passes.append(&mut passes);
        last = radius;
    }
}

/// What is on the deck while a bore is finished: nothing, where the job names no plate.
pub(super) fn on_the_deck(job: &Job) -> &'static str {
    if job.finish.plate_mm.is_some() { "plate on" } else { "bare deck" }
}
