//! Go, hold or stop of a bound on a centre.

use borewright_geometry::{Constraint, Judged, ON_LIMIT_MM, normal_below};

use crate::plan::Verdict;
use crate::plan::judge::{FACTOR, judge_margin};

/// Go, hold or stop of a bound on a centre: go where its margin reaches what its reserve asks, stop where it is
/// kept with a probability of Phi(-1.65) or less.
///
/// Where the error acts along one line that is [`judge_margin`]; where a centre must stay inside a circle or
/// between two lines the probability is that of the whole error, and near the middle of a small circle go asks more
/// than 1.65 u.
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
