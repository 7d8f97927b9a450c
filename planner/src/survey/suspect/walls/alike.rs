//! Walls that repeat within one bore or from bore to bore, ring for ring, where those of other bores differ.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::evidence::figures;
use super::grid::{grid_of_all, unit_mm};
use super::{Asked, Suspicion};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use borewright_geometry::sample::count;

/// Fewer walls of a ring may agree by chance.
const FEWEST: usize = 4;

/// Walls round a bore that differ by no more than this are taken for alike, mm: a gauge may show that of one wall
/// read twice.
const VARIES_MM: f64 = 0.05;

/// Nor do walls that differ by under so many of the steps that they are told in show that a casting varies.
const VARIES_STEPS: f64 = 3.0;

/// Walls nearer than this are one figure, mm.
const SAME_MM: f64 = 1e-6;

/// Rings are not asked about where chance would repeat one more often than this, as with walls read to a tenth.
const CHANCE: f64 = 0.02;

/// Walls told more finely than this are not alike at two depths of any casting, mm.
const COARSE_MM: f64 = 0.09;

/// Rings further down with which one is compared to learn how often figures agree.
const NEXT: usize = 8;

/// One ring: its walls by clock.
type Ring = BTreeMap<u64, f64>;

/// Asks about a bore whose walls are all one figure, or repeat those at another depth of it or of an earlier bore,
/// where the walls of this casting vary enough for that to be no chance.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut rings: BTreeMap<(u32, u64), Ring> = BTreeMap::new();
    for wall in asked.job.set_ups.iter().flat_map(|s| &s.walls) {
        let Some(read) = wall.wall_mm else { continue };
        let ring = rings.entry((wall.cylinder, wall.depth_mm.abs().to_bits())).or_default();
        ring.insert(wall.clock_deg.to_bits(), read);
    }
    rings.retain(|_, ring| ring.len() >= FEWEST);
    let walls: Vec<f64> = rings.values().flat_map(Ring::values).copied().collect();
    let told_mm =
        grid_of_all(&walls, unit_mm(asked.job.units)).map_or(0.0, |grid| grid * unit_mm(asked.job.units));
    // Whether a ring's walls differ. A casting whose walls are all of one figure has a question of its own.
    let varies_by = |ring: &Ring| {
        let ends =
            ring.values().fold([f64::INFINITY, 0.0], |[low, high]: [f64; 2], w| [low.min(*w), high.max(*w)]);
        ends[1] - ends[0]
    };
    let varies = |ring: &Ring| varies_by(ring) > VARIES_MM;
    let lively = |ring: &Ring| varies(ring) && varies_by(ring) > VARIES_STEPS * told_mm - SAME_MM;
    let of = |n: u32| rings.range((n, 0)..=(n, u64::MAX)).map(|(_, ring)| ring);
    let mut cylinders: Vec<u32> = rings.keys().map(|k| k.0).collect();
    cylinders.dedup();
    let lively = cylinders.iter().filter(|n| of(**n).all(lively)).count();
    let alike_by_chance = by_chance(&rings) > CHANCE;
    let alike_down = down_by_chance(&rings);
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
        if alike_by_chance {
            continue;
        }
        let own: Vec<(&(u32, u64), &Ring)> =
            rings.range((n, 0)..=(n, u64::MAX)).filter(|(_, r)| varies(r)).collect();
        let pairs = own.iter().enumerate().flat_map(|(i, a)| own[i + 1..].iter().map(move |b| (a, b)));
        // An even casting is alike at two depths where its bores are not.
        let by_chance = |walls: usize| told_mm > COARSE_MM && alike_down(walls) > CHANCE;
        let within = pairs.into_iter().find(|(a, b)| a.1 == b.1 && !by_chance(a.1.len()));
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

