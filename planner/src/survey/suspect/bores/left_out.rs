//! Circles left out in several bores: each bears out the others' gap, and most bores of the block have them.

use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::custom::{CIRCLE_IN_STEAD_MM, Custom, Depths, in_stead};
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// So many bores that lack a depth bear each other out; one is asked about wherever every other bore has it.
const SEVERAL: usize = 2;

/// A bore of a surface: its bank and the depths that the plan has of it.
struct Bore {
    bank: usize,
    depths: Depths,
}

/// Asks about each of two bores or more that lack a depth which another of their bank has, and more of the block than lack it.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    [Surface::Liner, Surface::Parent, Surface::Sleeve]
        .into_iter()
        .flat_map(|s| of_surface(asked, s))
        .collect()
}

fn of_surface(asked: &Asked<'_>, surface: Surface) -> Vec<Suspicion> {
    let mut read_mm: BTreeMap<u32, (usize, Vec<f64>)> = BTreeMap::new();
    for circle in asked.circles.iter().filter(|c| c.planned && c.surface == surface) {
        let bore = read_mm.entry(circle.cylinder).or_insert((circle.bank, Vec::new()));
        bore.1.push(circle.depth_mm);
    }
    let bores: BTreeMap<u32, Bore> = read_mm
        .into_iter()
        .map(|(cylinder, (bank, read))| (cylinder, Bore { bank, depths: Depths::of(read) }))
        .collect();
    let read = |at: f64| bores.values().filter(|bore| bore.depths.has(at)).count();
    let customary = |at: f64| {
        let read = read(at);
        Custom::Most.is_made(read, bores.len()) && read + SEVERAL <= bores.len()
    };
    let common = |bore: &Bore| bore.depths.as_slice().iter().filter(|at| customary(**at)).count();
    let most = bores.values().map(common).max().unwrap_or(0);
    let mut found = Vec::new();
    for (cylinder, own) in &bores {
        let in_bank = bores.values().filter(|bore| bore.bank == own.bank);
        let mut depths = in_bank.flat_map(|bore| bore.depths.as_slice()).copied();
        let own_mm = own.depths.as_slice();
        let in_stead = |at: f64| in_stead(own_mm, own_mm.len(), most, at, CIRCLE_IN_STEAD_MM, customary);
        let missing = depths.find(|at| !own.depths.has(*at) && customary(*at) && !in_stead(*at));
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
            evidence: figures([("depth", depth_mm), ("circles", count(own_mm.len()))]),
            cylinders: vec![*cylinder].into(),
        });
    }
    found
}
