//! Rings of walls that follow from others: the same in another order, in one proportion, mirrored, or means of their neighbours.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use borewright_geometry::sample::{count, ends};

use super::evidence::figures;
use super::grid::{chance, grid_mm, unit_mm};
use super::{Asked, Suspicion};
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::say;

/// Fewer walls of a ring may follow from others by chance, and so many must differ.
const FEWEST: usize = 5;
const DISTINCT: usize = 4;

/// A ring of so many may have so many means of its neighbours by chance, not more.
const RING: usize = 6;
const MEANS: usize = 4;

/// Means tell nothing on a coarser grid than this, mm.
const MEANS_MM: f64 = 0.01;

/// A proportion that comes about by less than this, over all pairs of rings, is none by chance.
const PROPORTION: f64 = 1e-8;

/// A proportion this near to one is an offset at the most.
const OFFSET: f64 = 0.005;

/// Rings beyond this are a raster, and their pairs take long.
const MOST_RINGS: usize = 200;

/// The walls of one bore at one depth, in their rows' order.
struct Ring {
    set_up: usize,
    cylinder: u32,
    depth_bits: u64,
    clocks_deg: Vec<f64>,
    walls_mm: Vec<Option<f64>>,
}

impl Ring {
    fn read(&self) -> Vec<f64> {
        self.walls_mm.iter().flatten().copied().collect()
    }
}

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    if asked.job.instruments.are_exact() {
        return Vec::new();
    }
    let rings = rings(asked);
    let all: Vec<f64> = rings.iter().flat_map(Ring::read).collect();
    let Some(grid) = grid_mm(&all, unit_mm(asked.job.units)) else { return Vec::new() };
    let u = asked.job.instruments.wall_mm;
    let found = another_order(&rings, grid, u)
        .or_else(|| proportion(&rings, grid))
        .or_else(|| mirrored(&rings, grid, u))
        .or_else(|| {
            let banks = rings.chunk_by(|one, other| one.set_up == other.set_up);
            banks.into_iter().find_map(|own| mirrored(own, grid, u))
        })
        .or_else(|| means_of_neighbours(&rings, grid))
        .or_else(|| mean_of_rings(&rings, grid));
    found.into_iter().collect()
}

fn rings(asked: &Asked<'_>) -> Vec<Ring> {
    let mut found: BTreeMap<(usize, u32, u64), Ring> = BTreeMap::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        for wall in &set_up.walls {
            // Depths are not negative, so their bits sort as they do.
            let depth_bits = wall.depth_mm.abs().to_bits();
            let ring = found.entry((index, wall.cylinder, depth_bits)).or_insert_with(|| Ring {
                set_up: index,
                cylinder: wall.cylinder,
                depth_bits,
                clocks_deg: Vec::new(),
                walls_mm: Vec::new(),
            });
            ring.clocks_deg.push(wall.clock_deg.rem_euclid(360.0));
            ring.walls_mm.push(wall.wall_mm);
        }
    }
    if found.len() > MOST_RINGS { Vec::new() } else { found.into_values().collect() }
}

fn distinct(values_mm: &[f64]) -> usize {
    let mut bits: Vec<u64> = values_mm.iter().map(|mm| mm.to_bits()).collect();
    bits.sort_unstable();
    bits.dedup();
    bits.len()
}

fn asks(found: Sentence, cylinders: Vec<u32>, walls: usize) -> Suspicion {
    Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject: match cylinders.as_slice() {
            [one] => Subject::cylinder(*one),
            _ => Subject::Cylinders(cylinders.clone()),
        },
        found,
        likely: "walls worked out or written down from others, not read: what is behind the bore there nobody knows".into(),
        ask: "read these walls again, each for itself: what do they say?".into(),
        evidence: figures([("walls", count(walls))]),
        cylinders: cylinders.into(),
    }
}

fn pairs(rings: &[Ring]) -> impl Iterator<Item = (&Ring, &Ring)> {
    rings.iter().enumerate().flat_map(move |(at, one)| rings[at + 1..].iter().map(move |other| (one, other)))
}

fn both(one: &Ring, other: &Ring) -> Vec<u32> {
    let mut cylinders = vec![one.cylinder, other.cylinder];
    cylinders.dedup();
    cylinders
}

/// Two rings of the same walls, in whatever order.
fn another_order(rings: &[Ring], grid_mm: f64, u_mm: f64) -> Option<Suspicion> {
    if grid_mm > u_mm / 5.0 + 1e-9 {
        return None;
    }
    let sorted = |ring: &Ring| {
        let mut bits: Vec<u64> = ring.read().iter().map(|mm| mm.to_bits()).collect();
        bits.sort_unstable();
        bits
    };
    let (one, other) = pairs(rings).find(|(one, other)| {
        let own = one.read();
        own.len() >= FEWEST && distinct(&own) >= DISTINCT && sorted(one) == sorted(other)
    })?;
    let number = one.read().len();
    let found = say!(
        "the {number} walls of a ring in cylinder {} are, in another order, those of one in cylinder {}",
        other.cylinder,
        one.cylinder
    );
    Some(asks(found, both(one, other), number))
}

