//! Go, hold or stop from a margin and its standard uncertainty.

use borewright_geometry::{Constraint, Judged, ON_LIMIT_MM, normal_below};

use crate::plan::Verdict;

/// Guard band in standard uncertainties: ISO 14253-1:2017, 95 % conformance probability, one-sided
/// (the normal distribution gives 1.645; the standard's guard band factor is 1.65).
pub const FACTOR: f64 = 1.65;

/// ISO 14253-1 with the default rule: go where m >= 1.65 u, stop where m <= -1.65 u, hold between;
/// compared within 1e-6 mm, so that a position solved onto a limit counts as inside it.
///
/// ```
/// use borewright_planner::{judge_margin, plan::Verdict};
/// assert_eq!(judge_margin(0.010, 0.006), Verdict::Go);
/// assert_eq!(judge_margin(0.009, 0.006), Verdict::Hold);
/// assert_eq!(judge_margin(-0.010, 0.006), Verdict::Stop);
/// ```
#[must_use]
pub fn judge_margin(margin_mm: f64, u_mm: f64) -> Verdict {
    let guard = FACTOR * u_mm;
    if margin_mm >= guard - ON_LIMIT_MM {
        Verdict::Go
    } else if margin_mm <= -guard + ON_LIMIT_MM && margin_mm < -ON_LIMIT_MM {
        Verdict::Stop
    } else {
        Verdict::Hold
    }
}

/// Go, hold or stop of a bound on a centre: go where its margin reaches what its reserve asks, stop where it is kept with
/// a probability of Phi(-1.65) or less.
///
/// Where the error acts along one line that is [`judge_margin`]; where a centre must stay inside a circle or between two
/// lines the probability is that of the whole error, and near the middle of a small circle go asks more than 1.65 u.
#[must_use]
pub(crate) fn judge_bound(bound: &Constraint, found: &Judged) -> Verdict {
    let margin = found.margin.value_mm;
    if margin >= bound.reserve_mm(found.margin.line_mm) - ON_LIMIT_MM {
        return Verdict::Go;
    }
    match bound.is_two_sided() {
        true if found.probability <= normal_below(-FACTOR) => Verdict::Stop,
        true => Verdict::Hold,
        false => judge_margin(margin, found.u_mm),
    }
}
