//! Bounds of a sleeve that hold whatever a job limits: what physics, an engine, the block and the description itself allow.
//! Each missed one is a hold, which the lead may release; a stop where nothing can be made.

mod at_work;
mod bolts;
mod contradictions;
mod ends;
mod engine;
mod finish;
mod gasket;
mod going_in;
mod holding;
mod impossible;
mod in_block;
mod jacket;
mod lands;
mod o_rings;
mod piston;
mod registers;
mod seat;
mod unjudged;
mod walls;

use super::judge::judge;
use crate::job::{Job, Limit, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::Sentence;
use crate::plan::{SleeveFit, Verdict};

pub(crate) use ends::RUN_OUT_MM;
pub(crate) use finish::LEAST_CUT_MM;
pub use o_rings::{HOT_FILL_MOST, SQUEEZE_ENDS, STRETCH_MOST};
pub(super) use unjudged::{notes, unjudged};

/// The coldest that an engine is at work, degrees Celsius.
const COLDEST_AT_WORK_C: f64 = 60.0;

/// Every bound that a sleeve misses, in the order in which a plan tells them.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = seat::clamped(job, sleeve, fit);
    limits.extend(registers::limits(job, sleeve, fit));
    limits.extend(walls::allowed(job, sleeve));
    limits.extend(fit.o_rings.iter().flat_map(o_rings::limits));
    limits.extend(holding::limits(job, fit));
    limits.extend(seat::fillet(job, sleeve));
    limits.extend(finish::thin_cut(job, sleeve));
    limits.extend(piston::touches(fit));
    limits.extend(going_in::chilled(fit));
    limits.extend(impossible::limits(job, sleeve, fit));
    limits.extend(in_block::limits(job, sleeve, fit));
    limits.extend(lands::limits(job, sleeve));
    limits.extend(engine::limits(job, sleeve, fit));
    limits.extend(jacket::limits(job, sleeve));
    limits.extend(ends::limits(job, sleeve));
    limits.extend(seat::limits(job, sleeve, fit));
    limits.extend(walls::limits(job, sleeve));
    limits.extend(piston::limits(job, fit));
    limits.extend(finish::limits(job, sleeve));
    limits.extend(at_work::limits(job, sleeve));
    limits.extend(gasket::limits(job, sleeve));
    limits.extend(going_in::limits(job, fit));
    limits.extend(bolts::limits(job));
    limits.extend(contradictions::limits(job, sleeve));
    limits
}

/// A figure of a sleeve with the bound that it misses.
#[derive(Debug, Clone, Copy)]
struct Missed {
    value: Option<f64>,
    bound: Option<f64>,
    is_length: bool,
}

impl Missed {
    /// What is missed has no figure: something is not there, or not told.
    const NO_FIGURE: Self = Self { value: None, bound: None, is_length: true };

    /// Lengths, mm.
    fn length(value: f64, bound: f64) -> Self {
        Self { value: Some(value), bound: Some(bound), is_length: true }
    }

    /// No lengths: shares, MPa, N or °C, as the feature says; `None` where one of them is not known.
    fn plain(value: impl Into<Option<f64>>, bound: impl Into<Option<f64>>) -> Self {
        Self { value: value.into(), bound: bound.into(), is_length: false }
    }
}

/// A hold that the job need not set: what is missed, and why that is one.
fn holds(
    limit: &'static str,
    feature: impl Into<Sentence>,
    Missed { value, bound, is_length }: Missed,
    why: Sentence,
) -> SleeveLimit {
    let given = Limit { least_mm: bound.unwrap_or(0.0), prefer_mm: None };
    let judged = judge(limit, given, feature, value.filter(|_| bound.is_some()));
    // A bound is missed from either side, so what is missing is told without a sign.
    let margin = judged.margin.map(|m| -m.abs());
    let is_length = is_length && judged.is_length;
    SleeveLimit { verdict: Verdict::Hold, of_itself: true, why: Some(why), margin, is_length, ..judged }
}

/// How near two neighbouring bores are described, mm.
fn spacing_mm(job: &Job) -> Option<f64> {
    let between = job.block.banks.iter().flat_map(|bank| bank.sites.windows(2));
    between.map(|pair| (pair[1].x_mm - pair[0].x_mm).abs()).reduce(f64::min)
}
