//! Walls of a bore, or of a ring, that are another's with one thickness added.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use super::steps::{CHANCE, SAME_MM, added, chance, different, of_all, offset_mm, pairs, told_mm};
use crate::job::Surface;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer walls may agree by chance.
const FEWEST: usize = 5;

/// Walls that must differ from each other: where all are alike there is a question of its own.
const DIFFERENT: usize = 4;

/// Rings that follow a ring, by bore and depth, which it is held against to tell how often walls go by one step:
/// rings side by side are the likeliest to.
const BESIDE: usize = 8;

/// More rings than these no hand writes down: a machine did, and copies nothing.
const MOST_RINGS: usize = 400;

/// Where a wall was read: depth and clock by their bits, surface.
type Place = (u64, u64, Surface);

/// Walls by their places, mm, in the order of the places.
type Walls<P> = Vec<(P, f64)>;

/// Asks about walls that go by the same steps as another bore's or, in bores of their own, as another ring's.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut read: BTreeMap<u32, BTreeMap<Place, f64>> = BTreeMap::new();
    for wall in asked.job.set_ups.iter().flat_map(|s| &s.walls) {
        let Some(thick) = wall.wall_mm else { continue };
        let clock = wall.clock_deg.rem_euclid(360.0);
        let place = (wall.depth_mm.to_bits(), clock.to_bits(), wall.surface);
        read.entry(wall.cylinder).or_default().entry(place).or_insert(thick);
    }
    let told = told_mm(read.values().flat_map(BTreeMap::values).copied());
    let mut rings: BTreeMap<(u32, u64, Surface), Walls<u64>> = BTreeMap::new();
    for (n, walls) in &read {
        for ((depth, clock, surface), thick) in walls {
            rings.entry((*n, *depth, *surface)).or_default().push((*clock, *thick));
        }
    }
    let bores: BTreeMap<u32, Walls<Place>> =
        read.into_iter().map(|(n, walls)| (n, walls.into_iter().collect())).collect();
    let of_bores = copies(&bores, told, |_, _| true);
    // A whole bore's copy is no news of its rings.
    let named = |n: u32, m: u32| of_bores.iter().any(|c| [c.from, c.to] == [n, m]);
    let of_rings = copies(&rings, told, |(n, depth, surface), (m, other, of)| {
        surface == of && if n == m { true } else { depth == other && !named(*n, *m) }
    });
    let bores = of_bores.iter().map(|c| {
        let found = say!(
            "{} walls of cylinder {} are those of cylinder {} at the same places {}",
            c.rows,
            c.to,
            c.from,
            added(c.offset_mm)
        );
        asks(c.from, c.to, c.rows, c.offset_mm, found)
    });
    let rings = of_rings.iter().map(|c| {
        let ((n, from, _), (m, to, _)) = (c.from, c.to);
        let [from, to] = [from, to].map(f64::from_bits);
        let found = say!(
            "{} walls of cylinder {m} at depth {} are those of cylinder {n} at {}, clock by clock, {}",
            c.rows,
            mm(to, 1),
            mm(from, 1),
            added(c.offset_mm)
        );
        asks(n, m, c.rows, c.offset_mm, found)
    });
    bores.chain(rings).collect()
}

/// Walls that are others with one thickness added.
struct Moved<K> {
    from: K,
    to: K,
    /// How many.
    rows: usize,
    /// What was added, mm.
    offset_mm: f64,
}

/// Each two of a kind that go by the same steps where that is no chance; those alike to the digit have a question of
/// their own.
fn copies<K: Ord + Copy, P: Ord + Copy>(
    all: &BTreeMap<K, Walls<P>>,
    told_mm: f64,
    held: impl Fn(&K, &K) -> bool,
) -> Vec<Moved<K>> {
    let kept: Vec<(&K, &Walls<P>)> = all.iter().filter(|(_, walls)| walls.len() >= FEWEST).collect();
    if kept.len() > MOST_RINGS {
        return Vec::new();
    }
    let mut alike = Vec::new();
    for (i, (from, own)) in kept.iter().enumerate() {
        for (to, other) in kept.iter().skip(i + 1).filter(|(to, _)| held(from, to)) {
            let Some((column, offset_mm)) = moved(own, other) else { continue };
            if column.len() >= FEWEST && different(&column) >= DIFFERENT && offset_mm.abs() > SAME_MM {
                alike.push((Moved { from: **from, to: **to, rows: column.len(), offset_mm }, column));
            }
        }
    }
    if alike.is_empty() {
        return Vec::new();
    }
    let often = often(&kept);
    let by_chance =
        |column: &[f64]| of_all(chance(column, told_mm).max(often), column.len()) * pairs(kept.len());
    alike.into_iter().filter(|(_, column)| by_chance(column) < CHANCE).map(|(copy, _)| copy).collect()
}

