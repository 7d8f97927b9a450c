//! Times of the stages: in the cut, and setting and measuring round it.

use crate::plan::worked::{Figure, Origin, Symbol, Unit};
use crate::plan::{Pass, Stage, StageTime, Took};

/// Setting a head or changing a cutter, minutes. Common practice, no source.
const SETTING: f64 = 4.0;
/// One stop to measure, minutes. Common practice, no source.
const MEASURING: f64 = 3.0;

const HANDLING: [Symbol; 5] = [
    Symbol::new(
        "h",
        "minutes setting tools and measuring",
        Unit::Minutes,
        Origin::Figure("n_s * a + n_m * b"),
    ),
    Symbol::new("n_s", "tools set, once a step", Unit::Share, Origin::Known("the steps of the stage")),
    Symbol::new("a", "setting a head or changing a cutter", Unit::Minutes, Origin::PRACTICE),
    Symbol::new(
        "n_m",
        "stops to measure",
        Unit::Share,
        Origin::Known("the passes that stop; fitting and honing count their own"),
    ),
    Symbol::new("b", "one stop to measure", Unit::Minutes, Origin::PRACTICE),
];

/// By stage, in the order of work.
pub(crate) fn times(passes: &[Pass]) -> Vec<StageTime> {
    let mut times: Vec<StageTime> = Vec::new();
    for pass in passes {
        if !times.iter().any(|t| t.stage == pass.stage) {
            times.push(time(passes, pass.stage));
        }
    }
    times
}

fn time(passes: &[Pass], stage: Stage) -> StageTime {
    let own = || passes.iter().filter(|pass| pass.stage == stage);
    let took: Vec<Took> =
        own().map(|pass| Took { step: pass.step, cylinder: pass.cylinder, minutes: pass.minutes }).collect();
    let mut steps: Vec<u32> = own().filter(|pass| pass.tool.is_some()).map(|pass| pass.step).collect();
    steps.sort_unstable();
    steps.dedup();
    // Fitting and honing count their own measuring.
    let measured = matches!(stage, Stage::Rough | Stage::Pocket | Stage::Finish);
    let stops = own().filter(|pass| measured && pass.stop.is_some());
    let count = |of: u32| f64::from(of);
    let set = count(steps.iter().fold(0, |n, _| n + 1));
    let stopped = count(stops.fold(0, |n, _| n + 1));
    let handling = set * SETTING + stopped * MEASURING;
    let kept = vec![set, SETTING, stopped, MEASURING];
    StageTime {
        stage,
        work: took.iter().map(|took| took.minutes).sum(),
        handling,
        passes: took,
        handled: Some(Figure::of("handling", handling, &[&HANDLING], kept)),
    }
}
