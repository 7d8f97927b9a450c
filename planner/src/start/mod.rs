//! The places to read on a block that just came in, set-up by set-up: those usually read, or those of the last
//! block of its family.

use borewright_geometry::clock::clocks_apart_deg;

use crate::family::SECTOR_DEG;
use crate::job::{Front, Job, ReadingFrame, SetUp};
use crate::plan::prior::WallPrior;

/// Depths of circles and of walls where nobody read the family before, as shares of the bore's length: below the ring
/// travel, the middle and the lower end; common practice, no source.
const CIRCLES: [f64; 3] = [0.15, 0.5, 0.9];
const WALLS: [f64; 2] = [0.5, 0.85];
/// The four quarters of the clock, common practice.
const QUARTERS: [f64; 4] = [0.0, 90.0, 180.0, 270.0];

/// Where a circle, or a point of one, is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CirclePlace {
    /// The cylinder.
    pub cylinder: u32,
    /// Below the deck, mm.
    pub depth_mm: f64,
}

/// Where a wall is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WallPlace {
    /// The cylinder.
    pub cylinder: u32,
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// Round the bore, degrees.
    pub clock_deg: f64,
}

/// Where a liner's height is read.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeightPlace {
    /// The cylinder.
    pub cylinder: u32,
    /// Round the bore, degrees.
    pub clock_deg: f64,
}

/// A wall, and how badly it is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ByNeed<'p> {
    /// Where it is read.
    pub wall: WallPlace,
    /// The place of its family that says that it is thin.
    pub thin: Option<&'p WallPrior>,
}

/// A set-up to read, mm and degrees.
#[derive(Debug, Clone, PartialEq)]
pub struct ToRead {
    /// Its name.
    pub set_up: String,
    /// The bank that faces up.
    pub bank: String,
    /// Whether it is read off the machine's scales, and which way round the block then stands.
    pub machine: Option<Front>,
    /// Mains whose middle on the axis is read, front to rear.
    pub axis: Vec<String>,
    /// Mains of which raw points are read, one a point.
    pub mains: Vec<String>,
    /// Points on the deck.
    pub deck: usize,
    /// Circles.
    pub bores: Vec<CirclePlace>,
    /// Circles to be read as raw points, one a point.
    pub points: Vec<CirclePlace>,
    /// Walls.
    pub walls: Vec<WallPlace>,
    /// Liner heights.
    pub heights: Vec<HeightPlace>,
}

impl ToRead {
    /// A bank as it is usually read, in its own frame; depths are whole steps.
    #[must_use]
    pub fn usual(bank: &str, cylinders: &[u32], bore_length_mm: f64, step_mm: f64) -> Self {
        let at = |share: f64| (share * bore_length_mm / step_mm).round() * step_mm;
        let circle = |cylinder, share| CirclePlace { cylinder, depth_mm: at(share) };
        let circles = cylinders.iter().flat_map(|c| CIRCLES.map(|share| circle(*c, share)));
        let one = |cylinder, share, clock_deg| WallPlace { cylinder, depth_mm: at(share), clock_deg };
        let wall =
            |c: u32| WALLS.into_iter().flat_map(move |share| QUARTERS.map(|clock| one(c, share, clock)));
        Self {
            set_up: format!("{bank} deck up"),
            bank: bank.to_owned(),
            machine: None,
            axis: Vec::new(),
            mains: Vec::new(),
            deck: 0,
            bores: circles.collect(),
            points: Vec::new(),
            walls: cylinders.iter().flat_map(|c| wall(*c)).collect(),
            heights: Vec::new(),
        }
    }

    /// What an earlier job read, each place once, a further round left out; and every place where its family is thin.
    #[must_use]
    pub fn as_before(job: &Job, thin: &[WallPrior]) -> Vec<Self> {
        let mut all: Vec<Self> = Vec::new();
        for set_up in &job.set_ups {
            let own = Self::of(job, set_up, thin);
            // A second set-up of a bank was another round of the same.
            if !all.iter().any(|kept| kept.bank == own.bank) {
                all.push(own);
            }
        }
        all
    }

