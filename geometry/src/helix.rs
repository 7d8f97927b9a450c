//! A cutter's way down a cylinder: in by an arc, round and down in even turns, once round flat, out by an arc.

/// One step of the way: an arc anticlockwise seen from above, or a straight line where it has no centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArcTo {
    /// Where it ends: x, y, z, mm.
    pub end_mm: [f64; 3],
    /// Its centre from its start: i, j, mm; `None` is a straight line.
    pub centre_mm: Option<[f64; 2]>,
}

/// What the cutter's middle goes round.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Helix {
    /// Middle of the cylinder, mm.
    pub middle_mm: [f64; 2],
    /// Radius of the way of the cutter's middle, mm.
    pub path_radius_mm: f64,
    /// Height where it starts, mm.
    pub from_mm: f64,
    /// Height of the floor, mm.
    pub to_mm: f64,
    /// Most that one turn goes down, mm.
    pub step_down_mm: f64,
    /// The step in which the machine counts, mm: 0.001, or 0.00254 where it counts in inches.
    pub grid_mm: f64,
}

/// More turns than this no pocket has; a step that asks for them is mistyped.
const MOST_TURNS: f64 = 2000.0;

impl Helix {
    /// Where the way begins, beside the middle by less than a step of the grid, so that every arc ends on the grid:
    /// x, y, mm.
    ///
    /// With a middle and a path radius on whole steps every coordinate of the way is one, and every arc has the
    /// same radius at both ends.
    #[must_use]
    pub fn start_mm(&self) -> [f64; 2] {
        [self.middle_mm[0] + self.path_radius_mm - 2.0 * self.entry_mm(), self.middle_mm[1]]
    }

    /// Radius of the arcs in and out, mm.
    fn entry_mm(&self) -> f64 {
        (self.path_radius_mm / 2.0 / self.grid_mm).floor() * self.grid_mm
    }

    /// Turns down, each as deep as the others, in whole steps of the grid but the last; `None` where the step down
    /// is no step.
    #[must_use]
    pub fn turns(&self) -> Option<u32> {
        let turns = ((self.from_mm - self.to_mm) / self.step_down_mm - 1e-9).ceil().max(1.0);
        // A step of nothing gives infinity, and a floor above the start a negative number.
        (turns <= MOST_TURNS
            && self.step_down_mm > 0.0
            && self.from_mm > self.to_mm
            && self.path_radius_mm > 2.0 * self.grid_mm)
            .then(|| {
                let mut whole = 1;
                while f64::from(whole) < turns {
                    whole += 1;
                }
                whole
            })
    }

    /// The whole way, from [`Self::start_mm`] at the height `from_mm` back to it at the floor; `None` as for turns.
    ///
    /// Every turn is two half circles, since a full circle's end says nothing of its direction. The last turn is flat:
    /// it takes what the helix left on the floor.
    #[must_use]
    pub fn way(&self) -> Option<Vec<ArcTo>> {
        let turns = self.turns()?;
        let [x, y] = self.middle_mm;
        let (r, entry) = (self.path_radius_mm, self.entry_mm());
        let mut way = vec![ArcTo { end_mm: [x + r, y, self.from_mm], centre_mm: Some([entry, 0.0]) }];
        let halves = f64::from(turns) * 2.0;
        let height = |half: f64| {
            let down = (self.from_mm - self.to_mm) * half / halves;
            ((self.from_mm - down) / self.grid_mm).round() * self.grid_mm
        };
        for turn in 0..=turns {
            let flat = turn == turns;
            for half in [1.0, 2.0] {
                let z = if flat { self.to_mm } else { height(f64::from(turn) * 2.0 + half) };
                let side = if half < 1.5 { -r } else { r };
                way.push(ArcTo {
                    end_mm: [x + side, y, z],
                    centre_mm: Some([if half < 1.5 { -r } else { r }, 0.0]),
                });
            }
        }
        way.push(ArcTo { end_mm: [x + r - 2.0 * entry, y, self.to_mm], centre_mm: Some([-entry, 0.0]) });
        Some(way)
    }