/// How many pairs of rings within one bore, of so many walls each, would be alike by chance: figures at one clock and two depths of a
/// bore agree as often as they do where the rings are not alike as a whole, which is the question itself.
fn down_by_chance(rings: &BTreeMap<(u32, u64), Ring>) -> impl Fn(usize) -> f64 {
    let (mut same, mut all, mut two) = (0_usize, 0_usize, 0_usize);
    let mut own: BTreeMap<u32, Vec<&Ring>> = BTreeMap::new();
    rings.iter().for_each(|((n, _), ring)| own.entry(*n).or_default().push(ring));
    for own in own.values() {
        // A scanned bore has rings by the hundred: each is held against the next ones.
        let beside =
            own.iter().enumerate().flat_map(|(at, a)| own[at + 1..].iter().take(NEXT).map(move |b| (*a, *b)));
        for (a, b) in beside {
            two += 1;
            if a == b {
                continue;
            }
            let both = a.iter().filter_map(|(clock, wall)| Some((wall, b.get(clock)?)));
            for (one, other) in both {
                all += 1;
                same += usize::from((one - other).abs() <= SAME_MM);
            }
        }
    }
    let share = if all > 0 { count(same) / count(all) } else { 0.0 };
    move |walls| share.powi(i32::try_from(walls).unwrap_or(i32::MAX)) * count(two)
}

/// How many pairs of rings would be alike by chance: walls of a clock agree as often as those of other rings do,
/// and no less often than if they stood anywhere in their range, as finely as they are told.
fn by_chance(rings: &BTreeMap<(u32, u64), Ring>) -> f64 {
    let mut told: Vec<f64> = rings.values().flat_map(Ring::values).copied().collect();
    told.sort_by(f64::total_cmp);
    let steps = told.windows(2).map(|pair| pair[1] - pair[0]).filter(|step| *step > SAME_MM);
    let step = steps.fold(f64::INFINITY, f64::min);
    // Counted and not held ring against ring: a scanned casting has thousands of them.
    let mut whole: BTreeMap<Vec<(u64, u64)>, usize> = BTreeMap::new();
    let mut clocks: BTreeMap<u64, BTreeMap<u64, usize>> = BTreeMap::new();
    for ring in rings.values() {
        let bits = ring.iter().map(|(clock, wall)| (*clock, wall.to_bits()));
        *whole.entry(bits.collect()).or_default() += 1;
        for (clock, wall) in ring {
            *clocks.entry(*clock).or_default().entry(wall.to_bits()).or_default() += 1;
        }
    }
    let shares: BTreeMap<u64, f64> = clocks
        .iter()
        .map(|(clock, walls)| {
            // Rings that are alike as a whole are the question itself and are left out of the estimate of chance.
            let has = |ring: &[(u64, u64)]| ring.iter().any(|(at, _)| at == clock);
            let copied: f64 = whole.iter().filter(|(ring, _)| has(ring)).map(|(_, n)| pairs(*n)).sum();
            let all = pairs(walls.values().sum()) - copied;
            let same = walls.values().map(|n| pairs(*n)).sum::<f64>() - copied;
            let ends = walls.keys().map(|bits| f64::from_bits(*bits));
            let [low, high] =
                ends.fold([f64::INFINITY, 0.0], |[low, high]: [f64; 2], w| [low.min(w), high.max(w)]);
            let agree = if all > 0.0 { same / all } else { 0.0 };
            (*clock, agree.max(1.0 / ((high - low) / step + 1.0)))
        })
        .collect();
    let one = |ring: &Ring| ring.keys().filter_map(|clock| shares.get(clock)).product::<f64>();
    rings.values().map(one).fold(0.0, f64::max) * pairs(rings.len())
}

/// Pairs among so many.
fn pairs(n: usize) -> f64 {
    let n = count(n);
    n * (n - 1.0) / 2.0
}

/// Whether all rings of two bores are alike.
fn same(rings: &BTreeMap<(u32, u64), Ring>, a: u32, b: u32) -> bool {
    let of = |n: u32| rings.range((n, 0)..=(n, u64::MAX)).map(|((_, d), r)| (*d, r)).collect::<Vec<_>>();
    of(a) == of(b)
}

fn asks(cylinder: u32, found: crate::plan::sentence::Sentence) -> Suspicion {
    Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(cylinder),
        found,
        likely: "walls filled in and not read, or rows copied".into(),
        ask: say!("was each wall of cylinder {cylinder} read? Read them again"),
        evidence: figures([("fewest", count(FEWEST))]),
        cylinders: vec![cylinder].into(),
    }
}
