//! How long the work takes: in the cut, and setting and measuring round it.

use crate::plan::{Pass, Stage, StageTime};

/// Setting a head or changing a cutter, minutes. Common practice, no source.
const SETTING: f64 = 4.0;
/// One stop to measure, minutes. Common practice, no source.
const MEASURING: f64 = 3.0;

/// By stage, in the order of work.
pub(crate) fn times(passes: &[Pass]) -> Vec<StageTime> {
    let mut times: Vec<StageTime> = Vec::new();
    let mut steps: Vec<u32> = Vec::new();
    for pass in passes {
        let found = times.iter().position(|t| t.stage == pass.stage);
        let index = found.unwrap_or_else(|| {
            times.push(StageTime { stage: pass.stage, work: 0.0, handling: 0.0 });
            times.len() - 1
        });
        let Some(time) = times.get_mut(index) else { continue };
        time.work += pass.minutes;
        if pass.tool.is_some() && !steps.contains(&pass.step) {
            steps.push(pass.step);
            time.handling += SETTING;
        }
        // Fitting and honing count their own measuring.
        let measured = matches!(pass.stage, Stage::Rough | Stage::Pocket | Stage::Finish);
        if measured && pass.stop.is_some() {
            time.handling += MEASURING;
        }
    }
    times
}
