//! A circle that every other bore was read at and one lacks.

use std::collections::BTreeMap;

use crate::job::Surface;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::custom::{CIRCLE_IN_STEAD_MM, Custom, Depths, FEWEST, in_stead};
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::readings::Reading;
use crate::survey::suspect::{Asked, Code, Suspicion};
use borewright_geometry::sample::count;

/// A surface and a round of measuring: each has its own custom.
type Look<'a> = (Surface, Option<&'a str>);

/// Depths that all other bores were read at on a surface, and one bore that was read there too was not.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    // A second round may look at a few depths only.
    let mut by: BTreeMap<Look<'_>, BTreeMap<u32, Vec<f64>>> = BTreeMap::new();
    for reading in (0..asked.job.set_ups.len()).flat_map(|index| asked.readings.of_set_up(index)) {
        let Reading { surface, set, cylinder, depth_mm, .. } = reading;
        by.entry((*surface, set.as_deref())).or_default().entry(*cylinder).or_default().push(*depth_mm);
    }
    let mut found = Vec::new();
    for bores in by.into_values().filter(|bores| bores.len() > FEWEST) {
        let bores: BTreeMap<u32, Depths> =
            bores.into_iter().map(|(cylinder, read)| (cylinder, Depths::of(read))).collect();
        for (cylinder, own) in &bores {
            let others = || bores.iter().filter(|(other, _)| *other != cylinder).map(|(_, depths)| depths);
            let Some(first) = others().next().map(Depths::as_slice) else { continue };
            let customary = |at: f64| {
                Custom::Every.is_made(others().filter(|depths| depths.has(at)).count(), bores.len() - 1)
            };
            let common = first.iter().filter(|at| customary(**at)).count();
            let own_mm = own.as_slice();
            let in_stead =
                |at: f64| in_stead(own_mm, own_mm.len(), common, at, CIRCLE_IN_STEAD_MM, customary);
            let missing = first.iter().copied().find(|at| !own.has(*at) && customary(*at) && !in_stead(*at));
            found.extend(missing.map(|at| circle(*cylinder, at, own_mm.len())));
        }
    }
    found
}

fn circle(cylinder: u32, depth_mm: f64, read: usize) -> Suspicion {
    Suspicion {
        code: Code::RowMissing,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found: say!("no circle at depth {}, where every other bore was read", mm(depth_mm, 1)),
        likely: "a row left out, or its depth mistyped".into(),
        ask: say!("read cylinder {cylinder} there too: what was left out may be what speaks against the cut"),
        evidence: figures([("depth", depth_mm), ("circles", count(read))]),
        cylinders: vec![cylinder].into(),
    }
}
