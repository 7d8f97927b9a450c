//! Walls that repeat within one bore or from bore to bore, ring for ring, where those of other bores differ.

use std::collections::BTreeMap;

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::Verdict;
use crate::plan::sentence::{before_mm, mm};
use crate::say;
use crate::survey::set_up::count;

/// Fewer walls of a ring may agree by chance.
const FEWEST: usize = 4;

/// Walls round a bore that differ by less are taken for alike, mm: what a gauge shows twice of one wall.
const VARIES_MM: f64 = 0.05;

/// One ring: its walls by clock.
type Ring = BTreeMap<u64, f64>;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut rings: BTreeMap<(u32, u64), Ring> = BTreeMap::new();
    for wall in asked.job.set_ups.iter().flat_map(|s| &s.walls) {
        let Some(read) = wall.wall_mm else { continue };
        let ring = rings.entry((wall.cylinder, wall.depth_mm.abs().to_bits())).or_default();
        ring.insert(wall.clock_deg.to_bits(), read);
    }
    rings.retain(|_, ring| ring.len() >= FEWEST);
    // A casting whose walls are all of one figure has its own question, a bench that is drawn none.
    let varies = |ring: &Ring| {
        let ends =
            ring.values().fold([f64::INFINITY, 0.0], |[low, high]: [f64; 2], w| [low.min(*w), high.max(*w)]);
        ends[1] - ends[0] > VARIES_MM
    };
    let of = |n: u32| rings.range((n, 0)..=(n, u64::MAX)).map(|(_, ring)| ring);
    let mut cylinders: Vec<u32> = rings.keys().map(|k| k.0).collect();
    cylinders.dedup();
    let lively = cylinders.iter().filter(|n| of(**n).all(varies)).count();
    let mut found = Vec::new();
    for &n in &cylinders {
        let flat = of(n).all(|ring| !varies(ring));
        if flat && of(n).count() > 0 && lively >= 2 {
            let first = of(n).flat_map(Ring::values).next().copied().unwrap_or_default();
            found.push(asks(
                n,
                say!("its walls all read {}, and those of other bores vary round them", mm(first, 2)),
            ));
            continue;
        }
        let own: Vec<(&(u32, u64), &Ring)> =
            rings.range((n, 0)..=(n, u64::MAX)).filter(|(_, r)| varies(r)).collect();
        let pairs = own.iter().enumerate().flat_map(|(i, a)| own[i + 1..].iter().map(move |b| (a, b)));
        let within = pairs.into_iter().find(|(a, b)| a.1 == b.1);
        if let Some((a, b)) = within {
            let [first, second] = [a.0.1, b.0.1].map(f64::from_bits);
            found.push(asks(
                n,
                say!(
                    "its walls at {} and at {} are one figure for one, clock by clock",
                    before_mm(first, 1),
                    mm(second, 1)
                ),
            ));
            continue;
        }
        // Whole tables that repeat are asked about as such.
        let other = own.iter().find_map(|(key, ring)| {
            let alike = rings.iter().find(|((m, _), r)| *m < n && *r == *ring)?;
            Some((f64::from_bits(key.1), alike.0.0))
        });
        if let Some((depth, other)) = other.filter(|(_, m)| own.len() > 1 && !same(&rings, n, *m)) {
            found.push(asks(
                n,
                say!("its walls at {} repeat those of cylinder {other}, clock by clock", mm(depth, 1)),
            ));
        }
    }
    found
}

/// Whether all rings of two bores are alike.
fn same(rings: &BTreeMap<(u32, u64), Ring>, a: u32, b: u32) -> bool {
    let of = |n: u32| rings.range((n, 0)..=(n, u64::MAX)).map(|((_, d), r)| (*d, r)).collect::<Vec<_>>();
    of(a) == of(b)
}

fn asks(cylinder: u32, found: crate::plan::sentence::Sentence) -> Suspicion {
    Suspicion {
        code: "copied",
        verdict: Verdict::Hold,
        subject: format!("cylinder {cylinder}"),
        found,
        likely: "walls filled in and not read, or rows copied".into(),
        ask: say!("was each wall of cylinder {cylinder} read? Read them again"),
        evidence: figures([("fewest", count(FEWEST))]),
        cylinders: vec![cylinder],
    }
}
