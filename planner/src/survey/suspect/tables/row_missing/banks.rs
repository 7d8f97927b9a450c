//! A depth that every bore of one bank was read at and no bore of the other.

use std::collections::BTreeMap;

use crate::job::Surface;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::custom::{CIRCLE_IN_STEAD_MM, Custom, SAME_DEPTH_MM};
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Code, Suspicion};

/// The depths that the bores of a bank were planned by on a surface, mm.
type OfBank = BTreeMap<u32, Vec<f64>>;

/// A bank that was read nowhere near a depth at which every bore of another was, on the surface that both were planned by, and at
/// fewer depths than that.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let layouts = &asked.job.block.banks;
    let mut found = Vec::new();
    for surface in [Surface::Liner, Surface::Parent, Surface::Sleeve] {
        let mut banks: Vec<OfBank> = layouts.iter().map(|_| OfBank::new()).collect();
        for circle in asked.circles.iter().filter(|c| c.planned && c.surface == surface) {
            banks[circle.bank].entry(circle.cylinder).or_default().push(circle.depth_mm);
        }
        for (layout, own) in layouts.iter().zip(&banks).filter(|(_, own)| !own.is_empty()) {
            let Some(depth_mm) = banks.iter().find_map(|other| lacks(own, other)) else { continue };
            found.push(Suspicion {
                code: Code::RowMissing,
                verdict: Verdict::Hold,
                subject: Subject::bank(&layout.name),
                found: say!(
                    "no circle about depth {}, where every bore of the other bank was read",
                    mm(depth_mm, 1)
                ),
                likely: "rows left out, or their depth mistyped".into(),
                ask: "read its bores there too: what was left out may be what speaks against the cut".into(),
                evidence: figures([("depth", depth_mm)]),
                cylinders: own.keys().copied().collect(),
            });
        }
    }
    found
}

/// The depth, mm, at which every bore of another bank was read and no bore of this one anywhere near.
fn lacks(own: &OfBank, other: &OfBank) -> Option<f64> {
    let most = |bank: &OfBank| bank.values().map(Vec::len).max().unwrap_or(0);
    if most(other) <= most(own) {
        return None;
    }
    let has = |read: &[f64], at: f64, within: f64| read.iter().any(|depth| (depth - at).abs() <= within);
    let customary = |at: f64| {
        Custom::Every.is_made(other.values().filter(|read| has(read, at, SAME_DEPTH_MM)).count(), other.len())
    };
    let near = |at: f64| own.values().any(|read| has(read, at, CIRCLE_IN_STEAD_MM));
    other.values().next()?.iter().copied().find(|at| customary(*at) && !near(*at))
}
