//! Temperatures and friction of no engine.
//! Each is a hold. All bounds here are common practice without a source, set beyond where any part of an engine lies.

use super::{COLDEST_AT_WORK_C, Missed, holds};
use crate::job::{Job, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::celsius;
use crate::say;
use crate::sleeve::judge::SAME;

/// Oiled or dry, iron does not hold in a bore with more friction than this.
const FRICTION: f64 = 0.2;

/// Temperatures and friction of no engine.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let at = &job.engine.running;
    let coldest = at.block_c.min(at.sleeve_c);
    if at.stated && coldest < COLDEST_AT_WORK_C - SAME {
        let text = say!(
            "block and sleeve are said to be at {} and {} at work; no engine runs under {}, and what heat takes of a fit is not \
             judged so",
            celsius(at.block_c, 0),
            celsius(at.sleeve_c, 0),
            celsius(COLDEST_AT_WORK_C, 0)
        );
        limits.push(holds("running_cold", "at work, °C", Missed::plain(coldest, COLDEST_AT_WORK_C), text));
    }
    if let Some(foot) = sleeve.foot().filter(|f| f.friction > FRICTION + SAME) {
        let text = say!(
            "the sleeve is said to hold with a friction of {:.2}, over {FRICTION}: nothing proves that, and it may creep",
            foot.friction
        );
        limits.push(holds(
            "friction_odd",
            "sleeve in its bore",
            Missed::plain(foot.friction, FRICTION),
            text,
        ));
    }
    limits
}
