//! Limits and instruments.

/// One limit: what decides and, where given, what is preferred, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Decides.
    pub least_mm: f64,
    /// A value under it is a hold.
    pub prefer_mm: Option<f64>,
}

/// The limits; one left out is not applied.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Limits {
    /// Diameter of the position zone about the true position.
    pub position: Option<Limit>,
    /// Width of the zone across the bank about the true position, in place of a round one.
    pub position_across: Option<Limit>,
    /// The same along the bank.
    pub position_along: Option<Limit>,
    /// Least radial stock all round.
    pub clean_up: Option<Limit>,
    /// Least wall left in the parent metal.
    pub parent_wall: Option<Limit>,
    /// The same within 45 degrees of the major thrust side.
    pub parent_wall_thrust: Option<Limit>,
    /// Between neighbouring pockets below the flange.
    pub bridge: Option<Limit>,
    /// Between neighbouring flange pockets.
    pub flange_gap: Option<Limit>,
    /// Pocket to stud hole.
    pub stud_wall: Option<Limit>,
    /// Pocket to coolant hole.
    pub coolant_hole: Option<Limit>,
    /// Flange beyond the outside of the fire ring.
    pub fire_ring_cover: Option<Limit>,
    /// Inside of the fire ring beyond the finished bore.
    pub fire_ring_bore: Option<Limit>,
    /// Lean of the bank's Z from the machine's Z over the bore length.
    pub squareness: Option<Limit>,
    /// Wall of the finished sleeve.
    pub sleeve_wall: Option<Limit>,
    /// Width of the fire ring on the flange.
    pub ring_on_flange: Option<Limit>,
    /// Difference of a flange's protrusion round the bore.
    pub protrusion_spread: Option<Limit>,
    /// Sleeve below the oil ring at bottom dead centre.
    pub ring_hold: Option<Limit>,
    /// Skirt below the sleeve at bottom dead centre.
    pub skirt_out: Option<Limit>,
    /// Seat pressure over yield: a share, no length.
    pub seat_ratio: Option<Limit>,
    /// Hoop stress over yield: a share, no length.
    pub hoop_ratio: Option<Limit>,
}

impl Limits {
    /// Whether any position zone is set.
    #[must_use]
    pub fn states_position(&self) -> bool {
        self.position.or(self.position_across).or(self.position_along).is_some()
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

/// How a bore read at one depth may lean, mm per mm, where a job does not say. Common practice, no source.
pub const LEAN: f64 = 1e-4;
