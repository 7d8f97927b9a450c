//! Clocks of walls that put what could not be read elsewhere than towards the neighbouring bore.

use crate::survey::suspect::Code;
use std::collections::{BTreeMap, BTreeSet};

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::WallReading;
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::say;
use borewright_geometry::sample::count;

/// A clock this near a neighbour's side looks towards that bore, degrees: half of eight places round.
const SIDE_DEG: f64 = 22.5;

/// Places not read that are nearer to each other than this are one patch of the casting, and no two bridges, degrees.
/// Common practice, no source.
const PATCH_DEG: f64 = 60.0;

/// A raster of six clocks has none nearer to the sides of the bank than half of its step, degrees.
const SIX_DEG: f64 = 30.0;

/// Two bridges of a bore are opposite each other to within this, degrees: places are 45 apart or less.
const OPPOSITE_DEG: f64 = 30.0;

/// Bores that must be odd in the same way: one may have a flaw or a boss. A bore between two others with two opposite places
/// unread is enough of itself.
const FEWEST: usize = 2;

/// Another way to count clocks: where a true clock was written, degrees added.
struct Turn {
    added_deg: [f64; 2],
    likely: &'static str,
}

const TURNS: [Turn; 2] = [
    Turn {
        added_deg: [90.0, 270.0],
        likely: "clocks counted from the side of the bank in place of the rear: so what was not read lies between the bores",
    },
    Turn {
        added_deg: [180.0, 180.0],
        likely: "clocks counted from the front in place of the rear, or cylinders from the other end: so what was not read lies between the bores",
    },
];

/// One bore at one depth.
#[derive(Default)]
struct Ring {
    /// Clocks with a wall, degrees.
    read: Vec<f64>,
    /// Clocks that could not be read, degrees.
    unread: Vec<f64>,
}

/// Asks about each bank whose walls were read towards the next bores and not across from them, where another way to
/// count puts that right in two bores of the block.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let banks = 0..asked.job.block.banks.len();
    // A bore between two others that was read towards both shows that bridges can be read here.
    let odd = |bank| if bridges_read(asked, bank) { BTreeMap::new() } else { odd_rings(asked, bank) };
    let odd: Vec<BTreeMap<u32, Vec<Odd>>> = banks.map(odd).collect();
    let mut found = Vec::new();
    for turn in &TURNS {
        let of: Vec<Vec<u32>> = odd.iter().map(|rings| put_right(rings, turn)).collect();
        let between = |bank: usize, n: &u32| {
            let rings = odd.get(bank).and_then(|rings| rings.get(n));
            rings.is_some_and(|own| own.iter().any(|ring| ring.sides.len() == 2 && ring.unread.len() == 2))
        };
        let told = of.iter().enumerate().any(|(bank, of)| of.iter().any(|n| between(bank, n)));
        if of.iter().map(Vec::len).sum::<usize>() < FEWEST && !told {
            continue;
        }
        found.extend(
            of.iter()
                .enumerate()
                .filter(|(_, of)| !of.is_empty())
                .map(|(bank, of)| asks(asked, bank, of, turn)),
        );
        // A bank is asked about once.
        break;
    }
    found
}

/// An odd ring: the sides of its neighbours and the clocks that could not be read, degrees.
struct Odd {
    sides: Vec<f64>,
    unread: Vec<f64>,
}

/// The rings of a bank by bore and depth.
fn rings(asked: &Asked<'_>, bank: usize) -> BTreeMap<(u32, u64), Ring> {
    let mut rings: BTreeMap<(u32, u64), Ring> = BTreeMap::new();
    let walls = asked.job.set_ups.iter().filter(|s| s.bank == bank).flat_map(|s| &s.walls);
    for WallReading { cylinder, depth_mm, clock_deg, wall_mm, .. } in walls {
        let ring = rings.entry((*cylinder, depth_mm.to_bits())).or_default();
        let clock = clock_deg.rem_euclid(360.0);
        if wall_mm.is_some() { ring.read.push(clock) } else { ring.unread.push(clock) }
    }
    rings
}