    /// Length of the way, mm: arcs in and out, turns with their slope.
    #[must_use]
    pub fn length_mm(&self) -> f64 {
        let round = std::f64::consts::TAU * self.path_radius_mm;
        let turns = self.turns().map_or(0.0, f64::from);
        let pitch = if turns > 0.0 { (self.from_mm - self.to_mm) / turns } else { 0.0 };
        turns * round.hypot(pitch) + round + std::f64::consts::TAU * self.entry_mm()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn helix() -> Helix {
        Helix {
            middle_mm: [46.123, -0.077],
            path_radius_mm: 37.535,
            from_mm: 0.5,
            to_mm: -7.965,
            step_down_mm: 2.0,
            grid_mm: 0.001,
        }
    }

    #[test]
    fn every_arc_has_one_radius_and_the_way_comes_back_to_its_start() {
        let h = helix();
        let way = h.way().expect("a way");
        let start = h.start_mm();
        assert!((start[0] - h.middle_mm[0]).abs() < 0.001_1);
        let mut at = [start[0], start[1], h.from_mm];
        let mut angle = 0.0_f64;
        for step in &way {
            let [i, j] = step.centre_mm.expect("an arc");
            let centre = [at[0] + i, at[1] + j];
            let [from, to] = [at, step.end_mm].map(|p| [p[0] - centre[0], p[1] - centre[1]]);
            assert!((from[0].hypot(from[1]) - to[0].hypot(to[1])).abs() < 1e-9, "{step:?}");
            for v in step.end_mm {
                assert!((v * 1000.0 - (v * 1000.0).round()).abs() < 1e-6, "on a thousandth: {v}");
            }
            assert!(step.end_mm[2] <= at[2], "never up");
            angle += 180.0;
            at = step.end_mm;
        }
        assert_eq!([at[0], at[1]], start);
        assert_eq!(at[2], h.to_mm);
        // Five turns down of 2 mm at most, one flat, half a turn in and half out.
        assert_eq!(h.turns(), Some(5));
        assert!((angle - 360.0 * 7.0).abs() < 1e-9);
    }

    #[test]
    fn its_length_is_that_of_its_polygon() {
        let h = helix();
        let mut at = [h.start_mm()[0], h.start_mm()[1], h.from_mm];
        let mut length = 0.0;
        for step in h.way().expect("a way") {
            let [i, j] = step.centre_mm.expect("an arc");
            let centre = [at[0] + i, at[1] + j];
            let radius = i.hypot(j);
            let begin = (at[1] - centre[1]).atan2(at[0] - centre[0]);
            let mut last = at;
            for k in 1..=2000 {
                let share = f64::from(k) / 2000.0;
                let angle = begin + std::f64::consts::PI * share;
                let p = [
                    centre[0] + radius * angle.cos(),
                    centre[1] + radius * angle.sin(),
                    at[2] + (step.end_mm[2] - at[2]) * share,
                ];
                length +=
                    ((p[0] - last[0]).powi(2) + (p[1] - last[1]).powi(2) + (p[2] - last[2]).powi(2)).sqrt();
                last = p;
            }
            at = step.end_mm;
        }
        assert!((length - h.length_mm()).abs() < 0.01, "{length} {}", h.length_mm());
    }

    #[test]
    fn a_step_of_nothing_has_no_way() {
        for broken in [
            Helix { step_down_mm: 0.0, ..helix() },
            Helix { step_down_mm: 1e-9, ..helix() },
            Helix { step_down_mm: f64::NAN, ..helix() },
            Helix { to_mm: 3.0, ..helix() },
            Helix { path_radius_mm: 0.0, ..helix() },
        ] {
            assert!(broken.way().is_none(), "{broken:?}");
        }
    }
}
