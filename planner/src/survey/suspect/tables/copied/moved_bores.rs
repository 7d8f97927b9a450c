//! A bore whose circles are another's with an offset added to x, y and diameter.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::steps::{CHANCE, added, chance, different, of_all, offset_mm, pairs, told_mm};
use super::ys::Place;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer depths may agree by chance.
const FEWEST: usize = 3;

/// Figures of each column that must differ: two bores as straight as they are told are not two copies.
const DIFFERENT: usize = 2;

/// A bore's x, y and diameter by where they were read, mm.
type Bore<'j> = BTreeMap<Place<'j>, [f64; 3]>;

/// x, y and diameter each at the places that two bores have in common, mm.
type Columns = [Vec<f64>; 3];

/// Asks about each two bores of the block that go by the same steps in x, y and diameter from depth to depth.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let bores = bores(asked);
    let told = [0, 1, 2].map(|k| told_mm(bores.values().flat_map(BTreeMap::values).map(|row| row[k])));
    let all: Vec<(u32, u32, Columns, Columns)> = bores
        .iter()
        .flat_map(|(n, own)| bores.range(n + 1..).map(move |(m, other)| (*n, *m, own, other)))
        .map(|(n, m, own, other)| {
            let [own, other] = common(own, other);
            (n, m, own, other)
        })
        .filter(|(_, _, own, _)| own[0].len() >= FEWEST)
        .collect();
    let off = |own: &Columns, other: &Columns| -> [Option<f64>; 3] {
        [0, 1, 2].map(|k| offset_mm(&own[k], &other[k]))
    };
    let (alike, others): (Vec<_>, Vec<_>) =
        all.iter().partition(|(_, _, own, other)| off(own, other).iter().all(Option::is_some));
    // Bores that one bar bored lean and widen alike: how often a step is the same in those that are no copies.
    let often = [0, 1, 2].map(|k| {
        let steps: Vec<bool> =
            others.iter().flat_map(|(_, _, own, other)| same_steps(&own[k], &other[k])).collect();
        let same = count(steps.iter().filter(|same| **same).count());
        same / count(steps.len().max(1))
    });
    let mut found = Vec::new();
    for (n, m, own, other) in alike {
        let [Some(x), Some(y), Some(diameter)] = off(own, other) else { continue };
        let by_chance: f64 =
            [0, 1, 2].map(|k| of_all(chance(&own[k], told[k]).max(often[k]), own[k].len())).iter().product();
        let differ = own.iter().all(|column| different(column) >= DIFFERENT);
        if !differ || by_chance * pairs(bores.len()) > CHANCE {
            continue;
        }
        found.push(Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::Cylinders(vec![*n, *m]),
            found: say!(
                "all {} circles of cylinder {m} are those of cylinder {n}: x {}, y {}, diameter {}",
                own[0].len(),
                added(x),
                added(y),
                added(diameter)
            ),
            likely: "one bore's circles copied and moved to the other's place, and not read".into(),
            ask: say!("which of cylinders {n} and {m} was read? Read the other again"),
            evidence: figures([
                ("rows", count(own[0].len())),
                ("along", x),
                ("across", y),
                ("diameter", diameter),
            ]),
            cylinders: vec![*n, *m].into(),
        });
    }
    found
}

/// All bores with circles, as typed.
fn bores<'j>(asked: &Asked<'j>) -> BTreeMap<u32, Bore<'j>> {
    let mut bores: BTreeMap<u32, Bore<'j>> = BTreeMap::new();
    for b in asked.job.set_ups.iter().flat_map(|s| &s.bores) {
        let place = (b.depth_mm.to_bits(), b.surface, b.set.as_deref());
        let [x, y] = b.centre_mm;
        bores.entry(b.cylinder).or_default().entry(place).or_insert([x, y, b.diameter_mm]);
    }
    bores
}

/// The columns of two bores at the places that both have.
fn common(own: &Bore<'_>, other: &Bore<'_>) -> [Columns; 2] {
    let both: Vec<([f64; 3], [f64; 3])> =
        own.iter().filter_map(|(place, row)| Some((*row, *other.get(place)?))).collect();
    let column = |k: usize| both.iter().map(|(own, _)| own[k]).collect();
    let of_other = |k: usize| both.iter().map(|(_, other)| other[k]).collect();
    [[0, 1, 2].map(column), [0, 1, 2].map(of_other)]
}

/// Of each figure but the first whether two columns go to it by the same step.
fn same_steps<'c>(own: &'c [f64], other: &'c [f64]) -> impl Iterator<Item = bool> + 'c {
    (1..own.len()).map(|i| offset_mm(&[own[0], own[i]], &[other[0], other[i]]).is_some())
}
