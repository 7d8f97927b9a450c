//! Lower ends that leave a ring, a step or a length of the old bore below them.
//! Each is a hold. All bounds here are common practice without a source, set beyond where any part of an engine lies.

use super::{Missed, holds};
use crate::job::{Job, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::mm;
use crate::say;
use crate::sleeve::judge::SAME;

/// A sleeve that ends more than this above the bore's end leaves a length of the old bore in the stroke, mm.
const SHORT_MM: f64 = 10.0;
/// A plain sleeve that ends more than this above the bore's end ends in the stroke, mm: steps are far lower.
const STEP_MM: f64 = 30.0;
/// Old liner that reaches farther below the pocket than this is left there as a ring, mm.
const LINER_LEFT_MM: f64 = 0.5;
/// A finish bore runs out of the sleeve by this, a hone by no less, mm: else a step stays at its end.
pub(crate) const RUN_OUT_MM: f64 = 2.0;

/// Every one of them, in the order in which they are told.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    [short(job, sleeve), step_high(job, sleeve), liner_left(job, sleeve), run_out(job, sleeve)]
        .into_iter()
        .flatten()
        .collect()
}

/// A sleeve that ends in the stroke.
fn short(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let end = job.end_mm(sleeve);
    let left = job.block.parent.bore_length_mm - end;
    (sleeve.foot().is_none() && left > SHORT_MM + SAME).then(|| {
        let text = say!(
            "the sleeve ends {} below the deck and the bore at {}: {} of the old bore stay below it, off the new axis, and \
             rings or skirt run over its edge",
            mm(end, 1),
            mm(job.block.parent.bore_length_mm, 1),
            mm(left, 1)
        );
        holds("sleeve_short", "lower end", Missed::length(left, SHORT_MM), text)
    })
}

/// A plain sleeve that ends high up in the bore: what is below it is more than a step.
fn step_high(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let (foot, end) = (sleeve.foot()?, sleeve.body.last()?.to_mm + job.engine.deck.cut_mm);
    let left = job.block.parent.bore_length_mm - end;
    (left > STEP_MM.max(foot.height_mm) + SAME).then(|| {
        let text = say!(
            "the sleeve ends {} below the deck, and the bore goes down to {}: {} are left below it, where its step needs {}. Is the \
             sleeve's length a digit off?",
            mm(end, 1),
            mm(job.block.parent.bore_length_mm, 1),
            mm(left, 1),
            mm(foot.height_mm, 1)
        );
        holds("sleeve_short", "lower end", Missed::length(left, STEP_MM), text)
    })
}

/// An old liner that reaches below the pocket: what is left of it is a loose ring over the crank.
fn liner_left(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let liner = job.block.parent.liner.as_ref()?;
    let end = job.end_mm(sleeve);
    let left = liner.length_mm - end;
    (sleeve.foot().is_none() && left > LINER_LEFT_MM + SAME).then(|| {
        let text = say!(
            "the old liner reaches {} below the deck and the pocket ends at {}: {} of it stay below as a thin loose ring. Is \
             `liner.length` or the sleeve's length right?",
            mm(liner.length_mm, 1),
            mm(end, 1),
            mm(left, 1)
        );
        holds("liner_left", "lower end", Missed::length(left, LINER_LEFT_MM), text)
    })
}

/// No room for the finish bore and the hone to run out below the sleeve.
fn run_out(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let room = job.block.parent.floor_mm() - sleeve.length_mm - job.engine.deck.cut_mm;
    (sleeve.foot().is_none() && room < RUN_OUT_MM - SAME).then(|| {
        let text = say!(
            "{} are free below the sleeve, under {}: finish bore and hone do not run out, and leave a step or a narrow end. Is \
             `parent.room_below` right?",
            mm(room.max(0.0), 1),
            mm(RUN_OUT_MM, 1)
        );
        holds("run_out", "lower end", Missed::length(room, RUN_OUT_MM), text)
    })
}
