//! Go, hold or stop from a margin and its standard uncertainty.

use borewright_geometry::ON_LIMIT_MM;

use super::Verdict;

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