/// Walls of one at the places both have, and what the other's are thicker throughout, mm; `None` where they are not so.
fn moved<P: Ord>(own: &Walls<P>, other: &Walls<P>) -> Option<(Vec<f64>, f64)> {
    let mut column = Vec::new();
    let mut first = None;
    for (a, b) in common(own, other) {
        let off = b - a;
        if (off - *first.get_or_insert(off)).abs() > SAME_MM {
            return None;
        }
        column.push(a);
    }
    Some((column, first?))
}

/// Walls of two at the places that both have, mm; both are in the order of their places.
fn common<'w, P: Ord>(own: &'w Walls<P>, other: &'w Walls<P>) -> impl Iterator<Item = (f64, f64)> + 'w {
    let mut rest = other.iter().peekable();
    own.iter().filter_map(move |(place, a)| {
        while rest.next_if(|(at, _)| at < place).is_some() {}
        rest.next_if(|(at, _)| at == place).map(|(_, b)| (*a, *b))
    })
}

/// How often a wall goes by the same step in two that are no copies: a share of all that were tried.
fn often<K, P: Ord>(kept: &[(&K, &Walls<P>)]) -> f64 {
    let (mut same, mut all) = (0, 0);
    for (i, (_, own)) in kept.iter().enumerate() {
        for (_, other) in kept.iter().skip(i + 1).take(BESIDE) {
            let both: Vec<(f64, f64)> = common(own, other).collect();
            let Some((a, b)) = both.first() else { continue };
            let steps = both[1..].iter().filter(|(c, d)| offset_mm(&[*a, *c], &[*b, *d]).is_some()).count();
            if steps + 1 < both.len() {
                same += steps;
                all += both.len() - 1;
            }
        }
    }
    count(same) / count(all.max(1))
}

fn asks(n: u32, m: u32, rows: usize, offset_mm: f64, found: Sentence) -> Suspicion {
    let of = if n == m { vec![n] } else { vec![n, m] };
    Suspicion {
        code: Code::Copied,
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(of.clone()),
        found,
        likely: "walls copied with one thickness added, and not read".into(),
        ask: if n == m {
            say!("at which depth were these walls of cylinder {n} read? Read the other ring again")
        } else {
            say!("which of cylinders {n} and {m} was read? Read the walls of the other again")
        },
        evidence: figures([("rows", count(rows)), ("offset", offset_mm)]),
        cylinders: of.into(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn walls(own: &[f64]) -> Walls<usize> {
        own.iter().copied().enumerate().collect()
    }

    #[test]
    fn walls_that_one_thickness_was_added_to_are_told_where_digits_make_it_no_chance() {
        let read = [4.89, 5.94, 5.41, 5.93, 5.59, 5.39];
        let all = BTreeMap::from([(1, walls(&read)), (3, walls(&read.map(|w| w + 0.02)))]);
        let found = copies(&all, 0.01, |_, _| true);
        assert_eq!(found.len(), 1);
        assert!((found[0].offset_mm - 0.02).abs() < 1e-9 && found[0].rows == 6);
        // Told to half a millimetre any may do so.
        assert!(copies(&all, 0.5, |_, _| true).is_empty());
        let mut own = read.map(|w| w + 0.02);
        own[4] += 0.01;
        let all = BTreeMap::from([(1, walls(&read)), (3, walls(&own))]);
        assert!(copies(&all, 0.01, |_, _| true).is_empty());
    }

    #[test]
    fn only_places_that_both_have_are_compared() {
        let own = vec![(0, 4.0), (2, 5.0), (3, 6.0)];
        let other = vec![(1, 1.0), (2, 5.5), (3, 6.5), (4, 2.0)];
        assert_eq!(common(&own, &other).collect::<Vec<_>>(), vec![(5.0, 5.5), (6.0, 6.5)]);
    }
}
