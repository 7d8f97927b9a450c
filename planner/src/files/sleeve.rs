//! `borewright/sleeve/1`: a sleeve as its maker supplies it, with a flange or plain.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::MaterialFile;
use crate::read::given::{At, Length, Number, Units};

/// What such a file says of itself.
pub const SLEEVE_FORMAT: &str = "borewright/sleeve/1";

/// A sleeve.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = SLEEVE_FORMAT)]
pub struct SleeveFile {
    /// `borewright/sleeve/1`.
    #[schemars(extend("const" = SLEEVE_FORMAT))]
    pub format: At<String>,
    /// Its name.
    pub name: At<String>,
    /// Wet or dry.
    pub kind: At<KindWord>,
    /// Its metal.
    pub material: At<MaterialFile>,
    /// Units of bare numbers; mm unless stated.
    #[serde(default)]
    pub units: Units,
    /// Its bore as supplied.
    pub bore: At<Length>,
    /// Its length below the deck.
    pub length: At<Length>,
    /// Its flange; beside it a protrusion. A sleeve has either these or a step.
    pub flange: Option<FlangeFile>,
    /// Flange above the deck once seated.
    pub protrusion: Option<ProtrusionFile>,
    /// Of a plain dry sleeve: what is left of the parent below it to stand on.
    pub step: Option<FootFile>,
    /// Of a plain dry sleeve: how far it is left above the deck, to be cut flush; nothing unless stated.
    pub stand: Option<At<Length>>,
    /// Of a plain dry sleeve: friction in its pocket; 0.10 unless stated.
    pub friction: Option<At<Number>>,
    /// The body's steps, from the top down; each step's pocket is no wider than the one above it.
    pub body: At<Vec<StepFile>>,
}

/// Wet or dry.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum KindWord {
    /// Stands in coolant over part of its length.
    Wet,
    /// Metal all the way down.
    Dry,
}

/// The flange.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FlangeFile {
    /// Its diameter.
    pub diameter: At<Length>,
    /// Its thickness.
    pub thickness: At<Length>,
    /// Its clearance in the pocket, on diameter.
    pub clearance: At<Length>,
    /// Across the flats.
    pub flats: Option<At<Length>>,
    /// Fillet between flange and body, which the ledge's inner edge must clear.
    pub fillet: Option<At<Length>>,
    /// Either side of the thickness; 0.005 mm unless stated.
    pub tolerance: Option<At<Length>>,
}

/// What is left of the parent below a pocket.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FootFile {
    /// Its bore: smaller than the pocket, no smaller than the finished bore.
    pub inside: At<Length>,
    /// Its least height.
    pub height: At<Length>,
}

/// How far the flange stands above the deck.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ProtrusionFile {
    /// Least.
    pub min: At<Length>,
    /// Most.
    pub max: At<Length>,
}

/// One step of the body.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct StepFile {
    /// Its name.
    pub name: At<String>,
    /// Its outside diameter.
    pub diameter: At<Length>,
    /// Depth of its lower end below the deck.
    pub to: At<Length>,
    /// How much larger the sleeve is than the pocket, on diameter.
    pub interference: Option<At<Length>>,
    /// How much smaller, on diameter.
    pub clearance: Option<At<Length>>,
    /// A fit of ISO 286 about the diameter as nominal size, in place of either: `H7/p6`.
    pub fit: Option<At<String>>,
    /// Either side of the diameter; 0.004 mm unless stated, nothing beside a fit.
    pub tolerance: Option<At<Length>>,
    /// Whether it stands in coolant.
    #[serde(default)]
    pub wet: Option<At<bool>>,
    /// Its O-rings.
    #[serde(default)]
    pub o_rings: Vec<ORingFile>,
}

/// An O-ring in a groove of the sleeve.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ORingFile {
    /// Depth of the groove's middle.
    pub depth: At<Length>,
    /// Diameter of its floor.
    pub groove_diameter: At<Length>,
    /// Its width.
    pub groove_width: At<Length>,
    /// Cord of the ring.
    pub cord: At<Length>,
    /// Inside diameter of the free ring.
    pub inside: At<Length>,
}
