//! Bounds of a sleeve that hold whatever a job limits: what physics, an engine, the block and the description itself allow.
//! Each missed one is a hold, which the lead may release; a stop where nothing can be made.

mod bolts;
mod contradictions;
mod engine;
mod impossible;
mod in_block;
mod lands;
mod parts;
mod piston;
mod strength;

use super::limit::judge;
use crate::job::{Job, Limit, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::Sentence;
use crate::plan::{SleeveFit, Verdict};

pub(crate) use parts::RUN_OUT_MM;
pub(crate) use strength::LEAST_CUT_MM;
pub use strength::{HOT_FILL_MOST, SQUEEZE_ENDS, STRETCH_MOST};
pub(super) use strength::{notes, unjudged};

/// Every bound that a sleeve misses.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = strength::limits(job, sleeve, fit);
    limits.extend(impossible::limits(job, sleeve, fit));
    limits.extend(in_block::limits(job, sleeve, fit));
    limits.extend(lands::limits(job, sleeve));
    limits.extend(engine::limits(job, sleeve, fit));
    limits.extend(parts::limits(job, sleeve, fit));
    limits.extend(bolts::limits(job));
    limits.extend(contradictions::limits(job, sleeve));
    limits
}

/// A hold that the job need not set, of a figure that is no length: a share, MPa, N or °C, as its feature says.
pub(super) fn holds_plain(
    limit: &'static str,
    feature: impl Into<Sentence>,
    figures: [Option<f64>; 2],
    why: Sentence,
) -> SleeveLimit {
    SleeveLimit { is_length: false, ..holds(limit, feature, figures, why) }
}

/// A hold that the job need not set: a length, the bound it missed, mm, and why.
pub(super) fn holds(
    limit: &'static str,
    feature: impl Into<Sentence>,
    [value, bound]: [Option<f64>; 2],
    why: Sentence,
) -> SleeveLimit {
    let given = Limit { least_mm: bound.unwrap_or(0.0), prefer_mm: None };
    let judged = judge(limit, given, feature, value.filter(|_| bound.is_some()));
    // A bound is missed from either side, so what is missing is told without a sign.
    let margin = judged.margin.map(|m| -m.abs());
    SleeveLimit { verdict: Verdict::Hold, of_itself: true, why: Some(why), margin, ..judged }
}
