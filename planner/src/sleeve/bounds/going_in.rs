//! Gaps and temperatures with which no sleeve goes in.
//! Each is a hold. The figures stated here are common practice without a source, set beyond where any part of an engine lies.

use super::{Missed, holds};
use crate::job::Job;
use crate::plan::SleeveFit;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{celsius, mm};
use crate::say;
use crate::sleeve::judge::SAME;

/// Colder than liquid nitrogen no sleeve gets, degrees Celsius.
const COLDEST_C: f64 = -195.0;
/// A sleeve with a smaller gap than this sticks as it goes in, mm on diameter.
const DROP_MM: f64 = 0.05;
/// A block that may get no hotter than this may not be heated at all, degrees Celsius.
const HEATED_C: f64 = 60.0;
/// A sleeve goes in no warmer than a hot shop, degrees Celsius.
const WARMEST_C: f64 = 45.0;

/// Gaps and stated temperatures, in the order in which they are told.
pub(super) fn limits(job: &Job, fit: &SleeveFit) -> Vec<SleeveLimit> {
    [drop(job, fit), unheated(job, fit), warm(job, fit)].into_iter().flatten().collect()
}

/// A gap with which a sleeve sticks on its way.
fn drop(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let gap = job.engine.going_in.clearance_mm;
    (!fit.going_in.gaps.is_empty() && gap < DROP_MM - SAME).then(|| {
        let text = say!(
            "sleeves are to drop in with a gap of {}, under {}: one sticks on its way",
            mm(gap, 3),
            mm(DROP_MM, 2)
        );
        holds("drop_gap", "going in", Missed::length(gap, DROP_MM), text)
    })
}

/// A block that must be heated and may not.
fn unheated(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let hottest = job.engine.going_in.hottest_c;
    (fit.going_in.reheat_below.is_some() && hottest < HEATED_C - SAME).then(|| {
        let text = say!(
            "the block may get no hotter than {}, under {}: in which unit is `going_in.hottest` written? No block is heated for a sleeve so",
            celsius(hottest, 0),
            celsius(HEATED_C, 0)
        );
        holds("unheated", "going in, °C", Missed::plain(hottest, HEATED_C), text)
    })
}

/// A sleeve that is warmed before it goes in has grown, and its gap with it.
fn warm(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let at = job.engine.going_in.sleeve_c;
    (!fit.going_in.gaps.is_empty() && at > WARMEST_C + SAME).then(|| {
        let text = say!(
            "the sleeve is said to go in at {}, over {}: it is the block that is heated",
            celsius(at, 0),
            celsius(WARMEST_C, 0)
        );
        holds("sleeve_warm", "going in, °C", Missed::plain(at, WARMEST_C), text)
    })
}

/// The hold of a sleeve that would have to be colder than liquid nitrogen to go in.
pub(super) fn chilled(fit: &SleeveFit) -> Option<SleeveLimit> {
    let chilled = fit.going_in.chilled.filter(|c| *c < COLDEST_C)?;
    let text = say!(
        "to go in the sleeve would have to be chilled to {}, colder than liquid nitrogen: a hotter block or less interference",
        celsius(chilled, 0)
    );
    Some(holds("chilled", "sleeve as it goes in, °C", Missed::plain(chilled, COLDEST_C), text))
}
