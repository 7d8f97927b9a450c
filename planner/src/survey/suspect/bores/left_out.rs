//! Circles left out in several bores: each bears out the others' gap, and most bores of the block have them.

use std::collections::BTreeMap;

use super::evidence::{figures, near};
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// Depths of two rows are one within this, mm.
const SAME_DEPTH_MM: f64 = 1.0;

/// A circle this near in depth, where most others have none, was read in the missing one's stead, mm. Common practice, no source.
const IN_STEAD_MM: f64 = 15.0;

/// So many bores that lack a depth bear each other out; one is asked about wherever every other bore has it.
const SEVERAL: usize = 2;

/// A bore of a surface: its bank and the depths that the plan has of it, sorted, mm.
struct Bore {
    bank: usize,
    depths_mm: Vec<f64>,
}

/// Asks about each of two bores or more that lack a depth which another of their bank has, and more of the block than lack it.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    [Surface::Liner, Surface::Parent, Surface::Sleeve]
        .into_iter()
        .flat_map(|s| of_surface(asked, s))
        .collect()
}

fn of_surface(asked: &Asked<'_>, surface: Surface) -> Vec<Suspicion> {
    let mut bores: BTreeMap<u32, Bore> = BTreeMap::new();
    for circle in asked.circles.iter().filter(|c| c.planned && c.surface == surface) {
        let bore = bores.entry(circle.cylinder).or_insert(Bore { bank: circle.bank, depths_mm: Vec::new() });
        bore.depths_mm.push(circle.depth_mm);
    }
    for bore in bores.values_mut() {
        bore.depths_mm.sort_by(f64::total_cmp);
        bore.depths_mm.dedup_by(|a, b| (*a - *b).abs() <= SAME_DEPTH_MM);
    }
    let has = |bore: &Bore, at: f64| near(&bore.depths_mm, at, SAME_DEPTH_MM);
    let read = |at: f64| bores.values().filter(|bore| has(bore, at)).count();
    let customary = |at: &f64| {
        let read = read(*at);
        2 * read > bores.len() && read + SEVERAL <= bores.len()
    };
    let common = |bore: &Bore| bore.depths_mm.iter().filter(|at| customary(at)).count();
    let most = bores.values().map(common).max().unwrap_or(0);
    let mut found = Vec::new();
    for (cylinder, own) in &bores {
        let in_bank = bores.values().filter(|bore| bore.bank == own.bank);
        let mut depths = in_bank.flat_map(|bore| &bore.depths_mm).copied();
        let alone: Vec<f64> = own.depths_mm.iter().copied().filter(|at| !customary(at)).collect();
        let in_stead = |at: f64| own.depths_mm.len() >= most && near(&alone, at, IN_STEAD_MM);
        let missing = depths.find(|at| !has(own, *at) && customary(at) && !in_stead(*at));
        let Some(depth_mm) = missing else { continue };
        found.push(Suspicion {
            code: Code::RowMissing,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(*cylinder),
            found: say!("no circle at depth {}, where {} bores were read", mm(depth_mm, 1), read(depth_mm)),
            likely: "rows left out, or their depth mistyped".into(),
            ask: say!(
                "read cylinder {cylinder} there too: what was left out may be what speaks against the cut"
            ),
            evidence: figures([("depth", depth_mm), ("circles", count(own.depths_mm.len()))]),
            cylinders: vec![*cylinder],
        });
    }
    found
}