/// Whether the bores between two others were read all round at every depth, and so towards both.
fn bridges_read(asked: &Asked<'_>, bank: usize) -> bool {
    let sites = &asked.job.bank(bank).sites;
    let inner = sites.get(1..sites.len().saturating_sub(1)).unwrap_or_default();
    let rings = rings(asked, bank);
    let mut own = rings
        .iter()
        .filter(|((n, _), _)| inner.iter().any(|site| site.cylinder == *n))
        .map(|(_, ring)| ring)
        .peekable();
    own.peek().is_some() && own.all(is_read_round)
}

/// Whether a ring was read all round: nowhere not, towards both neighbours, and on both sides of the bank as near as its raster has
/// clocks there.
fn is_read_round(ring: &Ring) -> bool {
    let towards = |side: f64, within: f64| ring.read.iter().any(|clock| apart(*clock, side) <= within);
    let six = ring.read.len() == 6
        && ring.read.iter().all(|a| ring.read.iter().all(|b| a == b || apart(*a, *b) >= 2.0 * SIX_DEG - 1.0));
    let aside = if six { SIX_DEG + 1.0 } else { SIDE_DEG };
    ring.unread.is_empty()
        && [0.0, 180.0].into_iter().all(|side| towards(side, SIDE_DEG))
        && [90.0, 270.0].into_iter().all(|side| towards(side, aside))
}

/// The odd rings of a bank by their bore.
fn odd_rings(asked: &Asked<'_>, bank: usize) -> BTreeMap<u32, Vec<Odd>> {
    let sites = &asked.job.bank(bank).sites;
    let mut odd: BTreeMap<u32, Vec<Odd>> = BTreeMap::new();
    for ((cylinder, _), ring) in rings(asked, bank) {
        let Some(at) = sites.iter().position(|s| s.cylinder == cylinder) else { continue };
        let sides = [(at + 1 < sites.len(), 0.0), (at > 0, 180.0)];
        let sides: Vec<f64> = sides.into_iter().filter(|(beside, _)| *beside).map(|(_, side)| side).collect();
        if is_odd(&ring, &sides) {
            odd.entry(cylinder).or_default().push(Odd { sides, unread: ring.unread });
        }
    }
    odd
}

/// Whether all clocks towards the neighbours were read, one at least, and of the others one was not, or two opposite
/// each other: as bridges are, where a flaw, a boss or a gauge that fails is not.
fn is_odd(ring: &Ring, sides: &[f64]) -> bool {
    let beside = |clock: &f64| sides.iter().any(|side| apart(*clock, *side) <= SIDE_DEG);
    let lone = match ring.unread.as_slice() {
        [_] => true,
        [a, b] => apart(*a, *b) > PATCH_DEG && (apart(*a, *b) - 180.0).abs() <= OPPOSITE_DEG,
        _ => false,
    };
    lone && ring.read.iter().any(beside) && !ring.unread.iter().any(beside)
}

/// The bores whose odd rings all have something unread on every neighbour's side once the clocks are counted so; none
/// where one of the bank's odd rings has not.
fn put_right(odd: &BTreeMap<u32, Vec<Odd>>, turn: &Turn) -> Vec<u32> {
    let right = |ring: &Odd, added: f64| {
        ring.sides.iter().all(|side| ring.unread.iter().any(|clock| apart(*clock - added, *side) <= SIDE_DEG))
    };
    let all = turn.added_deg.iter().any(|added| odd.values().flatten().all(|ring| right(ring, *added)));
    if all { odd.keys().copied().collect() } else { Vec::new() }
}

/// How far two clocks are apart round the circle, degrees.
fn apart(a: f64, b: f64) -> f64 {
    let off = (a - b).rem_euclid(360.0);
    off.min(360.0 - off)
}

