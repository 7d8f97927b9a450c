//! Places where walls were read, so that one is found among many without looking at all of them.

use borewright_geometry::clock::clocks_apart_deg;

use std::collections::BTreeMap;

use super::custom::SAME_DEPTH_MM;
use crate::job::Job;

/// Clocks of two rows are one place within this, degrees.
const SAME_CLOCK_DEG: f64 = 2.0;

/// Cells are a hair larger than a place, so that whatever is one with it lies in its own cell or beside it.
const CELL_MM: f64 = SAME_DEPTH_MM + 0.001;
const CELLS_ROUND: u16 = 179;

/// Depth of a row, mm, and its clock, degrees from 0 to 360.
type Place = [f64; 2];

/// The walls of every cylinder by where they were read, whether a figure came of it or not.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct WallPlaces {
    by_depth: BTreeMap<u32, Vec<Place>>,
    cells: BTreeMap<(u32, Cell), Vec<Place>>,
}

/// A step of depth and a step of the clock.
type Cell = (i32, u16);

impl WallPlaces {
    /// Every place of a job where a wall was read or looked for.
    pub(super) fn of(job: &Job) -> Self {
        let mut places = Self::default();
        for wall in job.set_ups.iter().flat_map(|s| &s.walls) {
            let place = [wall.depth_mm, wall.clock_deg.rem_euclid(360.0)];
            places.by_depth.entry(wall.cylinder).or_default().push(place);
        }
        for (cylinder, own) in &mut places.by_depth {
            own.sort_by(|a, b| a[0].total_cmp(&b[0]).then(a[1].total_cmp(&b[1])));
            own.dedup();
            for place in own {
                places.cells.entry((*cylinder, cell(*place))).or_default().push(*place);
            }
        }
        places
    }

    /// Whether a cylinder's wall was read at a place, degrees of any turn.
    pub(crate) fn read_at(&self, cylinder: u32, depth_mm: f64, clock_deg: f64) -> bool {
        let clock_deg = clock_deg.rem_euclid(360.0);
        let (deep, round) = cell([depth_mm, clock_deg]);
        (-1..=1).any(|down| {
            [CELLS_ROUND - 1, 0, 1].into_iter().any(|on| {
                let beside = (deep.saturating_add(down), (round + on) % CELLS_ROUND);
                let there = self.cells.get(&(cylinder, beside));
                there.is_some_and(|there| there.iter().any(|p| same(*p, [depth_mm, clock_deg])))
            })
        })
    }

    /// The clocks at which a cylinder's wall was read at a depth, degrees.
    pub(crate) fn clocks_at(&self, cylinder: u32, depth_mm: f64) -> impl Iterator<Item = f64> {
        let own = self.by_depth.get(&cylinder).map(Vec::as_slice).unwrap_or_default();
        // A row more on either side, and each held against the depth itself: the sum below may round.
        let from = own.partition_point(|p| p[0] < depth_mm - CELL_MM);
        let within = own[from..].iter().take_while(move |p| p[0] <= depth_mm + CELL_MM);
        within.filter(move |p| (p[0] - depth_mm).abs() <= SAME_DEPTH_MM).map(|p| p[1])
    }
}

fn same([depth, clock]: Place, [other_depth, other_clock]: Place) -> bool {
    (depth - other_depth).abs() <= SAME_DEPTH_MM && clocks_apart_deg(clock, other_clock) <= SAME_CLOCK_DEG
}

#[expect(
    clippy::cast_possible_truncation,
    clippy::cast_sign_loss,
    reason = "checked readings: a depth is some hundreds of mm, and the clock is less than a turn"
)]
fn cell([depth_mm, clock_deg]: Place) -> Cell {
    let round = (clock_deg / 360.0 * f64::from(CELLS_ROUND)).floor() as u16;
    ((depth_mm / CELL_MM).floor() as i32, round.min(CELLS_ROUND - 1))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_is_found_as_if_all_rows_had_been_looked_at() {
        // A raster that meets the edges of cells, and the turn of the clock.
        let rows: Vec<Place> = (0..400)
            .map(|i| {
                [f64::from(i % 20) * 3.3, (f64::from(i / 20) * 17.9 + f64::from(i % 3)).rem_euclid(360.0)]
            })
            .collect();
        let mut places = WallPlaces::default();
        for row in &rows {
            places.by_depth.entry(3).or_default().push(*row);
            places.cells.entry((3, cell(*row))).or_default().push(*row);
        }
        let mut hits = 0;
        for depth in 0..140 {
            for clock in -10..370 {
                let at = [f64::from(depth) * 0.5, f64::from(clock)];
                let looked = rows.iter().any(|row| same(*row, [at[0], at[1].rem_euclid(360.0)]));
                assert_eq!(places.read_at(3, at[0], at[1]), looked, "{at:?}");
                assert!(!places.read_at(1, at[0], at[1]));
                hits += u32::from(looked);
            }
        }
        assert!(hits > 1000 && hits < 50_000, "{hits}");
    }
}
