//! A bore's walls beside those of its bank's other bores, place by place.

use std::collections::BTreeMap;

use crate::job::{SetUp, Surface};
use borewright_geometry::sample::median;

/// Fewer places may differ so by chance.
const FEWEST: usize = 4;
/// Least number of other bores that a bore's walls are held against.
const OTHERS: usize = 2;

/// Depth, clock and surface of a wall, to the last bit.
type Place = (u64, u64, Surface);

/// One wall of a bore, and the middle one of the other bores' at its place, mm.
pub(super) struct Beside {
    pub(super) depth_mm: f64,
    pub(super) own_mm: f64,
    pub(super) others_mm: f64,
}

/// Each bore of a set-up with its walls and the median of the other bores' at the same places, mm, of the walls that count; bores with too
/// few such places are left out.
pub(super) fn beside_others(set_up: &SetUp, counts: impl Fn(f64) -> bool) -> Vec<(u32, Vec<Beside>)> {
    let mut bores: BTreeMap<u32, BTreeMap<Place, f64>> = BTreeMap::new();
    for wall in &set_up.walls {
        let Some(read) = wall.wall_mm.filter(|read| counts(*read)) else { continue };
        let place = (wall.depth_mm.to_bits(), wall.clock_deg.rem_euclid(360.0).to_bits(), wall.surface);
        bores.entry(wall.cylinder).or_default().insert(place, read);
    }
    let of_bore = |(n, own): (&u32, &BTreeMap<Place, f64>)| {
        let at = own.iter().filter_map(|(place, read)| {
            let others = bores.iter().filter(|(m, _)| *m != n).filter_map(|(_, walls)| walls.get(place));
            let others: Vec<f64> = others.copied().collect();
            (others.len() >= OTHERS).then(|| Beside {
                depth_mm: f64::from_bits(place.0),
                own_mm: *read,
                others_mm: median(others),
            })
        });
        let at: Vec<Beside> = at.collect();
        (at.len() >= FEWEST).then_some((*n, at))
    };
    bores.iter().filter_map(of_bore).collect()
}
