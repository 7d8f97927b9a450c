//! Limits and instruments.

use std::collections::BTreeMap;

/// One limit: what decides and, where given, what is preferred, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Decides.
    pub least_mm: f64,
    /// A value under it is a hold.
    pub prefer_mm: Option<f64>,
}

/// The least wall behind a pocket that dry sleeves are fitted in, mm; a shop that fits them in less says so in its own file. Common
/// practice, no source.
pub(crate) const FITTED_WALL_MM: f64 = 2.0;

/// The key of the stock that is left to cut all round.
pub const CLEAN_UP: &str = "clean_up";
/// The key of the wall left in the casting.
pub const PARENT_WALL: &str = "parent_wall";
/// The key of the same near the major thrust side.
pub const PARENT_WALL_THRUST: &str = "parent_wall_thrust";
/// The key of the metal to a stud.
pub const STUD_WALL: &str = "stud_wall";
/// The key of the metal to a coolant hole.
pub const COOLANT_HOLE: &str = "coolant_hole";
/// The key of the flange outside a fire ring.
pub const FIRE_RING_COVER: &str = "fire_ring_cover";
/// The key of the bore inside one.
pub const FIRE_RING_BORE: &str = "fire_ring_bore";
/// The key of the metal between neighbouring pockets.
pub const BRIDGE: &str = "bridge";
/// The key of the gap between neighbouring flanges.
pub const FLANGE_GAP: &str = "flange_gap";
/// The key of a round position zone.
pub const POSITION: &str = "position";
/// The key of the zone across the bank, in place of a round one.
pub const POSITION_ACROSS: &str = "position.across";
/// The key of the zone along the bank.
pub const POSITION_ALONG: &str = "position.along";
/// The key of the lean of a bank from the spindle.
pub const SQUARENESS: &str = "squareness";

/// The limits by their key; one left out is not applied.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Limits(BTreeMap<&'static str, Limit>);

impl Limits {
    /// A limit, where it is stated.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<Limit> {
        self.0.get(name).copied()
    }

    /// States a limit, or takes it away.
    pub fn set(&mut self, name: &'static str, limit: Option<Limit>) {
        match limit {
            Some(limit) => self.0.insert(name, limit),
            None => self.0.remove(name),
        };
    }

    /// Whether any position zone is set.
    #[must_use]
    pub fn states_position(&self) -> bool {
        [POSITION, POSITION_ACROSS, POSITION_ALONG].iter().any(|zone| self.0.contains_key(zone))
    }

    /// These limits, with those of `others` that they do not state, such as a job's before its shop's. A stated
    /// position replaces every zone of the others, round or parallel.
    #[must_use]
    pub fn before(self, mut others: Self) -> Self {
        if self.states_position() {
            others.0.retain(|name, _| ![POSITION, POSITION_ACROSS, POSITION_ALONG].contains(name));
        }
        others.0.extend(self.0);
        others
    }
}

/// Standard uncertainties, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instruments {
    /// One coordinate of a bore centre.
    pub centre_mm: f64,
    /// A diameter.
    pub diameter_mm: f64,
    /// A wall reading.
    pub wall_mm: f64,
    /// The journal axis in a set-up, across.
    pub axis_mm: f64,
    /// The along datum.
    pub along_mm: f64,
    /// Where the machine bores against where it was told to.
    pub machine_mm: f64,
    /// One point on the deck.
    pub deck_mm: f64,
    /// How a bore read at one depth may lean, mm per mm.
    pub lean: f64,
}

/// What is known to no worse than this in all was worked out, and not read, mm.
pub const EXACT_MM: f64 = 0.000_2;

impl Instruments {
    /// Whether every figure is said to be exact: a sum that was set as a job, such as a check of this program.
    #[must_use]
    pub fn are_exact(&self) -> bool {
        let all =
            [self.centre_mm, self.diameter_mm, self.wall_mm, self.axis_mm, self.along_mm, self.machine_mm];
        all.iter().all(|u| *u <= EXACT_MM)
    }
}

/// How a bore read at one depth may lean, mm per mm, where a job does not say. Common practice, no source.
pub const LEAN: f64 = 1e-4;