    /// What is to be read in a set-up like this one: each of its places once, of its first round, and besides the
    /// walls in `thin` of its bank that it lacks.
    fn of(job: &Job, set_up: &SetUp, thin: &[WallPrior]) -> Self {
        let (machine, axis, mains, deck) = match &set_up.frame {
            ReadingFrame::Journal => (None, Vec::new(), Vec::new(), 0),
            ReadingFrame::Machine(read) => {
                let names = |of: &[crate::job::AxisReading]| of.iter().map(|a| a.main.to_string()).collect();
                let mut axis: Vec<String> = names(&read.axis);
                axis.dedup();
                (Some(set_up.front), axis, names(&read.mains), read.deck_mm.len())
            }
        };
        let round = set_up.bores.first().and_then(|b| b.set.clone());
        let first = set_up.points.first().and_then(|p| p.set.clone());
        let mut own = Self {
            set_up: set_up.name.clone(),
            bank: job.bank(set_up.bank).name.clone(),
            machine,
            axis,
            mains,
            deck,
            bores: once(
                set_up
                    .bores
                    .iter()
                    .filter(|b| b.set == round)
                    .map(|b| CirclePlace { cylinder: b.cylinder, depth_mm: b.depth_mm }),
            ),
            points: set_up
                .points
                .iter()
                .filter(|p| p.set == first)
                .map(|p| CirclePlace { cylinder: p.cylinder, depth_mm: p.depth_mm })
                .collect(),
            walls: once(set_up.walls.iter().map(|w| WallPlace {
                cylinder: w.cylinder,
                depth_mm: w.depth_mm,
                clock_deg: w.clock_deg.rem_euclid(360.0),
            })),
            heights: once(
                set_up.heights.iter().map(|h| HeightPlace { cylinder: h.cylinder, clock_deg: h.clock_deg }),
            ),
        };
        let of_bank = |n: u32| job.site(n).is_some_and(|(bank, _)| bank == set_up.bank);
        for place in thin.iter().filter(|place| of_bank(place.cylinder)) {
            if !own.walls.iter().any(|wall| is_at(place, *wall)) {
                let middle = f64::midpoint(place.depths[0], place.depths[1]);
                own.walls.push(WallPlace {
                    cylinder: place.cylinder,
                    depth_mm: middle.min(job.block.parent.bore_length_mm),
                    clock_deg: place.clock,
                });
            }
        }
        own
    }

    /// The set-up's walls, those first where the family is thin; each with the place that says so.
    #[must_use]
    pub fn walls_by_need<'p>(&self, thin: &'p [WallPrior]) -> Vec<ByNeed<'p>> {
        let mut walls: Vec<_> = self
            .walls
            .iter()
            .map(|wall| {
                let found = thin.iter().position(|place| is_at(place, *wall));
                let thin = found.and_then(|at| thin.get(at));
                (found.unwrap_or(usize::MAX), ByNeed { wall: *wall, thin })
            })
            .collect();
        walls.sort_by_key(|(need, _)| *need);
        walls.into_iter().map(|(_, wall)| wall).collect()
    }
}

fn is_at(place: &WallPrior, wall: WallPlace) -> bool {
    place.cylinder == wall.cylinder
        && clocks_apart_deg(place.clock, wall.clock_deg) <= SECTOR_DEG / 2.0
        && (place.depths[0]..place.depths[1]).contains(&wall.depth_mm)
}

fn once<T: PartialEq>(all: impl Iterator<Item = T>) -> Vec<T> {
    let mut kept = Vec::new();
    for one in all {
        if !kept.contains(&one) {
            kept.push(one);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::prior::Spread;

    fn thin(cylinder: u32, clock: f64, depths: [f64; 2]) -> WallPrior {
        let wall = Spread::of(&[3.0, 3.1, 3.2, 3.3]).unwrap();
        WallPrior { cylinder, clock, depths, wall, here: None }
    }

    #[test]
    fn a_bank_is_read_at_the_usual_places() {
        let bank = ToRead::usual("left", &[1, 3], 140.0, 5.0);
        // 0.15, 0.5 and 0.9 of 140, to 5 mm.
        let circle = |depth_mm| CirclePlace { cylinder: 1, depth_mm };
        assert_eq!(bank.bores[..3], [20.0, 70.0, 125.0].map(circle));
        assert_eq!((bank.bores.len(), bank.walls.len()), (6, 16));
        assert_eq!(bank.walls[5], WallPlace { cylinder: 1, depth_mm: 120.0, clock_deg: 90.0 });
    }

    #[test]
    fn thin_walls_come_first() {
        let bank = ToRead::usual("left", &[1, 3], 140.0, 5.0);
        let places = [thin(3, 270.0, [100.0, 125.0]), thin(1, 0.0, [50.0, 75.0])];
        let walls = bank.walls_by_need(&places);
        let wall = |cylinder, depth_mm, clock_deg| WallPlace { cylinder, depth_mm, clock_deg };
        assert_eq!(walls[0], ByNeed { wall: wall(3, 120.0, 270.0), thin: Some(&places[0]) });
        assert_eq!(walls[1], ByNeed { wall: wall(1, 70.0, 0.0), thin: Some(&places[1]) });
        assert_eq!((walls[2], walls.len()), (ByNeed { wall: wall(1, 70.0, 90.0), thin: None }, 16));
    }
}
