//! y of the bores of a table, reading by reading.

use std::collections::{BTreeMap, BTreeSet};

use crate::job::{SetUp, Surface};

/// Depths at which one bore's figures differ, read in one round: a line that leans is no two bores' own.
const DEPTHS: usize = 3;

/// A depth by its bits, a surface, a set.
pub(super) type Place<'a> = (u64, Surface, Option<&'a str>);

/// Whether a bore's y differs from depth to depth, read in one round of one surface.
pub(super) fn differs(own: &BTreeMap<Place<'_>, u64>) -> bool {
    let mut rounds: BTreeMap<(Surface, Option<&str>), BTreeSet<u64>> = BTreeMap::new();
    for ((_, surface, set), y) in own {
        rounds.entry((*surface, *set)).or_default().insert(*y);
    }
    rounds.values().any(|ys| ys.len() >= DEPTHS)
}

/// y of each bore of a set-up by place, bit by bit.
pub(super) fn ys(set_up: &SetUp) -> BTreeMap<u32, BTreeMap<Place<'_>, u64>> {
    let mut bores: BTreeMap<u32, BTreeMap<Place<'_>, u64>> = BTreeMap::new();
    for b in &set_up.bores {
        let place = (b.depth_mm.to_bits(), b.surface, b.set.as_deref());
        bores.entry(b.cylinder).or_default().insert(place, b.centre_mm[1].to_bits());
    }
    bores
}