/// A ring whose walls are another's times one figure, with an offset or without.
fn proportion(rings: &[Ring], grid_mm: f64) -> Option<Suspicion> {
    let follows = |(one, other): &(&Ring, &Ring)| {
        let two: Vec<(f64, f64)> =
            one.walls_mm.iter().zip(&other.walls_mm).filter_map(|(a, b)| (*a).zip(*b)).collect();
        let n = count(two.len());
        let mean = |get: fn(&(f64, f64)) -> f64| two.iter().map(get).sum::<f64>() / n;
        let (a, b) = (mean(|t| t.0), mean(|t| t.1));
        let square: f64 = two.iter().map(|t| (t.0 - a).powi(2)).sum();
        let slope = two.iter().map(|t| (t.0 - a) * (t.1 - b)).sum::<f64>() / square;
        let Some([least, most]) = ends(&two.iter().map(|t| t.1).collect::<Vec<_>>()) else { return false };
        let within = two.iter().all(|t| (t.1 - b - slope * (t.0 - a)).abs() <= 0.51 * grid_mm);
        (slope - 1.0).abs() > OFFSET
            && two.len() >= FEWEST
            && within
            && chance(2.0 * grid_mm, most - least, two.len() - 2) < PROPORTION
    };
    let (one, other) = pairs(rings).find(follows)?;
    let number = one.walls_mm.len();
    let found = say!(
        "the walls of a ring in cylinder {} are those of one in cylinder {} in one proportion, to the last digit",
        other.cylinder,
        one.cylinder
    );
    Some(asks(found, both(one, other), number))
}

/// A side that may mirror another: what it is called, and the clock across, degrees.
type Way = (&'static str, fn(f64) -> f64);

/// Rings whose walls are alike on opposite sides, over half of all pairs that were read.
fn mirrored(rings: &[Ring], grid_mm: f64, u_mm: f64) -> Option<Suspicion> {
    if grid_mm > u_mm + 1e-9 {
        return None;
    }
    let ways: [Way; 3] =
        [("side to side", |c| -c), ("front to rear", |c| 180.0 - c), ("opposite", |c| c + 180.0)];
    ways.into_iter().find_map(|(way, turned)| {
        let (mut alike, mut all) = (Vec::new(), 0_usize);
        for ring in rings {
            for (clock, wall) in ring.clocks_deg.iter().zip(&ring.walls_mm) {
                let there = turned(*clock).rem_euclid(360.0);
                let at = ring.clocks_deg.iter().position(|c| (c - there).abs() < 1e-3 && *c > *clock + 1e-3);
                let Some((own, other)) = wall.zip(at.and_then(|at| ring.walls_mm[at])) else { continue };
                all += 1;
                if (own - other).abs() < 1e-9 {
                    alike.push((ring.cylinder, own));
                }
            }
        }
        let walls: Vec<f64> = alike.iter().map(|(_, mm)| *mm).collect();
        (walls.len() >= DISTINCT && distinct(&walls) >= DISTINCT && 2 * walls.len() > all).then(|| {
            let mut cylinders: Vec<u32> = alike.iter().map(|(n, _)| *n).collect();
            cylinders.sort_unstable();
            cylinders.dedup();
            let found = say!("{} of {all} pairs of walls are alike {way}, to the last digit", walls.len());
            asks(found, cylinders, walls.len())
        })
    })
}

fn is_mean(of: f64, a: f64, b: f64, grid_mm: f64) -> bool {
    (a + b - 2.0 * of).abs() <= 1.02 * grid_mm
}

/// A ring of which every second wall is the mean of those beside it.
fn means_of_neighbours(rings: &[Ring], grid_mm: f64) -> Option<Suspicion> {
    if grid_mm > MEANS_MM + 1e-9 {
        return None;
    }
    rings.iter().find_map(|ring| {
        let n = ring.walls_mm.len();
        let mean = |at: &usize| {
            let [before, own, after] = [at + n - 1, *at, at + 1].map(|i| ring.walls_mm[i % n]);
            let (Some(before), Some(own), Some(after)) = (before, own, after) else { return false };
            is_mean(own, before, after, grid_mm) && (before - after).abs() > 4.0 * grid_mm
        };
        // Every second one, filled in between those that were read; a ring that goes on evenly has means throughout.
        let [even, odd] = [0, 1].map(|first| (first..n).step_by(2).filter(mean).count());
        let filled = n >= RING && n % 2 == 0 && even.max(odd) == n / 2 && 2 * even.min(odd) < n / 2;
        let means = if filled { even.max(odd) } else { 0 };
        (means >= MEANS).then(|| {
            let found = say!(
                "in cylinder {} {means} walls of a ring are the mean of those beside them",
                ring.cylinder
            );
            asks(found, vec![ring.cylinder], means)
        })
    })
}

/// A ring that is the mean of two other bores' rings at its depth.
fn mean_of_rings(rings: &[Ring], grid_mm: f64) -> Option<Suspicion> {
    if grid_mm > MEANS_MM + 1e-9 {
        return None;
    }
    rings.iter().find_map(|ring| {
        let others: Vec<&Ring> =
            rings.iter().filter(|o| o.depth_bits == ring.depth_bits && o.cylinder != ring.cylinder).collect();
        let (one, other) = others.iter().enumerate().find_map(|(at, one)| {
            let other = others[at + 1..].iter().find(|other| {
                let mut told = ring
                    .walls_mm
                    .iter()
                    .zip(&one.walls_mm)
                    .zip(&other.walls_mm)
                    .filter_map(|((own, a), b)| Some(((*own)?, (*a)?, (*b)?)));
                let read: Vec<(f64, f64, f64)> = told.by_ref().collect();
                read.len() >= FEWEST
                    && distinct(&read.iter().map(|r| r.0).collect::<Vec<_>>()) >= DISTINCT
                    && read.iter().all(|(own, a, b)| is_mean(*own, *a, *b, grid_mm))
            })?;
            Some((one.cylinder, other.cylinder))
        })?;
        let found = say!(
            "the walls of a ring in cylinder {} are the means of those in cylinders {one} and {other}",
            ring.cylinder
        );
        Some(asks(found, vec![ring.cylinder], ring.walls_mm.len()))
    })
}
