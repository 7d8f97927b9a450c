//! A figure of a sleeve against a limit or a bound on it.

use crate::job::{Job, Limit, Sleeve};
use crate::limits::{self, Better, Kind};
use crate::plan::Verdict;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::Sentence;

/// Compared within this, as the other limits are.
pub(super) const SAME: f64 = 1e-6;

impl SleeveLimit {
    /// Whether more is better.
    pub(super) fn better_larger(&self) -> bool {
        limits::stated(self.limit).is_some_and(|stated| stated.better == Better::Larger)
    }
}

/// The thinnest wall of the finished sleeve and its step: outside, or the floor of a groove in it, at the least of its
/// tolerance, mm.
pub(super) fn thinnest<'s>(job: &Job, sleeve: &'s Sleeve) -> Option<(&'s str, f64)> {
    let walls = sleeve.body.iter().map(|step| {
        let thinnest = step.o_rings.iter().map(|o| o.groove_diameter_mm).fold(step.diameter_mm, f64::min);
        (step.name.as_str(), (thinnest - step.tolerance_mm - job.finish.bore_mm) / 2.0)
    });
    walls.min_by(|a, b| a.1.total_cmp(&b.1))
}

/// A figure against a limit: a hold where there is none, a stop beyond it, a hold short of what is preferred.
pub(super) fn judge(
    limit: &'static str,
    given: Limit,
    feature: impl Into<Sentence>,
    value: Option<f64>,
) -> SleeveLimit {
    let mut result = SleeveLimit {
        limit,
        feature: feature.into(),
        value,
        least: given.least_mm,
        prefer: given.prefer_mm,
        margin: None,
        is_length: limits::stated(limit).is_none_or(|stated| matches!(stated.kind, Kind::Length)),
        of_itself: false,
        why: None,
        verdict: Verdict::Hold,
    };
    let Some(value) = value else { return result };
    let sign = if result.better_larger() { 1.0 } else { -1.0 };
    let margin = sign * (value - given.least_mm);
    result.margin = Some(margin);
    let short_of_preferred = given.prefer_mm.is_some_and(|p| sign * (value - p) < -SAME);
    result.verdict = match (margin < -SAME, short_of_preferred) {
        (true, _) => Verdict::Stop,
        (false, true) => Verdict::Hold,
        (false, false) => Verdict::Go,
    };
    result
}
