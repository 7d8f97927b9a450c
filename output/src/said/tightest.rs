//! The limit with the least room.

use borewright_planner::plan::{Cylinder, LimitResult, Plan};

/// The limit that stands worst, by verdict, then by how surely it is kept, then by its margin; `None` where none is set.
pub(crate) fn tightest(plan: &Plan) -> Option<(&Cylinder, &LimitResult)> {
    let all = plan.cylinders.iter().flat_map(|c| c.limits.iter().map(move |l| (c, l)));
    let order = |a: &(&Cylinder, &LimitResult), b: &(&Cylinder, &LimitResult)| {
        let (a, b) = (a.1, b.1);
        b.verdict.cmp(&a.verdict).then(a.p.total_cmp(&b.p)).then(a.margin.total_cmp(&b.margin))
    };
    all.filter(|(_, l)| !l.told_only).min_by(order)
}
