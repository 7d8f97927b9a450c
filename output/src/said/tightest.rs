//! The limit with the least room.

use std::cmp::Ordering;

use borewright_planner::plan::{Cylinder, LimitResult, Plan};

/// The limit that stands worst, by verdict, then by how surely it is kept, then by its margin; `None` where none is set.
pub(crate) fn tightest(plan: &Plan) -> Option<(&Cylinder, &LimitResult)> {
    let all = plan.cylinders.iter().flat_map(|c| c.limits.iter().map(move |l| (c, l)));
    all.filter(|(_, l)| !l.told_only).min_by(|a, b| order(a.1, b.1))
}

/// A cylinder's limit that stands worst, in the order of [`tightest`]; `None` where none is set.
pub(crate) fn of(cylinder: &Cylinder) -> Option<&LimitResult> {
    cylinder.limits.iter().filter(|l| !l.told_only).min_by(|a, b| order(a, b))
}

/// The one that stands worse first.
pub(crate) fn order(a: &LimitResult, b: &LimitResult) -> Ordering {
    b.verdict.cmp(&a.verdict).then(a.p.total_cmp(&b.p)).then(a.margin.total_cmp(&b.margin))
}
