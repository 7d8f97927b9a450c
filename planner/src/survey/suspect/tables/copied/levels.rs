//! Two depths of a set-up at which half its bores read alike to the last digit: one depth written at both.

use crate::survey::suspect::Code;
use std::collections::{BTreeMap, BTreeSet};

use super::steps::{CHANCE, SAME_MM};
use crate::job::{SetUp, Surface};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::read::given::Units;
use crate::read::inch::MM_PER_INCH;
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Bores that must do so.
const FEWEST: usize = 2;

/// Of the bores read at both depths.
const SHARE: f64 = 0.5;

/// Tables of which a column is told no finer than this repeat by themselves: mm of a job in mm.
const COARSE_MM: f64 = 0.01;

/// The same, inches of a job in inches; a reading may carry mm there too.
const COARSE_IN: f64 = 0.001;

/// At least this often a bore repeats one figure at another depth, as a share: a straight bore read to within 0.002
/// and told to 0.001 mm. Common practice, no source.
const OFTEN: f64 = 0.15;

/// More depths than these no hand writes down: a machine did, and copies nothing.
const MOST_DEPTHS: usize = 40;

/// x, y and diameter of each bore at a depth, mm.
type Level = BTreeMap<u32, [f64; 3]>;

/// The levels of a set-up, by surface and round, then by depth.
type Levels<'j> = BTreeMap<(Surface, Option<&'j str>), BTreeMap<u64, Level>>;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let inches = (asked.job.units == Units::In).then_some(COARSE_IN * MM_PER_INCH);
    let grids: Vec<f64> = std::iter::once(COARSE_MM).chain(inches).collect();
    asked.job.set_ups.iter().flat_map(|set_up| of_set_up(set_up, &grids)).collect()
}

fn of_set_up(set_up: &SetUp, grids_mm: &[f64]) -> Vec<Suspicion> {
    let mut rounds: Levels<'_> = BTreeMap::new();
    for b in &set_up.bores {
        let [x, y] = b.centre_mm;
        let levels = rounds.entry((b.surface, b.set.as_deref())).or_default();
        levels.entry(b.depth_mm.to_bits()).or_default().insert(b.cylinder, [x, y, b.diameter_mm]);
    }
    rounds.values().flat_map(|levels| of_round(set_up, levels, grids_mm)).collect()
}

/// Asks about each two depths of a round at which half its bores, two at least, have one x, y and diameter.
fn of_round(set_up: &SetUp, levels: &BTreeMap<u64, Level>, grids_mm: &[f64]) -> Vec<Suspicion> {
    let figures_of = |k: usize| levels.values().flat_map(BTreeMap::values).map(move |row| row[k]);
    let off = |v: f64, grid: &f64| ((v / grid).round() * grid - v).abs() > SAME_MM;
    let fine = |k: usize| grids_mm.iter().all(|grid| figures_of(k).any(|v| off(v, grid)));
    if levels.len() > MOST_DEPTHS || !(0..3).all(fine) {
        return Vec::new();
    }
    let both: Vec<Pair> = levels
        .iter()
        .flat_map(|(a, first)| levels.range(a + 1..).map(move |(b, second)| pair([*a, *b], first, second)))
        .collect();
    // How often one figure repeats where not all three do.
    let told: Vec<[bool; 3]> = both.iter().flat_map(|pair| pair.bores.values().copied()).collect();
    let others: Vec<&[bool; 3]> = told.iter().filter(|same| **same != [true; 3]).collect();
    let often: f64 = (0..3)
        .map(|k| count(others.iter().filter(|same| same[k]).count()) / count(others.len().max(1)))
        .map(|share| share.max(OFTEN))
        .product();
    let mut found = Vec::new();
    for pair in &both {
        let alike: Vec<u32> =
            pair.bores.iter().filter(|(_, same)| **same == [true; 3]).map(|(n, _)| *n).collect();
        let enough = alike.len() >= FEWEST && count(alike.len()) >= SHARE * count(pair.bores.len());
        if !enough
            || often.powf(count(alike.len())) * ways(pair.bores.len(), alike.len()) * count(both.len())
                > CHANCE
        {
            continue;
        }
        let [first, second] = pair.depths_mm;
        found.push(Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::Cylinders(alike.clone()),
            found: say!(
                "x, y and diameter of {} at depth {} are those at {} to the last digit, in the set-up {}",
                cylinder_words(&alike),
                before_mm(second, 1),
                mm(first, 1),
                plain(&set_up.name, 40)
            ),
            likely: "one depth's readings written at the other: a lean would not show".into(),
            ask: say!(
                "{} {} read at both depths? Read each depth again",
                if alike.len() == 1 { "was" } else { "were" },
                cylinder_words(&alike)
            ),
            evidence: figures([("bores", count(alike.len())), ("first", first), ("second", second)]),
            cylinders: alike.into(),
        });
    }
    found
}

/// How many ways there are to choose some of so many.
fn ways(of: usize, some: usize) -> f64 {
    (0..some).map(|i| (count(of) - count(i)) / (count(i) + 1.0)).product()
}

/// Two depths and the bores read at both.
struct Pair {
    depths_mm: [f64; 2],
    /// Whether x, y and diameter are each one at both.
    bores: BTreeMap<u32, [bool; 3]>,
}

fn pair(depths: [u64; 2], first: &Level, second: &Level) -> Pair {
    let bores: BTreeSet<u32> = first.keys().filter(|n| second.contains_key(n)).copied().collect();
    let same = |n: &u32| -> Option<[bool; 3]> {
        let (a, b) = (first.get(n)?, second.get(n)?);
        Some([0, 1, 2].map(|k| (a[k] - b[k]).abs() < SAME_MM))
    };
    Pair {
        depths_mm: depths.map(f64::from_bits),
        bores: bores.into_iter().filter_map(|n| Some((n, same(&n)?))).collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_of_four_can_be_chosen_six_ways() {
        assert!((ways(4, 2) - 6.0).abs() < 1e-12 && (ways(3, 3) - 1.0).abs() < 1e-12);
    }
}
