//! Walls of a family's castings by cylinder, clock and depth: where they are thin.

use std::collections::BTreeMap;

use serde::Serialize;

use super::figures::Figures;
use super::spread::Spread;

/// How much of the clock a cell spans, degrees: gauges are set to a quarter or an eighth of a turn by eye.
pub(crate) const SECTOR_DEG: f64 = 45.0;
/// How much depth a cell spans, mm.
const BAND_MM: f64 = 25.0;

/// One place round a bore over all blocks, the thinnest reading of each.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct WallCell {
    /// The cylinder.
    pub cylinder: u32,
    /// The middle of its sector, degrees.
    pub clock: f64,
    /// Its depths, from and to, mm below the deck.
    pub depths: [f64; 2],
    /// The walls.
    pub wall: Spread,
}

/// Every place that was read, the thinnest to be expected first.
pub(super) fn cells(blocks: &[&Figures]) -> Vec<WallCell> {
    // Sectors and bands are not negative, so their bits sort as they do.
    type Key = (u32, u64, u64);
    let mut places: BTreeMap<Key, Vec<f64>> = BTreeMap::new();
    for block in blocks {
        let mut own: BTreeMap<Key, f64> = BTreeMap::new();
        for w in &block.walls {
            let sector = sector(w.clock).to_bits();
            let band = (w.depth / BAND_MM).floor().abs().to_bits();
            let least = own.entry((w.cylinder, sector, band)).or_insert(w.wall);
            *least = least.min(w.wall);
        }
        for (key, wall) in own {
            places.entry(key).or_default().push(wall);
        }
    }
    let cell = |((cylinder, sector, band), walls): (&Key, &Vec<f64>)| {
        let (sector, band) = (f64::from_bits(*sector), f64::from_bits(*band));
        Some(WallCell {
            cylinder: *cylinder,
            clock: sector,
            depths: [band * BAND_MM, (band + 1.0) * BAND_MM],
            wall: Spread::of(walls)?,
        })
    };
    let mut cells: Vec<WallCell> = places.iter().filter_map(cell).collect();
    cells.sort_by(|a, b| a.wall.feared().total_cmp(&b.wall.feared()));
    cells
}

/// The middle of the sector that a clock lies in.
pub(super) fn sector(clock: f64) -> f64 {
    (clock / SECTOR_DEG).round().rem_euclid(360.0 / SECTOR_DEG) * SECTOR_DEG
}
