//! `borewright/shop/1`: the house's own limits, instruments and allowances.

use schemars::JsonSchema;
use serde::Deserialize;

use crate::read::given::{At, Length, LimitGiven, Number, Units};
use crate::read::position::PositionGiven;

/// A shop's figures; a job's own come before them.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = "borewright/shop/1")]
pub struct ShopFile {
    /// `borewright/shop/1`.
    #[schemars(extend("const" = "borewright/shop/1"))]
    pub format: At<String>,
    /// The shop's name.
    pub name: Option<At<String>>,
    /// Units of bare numbers; mm unless stated.
    #[serde(default)]
    pub units: Units,
    /// Its limits.
    #[serde(default)]
    pub limits: LimitsFile,
    /// Its instruments.
    #[serde(default)]
    pub instruments: InstrumentsFile,
    /// Its allowances.
    #[serde(default)]
    pub allowances: AllowancesFile,
}

/// Least metal or largest error; a limit left out is not applied.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LimitsFile {
    /// Diameter of the position zone about the true position; or { across: …, along: … }, widths of two parallel zones.
    pub position: Option<At<PositionGiven>>,
    /// Least radial stock all round on every pocket cylinder below the flange.
    pub clean_up: Option<At<LimitGiven>>,
    /// Least wall left in the parent metal.
    pub parent_wall: Option<At<LimitGiven>>,
    /// In place of parent_wall within 45 degrees of the major thrust side.
    pub parent_wall_thrust: Option<At<LimitGiven>>,
    /// Between neighbouring pockets below the flange.
    pub bridge: Option<At<LimitGiven>>,
    /// Between neighbouring flange pockets.
    pub flange_gap: Option<At<LimitGiven>>,
    /// Pocket to stud hole.
    pub stud_wall: Option<At<LimitGiven>>,
    /// Pocket to coolant hole.
    pub coolant_hole: Option<At<LimitGiven>>,
    /// Flange beyond the outside of the fire ring.
    pub fire_ring_cover: Option<At<LimitGiven>>,
    /// Inside of the fire ring beyond the finished bore.
    pub fire_ring_bore: Option<At<LimitGiven>>,
    /// Lean of the bank's Z from the machine's Z over the bore length.
    pub squareness: Option<At<LimitGiven>>,
    /// Least wall of the sleeve once finished.
    pub sleeve_wall: Option<At<LimitGiven>>,
    /// Least width of the fire ring on the flange, all round.
    pub ring_on_flange: Option<At<LimitGiven>>,
    /// Largest difference of a flange's protrusion round the bore.
    pub protrusion_spread: Option<At<LimitGiven>>,
    /// Least length of sleeve below the oil ring at bottom dead centre.
    pub ring_hold: Option<At<LimitGiven>>,
    /// Most of the skirt below the sleeve at bottom dead centre.
    pub skirt_out: Option<At<LimitGiven>>,
    /// Largest bearing pressure of the seat over the yield of its metal at work.
    pub seat_ratio: Option<At<LimitGiven>>,
    /// Largest hoop stress of a fit over yield, in either part.
    pub hoop_ratio: Option<At<LimitGiven>>,
}

/// Standard uncertainties.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct InstrumentsFile {
    /// One coordinate of a bore centre.
    pub centre: Option<At<Length>>,
    /// A diameter.
    pub diameter: Option<At<Length>>,
    /// A wall reading.
    pub wall: Option<At<Length>>,
    /// The journal axis in a set-up, across.
    pub axis: Option<At<Length>>,
    /// The along datum.
    pub along: Option<At<Length>>,
    /// Where the machine bores against where it was told to.
    pub machine: Option<At<Length>>,
    /// One point on the deck; `centre` unless stated.
    pub deck: Option<At<Length>>,
    /// How a bore read at one depth may lean, mm per mm; 0.0001 unless stated.
    pub lean: Option<At<Number>>,
}

/// Stock left between passes.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AllowancesFile {
    /// Radial stock left for the pocket's finishing pass; 0.2 mm unless stated.
    pub pocket: Option<At<Length>>,
    /// Either side of a register's size; 0.006 mm unless stated.
    pub pocket_size: Option<At<Length>>,
    /// Either side of a ledge's depth; 0.010 mm unless stated.
    pub ledge_depth: Option<At<Length>>,
    /// Chamfer of the ledge's inner edge, at 45 degrees; 0.5 mm unless stated.
    pub ledge_chamfer: Option<At<Length>>,
}
