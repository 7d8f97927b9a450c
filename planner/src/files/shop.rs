//! `borewright/shop/1`: the house's own limits, instruments and allowances.

use schemars::JsonSchema;
use serde::Deserialize;

use super::limits::LimitsFile;
use crate::read::given::{At, Length, Number, Units};

/// What such a file says of itself.
pub const SHOP_FORMAT: &str = "borewright/shop/1";

/// A shop's figures; a job's own come before them.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = SHOP_FORMAT)]
pub struct ShopFile {
    /// `borewright/shop/1`.
    #[schemars(extend("const" = SHOP_FORMAT))]
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
    /// Wall of a finished sleeve under which a job holds without any limit; 1.5 mm unless stated.
    pub sleeve_wall: Option<At<Length>>,
}
