//! y of one bore that is another's, reading by reading, while others of its set-up have their own.

use crate::survey::suspect::Code;
use std::collections::{BTreeMap, BTreeSet};

use super::ys::{differs, ys};
use crate::job::SetUp;
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::{grid_mm, read_unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer different points may agree by chance.
const FEWEST: usize = 5;

/// So many depths read alike by no chance, whatever the gauge.
const MANY: usize = 6;

/// Points that lie alike about their first one within this come from one drawing, mm.
const SAME_MM: f64 = 1e-4;

/// Bores whose circles have another's y, depth by depth.
pub(super) fn circles(asked: &Asked<'_>, set_up: &SetUp) -> Vec<Suspicion> {
    let bores = ys(set_up);
    let all: Vec<f64> = set_up.bores.iter().map(|b| b.centre_mm[1]).collect();
    let step = grid_mm(&all, read_unit_mm(asked.job)).unwrap_or_default();
    let i = &asked.job.instruments;
    // A gauge that steps by what it is uncertain by reads two bores of some alike, where they were read at a few depths.
    let by_chance = |depths: usize| !i.are_exact() && step >= i.centre_mm && depths < MANY;
    let like = |n: &u32| {
        let own = bores.get(n).filter(|own| differs(own) && !by_chance(own.len()))?;
        let (other, _) = bores.range(..n).find(|(_, b)| *b == own)?;
        let found = say!("its y is that of cylinder {other} to the last digit, at all {} depths", own.len());
        Some(asks(*n, *other, own.len(), found, "read"))
    };
    bores.keys().filter_map(like).collect()
}

/// Bores whose points have another's y, point by point: no two bores are probed alike to the last digit.
pub(super) fn points(set_up: &SetUp) -> Vec<Suspicion> {
    // Depth and y bit by bit, and x, mm.
    let mut bores: BTreeMap<u32, (Vec<[u64; 2]>, Vec<f64>)> = BTreeMap::new();
    for p in &set_up.points {
        let (ys, xs) = bores.entry(p.cylinder).or_default();
        ys.push([p.depth_mm.to_bits(), p.at_mm[1].to_bits()]);
        xs.push(p.at_mm[0]);
    }
    // Where x repeats as well, both bores come from one drawing, which has a question of its own.
    let own_x = |a: &[f64], b: &[f64]| {
        let from_first = |xs: &[f64], i: usize| xs[i] - xs[0];
        (1..a.len()).any(|i| (from_first(a, i) - from_first(b, i)).abs() > SAME_MM)
    };
    let like = |n: &u32| {
        let (own, xs) = bores.get(n)?;
        let differ = own.iter().collect::<BTreeSet<_>>().len() >= FEWEST;
        let alike = |(ys, other_xs): &(Vec<[u64; 2]>, Vec<f64>)| differ && ys == own && own_x(xs, other_xs);
        let (other, _) = bores.range(..n).find(|(_, b)| alike(b))?;
        let found = say!("y of all its {} points is that of cylinder {other} to the last digit", own.len());
        Some(asks(*n, *other, own.len(), found, "probed"))
    };
    bores.keys().filter_map(like).collect()
}

fn asks(n: u32, other: u32, rows: usize, found: Sentence, done: &str) -> Suspicion {
    Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject: Subject::cylinder(n),
        found,
        likely: "one bore's y copied to the other".into(),
        ask: say!("which of cylinders {other} and {n} was {done}? Read y of the other again"),
        evidence: figures([("rows", count(rows))]),
        cylinders: vec![other, n].into(),
    }
}