fn asks(asked: &Asked<'_>, bank: usize, odd: &[u32], turn: &Turn) -> Suspicion {
    let name = &asked.job.bank(bank).name;
    let walls = asked.job.set_ups.iter().filter(|s| s.bank == bank).flat_map(|s| &s.walls);
    let cylinders: BTreeSet<u32> = walls.map(|w| w.cylinder).collect();
    Suspicion {
        code: Code::ClocksMirrored,
        verdict: Verdict::Hold,
        subject: Subject::bank(name),
        found: say!(
            "`nr` stands across from the next bores in the walls of {}, and towards them walls were read: where bores touch it is the other way",
            cylinder_words(odd)
        ),
        likely: turn.likely.into(),
        ask: say!(
            "from which side, and which way round, were the clocks of the bank {name} counted, and its cylinders from which end? 0 is the rear, seen from outside the deck towards +Y; the first cylinder is the front's"
        ),
        evidence: figures([("bores", count(odd.len()))]),
        cylinders: cylinders.into_iter().collect(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ring(unread: &[f64]) -> Ring {
        let all = (0..8).map(|i| 45.0 * f64::from(i));
        Ring { read: all.filter(|c| !unread.contains(c)).collect(), unread: unread.to_vec() }
    }

    #[test]
    fn a_ring_is_odd_where_bridges_were_read_and_something_like_them_was_not() {
        let between = [0.0, 180.0];
        assert!(is_odd(&ring(&[90.0, 270.0]), &between) && is_odd(&ring(&[90.0]), &between));
        assert!(!is_odd(&ring(&[0.0, 180.0]), &between) && !is_odd(&ring(&[0.0, 90.0]), &between));
        // Patches of rust and gauges that fail.
        assert!(!is_odd(&ring(&[45.0, 90.0]), &between) && !is_odd(&ring(&[45.0, 135.0]), &between));
        assert!(!is_odd(&ring(&[45.0, 135.0, 270.0]), &between) && !is_odd(&ring(&[]), &between));
        // The first bore has its neighbour behind, the last before it.
        assert!(is_odd(&ring(&[180.0]), &[0.0]) && !is_odd(&ring(&[180.0]), &[180.0]));
        assert!(!is_odd(&ring(&[180.0]), &[]));
    }

    #[test]
    fn a_ring_of_six_is_read_round_and_one_with_a_clock_left_out_is_not() {
        let of = |step: f64, n: u32| Ring {
            read: (0..n).map(|i| step * f64::from(i)).collect(),
            unread: Vec::new(),
        };
        assert!(is_read_round(&of(60.0, 6)) && is_read_round(&of(45.0, 8)) && is_read_round(&of(90.0, 4)));
        assert!(!is_read_round(&of(180.0, 2)) && !is_read_round(&ring(&[90.0])));
        let mut five = of(60.0, 6);
        five.read.retain(|clock| *clock != 60.0);
        let mut eight = of(45.0, 8);
        eight.read.retain(|clock| *clock != 90.0);
        assert!(!is_read_round(&five) && !is_read_round(&eight));
    }

    #[test]
    fn a_boss_in_every_bore_on_one_side_is_no_way_to_count() {
        let one =
            |sides: &[f64], unread: &[f64]| vec![Odd { sides: sides.to_vec(), unread: unread.to_vec() }];
        let boss = BTreeMap::from([
            (1, one(&[0.0], &[90.0])),
            (3, one(&[0.0, 180.0], &[90.0])),
            (5, one(&[180.0], &[90.0])),
        ]);
        assert!(TURNS.iter().all(|turn| put_right(&boss, turn).is_empty()));
        let turned = BTreeMap::from([
            (1, one(&[0.0], &[90.0])),
            (3, one(&[0.0, 180.0], &[90.0, 270.0])),
            (5, one(&[180.0], &[270.0])),
        ]);
        assert_eq!(put_right(&turned, &TURNS[0]), [1, 3, 5]);
        assert!(put_right(&turned, &TURNS[1]).is_empty());
    }
}
