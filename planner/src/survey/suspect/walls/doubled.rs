//! Walls of one bore that are twice, or half, what other bores of its bank have at the same places; and one ring of it that is twice
//! what they have there and it has elsewhere.

use std::collections::BTreeMap;

use super::beside::{Beside, beside_others};
use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::SetUp;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, median};

/// How near the median ratio must lie to twice or half, and each single one (`EACH`): an echo counted twice doubles
/// every wall alike, a core that stands aside does not.
const MIDDLE: f64 = 0.15;
const EACH: f64 = 0.30;

/// A ring is an echo counted twice where in the middle it is this many times the other bores' at its depth and this many times the
/// bore's own other rings, and each wall of it so many times the others': a floor of the jacket thickens all bores there, a boss not all
/// of a ring. Common practice, no source.
const RING: f64 = 1.7;
const RING_OWN: f64 = 1.5;
const RING_EACH: f64 = 1.25;

/// Fewer walls make no ring.
const RING_WALLS: usize = 4;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().flat_map(of_set_up).collect()
}

/// Asks about each bore of a set-up whose walls are all twice, or all half, the median of its bank's other bores at
/// the same places.
fn of_set_up(set_up: &SetUp) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (n, at) in beside_others(set_up, |read| read > 0.0) {
        let ratios: Vec<f64> = at.iter().map(ratio).collect();
        let near = |ratio: f64, times: f64, within: f64| (ratio / times - 1.0).abs() <= within;
        let middle = median(ratios.clone());
        let all_near =
            |times: f64| near(middle, times, MIDDLE) && ratios.iter().all(|r| near(*r, times, EACH));
        let Some((times, word)) =
            [(2.0, "twice"), (0.5, "half")].into_iter().find(|(times, _)| all_near(*times))
        else {
            found.extend(ring(n, &at));
            continue;
        };
        found.push(Suspicion {
            code: Code::WallOdd,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(n),
            found: say!(
                "all its {} walls are {word} what other bores of its bank have at the same places",
                ratios.len()
            ),
            likely: "an echo counted twice or cut in half, or a gauge set to another sound speed".into(),
            ask: say!("read the walls of cylinder {n} again with the gauge set on a step of known thickness"),
            evidence: figures([("times", times), ("rows", count(ratios.len()))]),
            cylinders: vec![n].into(),
        });
    }
    found
}

fn ratio(at: &Beside) -> f64 {
    at.own_mm / at.others_mm
}

/// The first ring of a bore that is about twice what the other bores have at its places, and what the bore has at its other depths.
fn ring(n: u32, at: &[Beside]) -> Option<Suspicion> {
    let mut rings: BTreeMap<u64, Vec<&Beside>> = BTreeMap::new();
    for beside in at {
        rings.entry(beside.depth_mm.to_bits()).or_default().push(beside);
    }
    let middle = |of: &[&Beside]| median(of.iter().map(|b| b.own_mm).collect());
    let (depth, times) = rings.iter().find_map(|(depth, ring)| {
        let elsewhere = rings.iter().filter(|(other, _)| *other != depth).flat_map(|(_, ring)| ring);
        let elsewhere: Vec<&Beside> = elsewhere.copied().collect();
        let times = median(ring.iter().map(|b| ratio(b)).collect());
        let odd = ring.len() >= RING_WALLS
            && elsewhere.len() >= RING_WALLS
            && times >= RING
            && middle(ring) >= RING_OWN * middle(&elsewhere)
            && ring.iter().all(|b| ratio(b) >= RING_EACH);
        odd.then(|| (f64::from_bits(*depth), times))
    })?;
    Some(Suspicion {
        code: Code::WallOdd,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(n),
        found: say!(
            "its walls at depth {} are {times:.1} times what other bores of its bank have there, and its other walls are not",
            mm(depth, 1)
        ),
        likely: "an echo counted twice at that depth".into(),
        ask: say!("read the walls of cylinder {n} at depth {} again", mm(depth, 1)),
        evidence: figures([("times", times), ("depth", depth)]),
        cylinders: vec![n].into(),
    })
}
