//! Fingerprints of a plan and of each of its cylinders.

use crate::plan::{Cylinder, Pass, Plan};
use crate::read::source::sha256_hex;

/// SHA-256 over inputs (by their own sums) and results: the plan itself, before it has a fingerprint or lists.
pub(super) fn fingerprint(plan: &Plan) -> String {
    // Serialising plain numbers and text to memory has no way to fail; an empty text would still be hashed.
    sha256_hex(serde_json::to_string(plan).unwrap_or_default().as_bytes())
}

/// Twelve digits of the SHA-256 over what is cut of a cylinder, with which tools, and what is asked of it. Margins
/// that a neighbour's cut changes, and what is cut elsewhere, are left out.
pub(super) fn cylinder_fingerprint(plan: &Plan, of: &Cylinder) -> String {
    let own = |n: u32| n == of.cylinder;
    let passes: Vec<&Pass> = plan.passes.iter().filter(|p| own(p.cylinder)).collect();
    let checks: Vec<_> = plan
        .checks
        .iter()
        .flat_map(|c| c.cylinders.iter().map(move |at| (c.check, at)))
        .filter(|(_, at)| at.cylinder.is_some_and(own))
        .collect();
    let sleeve: Vec<_> = plan
        .sleeves
        .iter()
        .filter(|s| s.chosen)
        .flat_map(|s| &s.fit.assigned)
        .filter(|a| own(a.cylinder))
        .collect();
    let what = (&plan.job, &of.bank, &of.sleeve, of.verdict, of.planned, of.withheld, passes, checks, sleeve);
    let sum = sha256_hex(serde_json::to_string(&what).unwrap_or_default().as_bytes());
    sum.chars().take(12).collect()
}
