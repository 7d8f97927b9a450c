//! Parts of a job that fits, seats and strokes rest on: temperatures at work, head bolts, piston, deck.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::MaterialFile;
use crate::read::given::{At, Length, Number, Warmth};

/// Temperatures at work.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RunningFile {
    /// Of the block round the sleeve.
    pub block: At<Warmth>,
    /// Of the sleeve.
    pub sleeve: At<Warmth>,
}

/// How a sleeve goes in.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct GoingInFile {
    /// Gap on diameter at which it drops; 0.10 mm unless stated.
    pub clearance: Option<At<Length>>,
    /// Temperature of the sleeve, chilled or not; 20 °C unless stated.
    pub sleeve: Option<At<Warmth>>,
    /// Hottest that the block may become; 150 °C unless stated.
    pub hottest: Option<At<Number>>,
}

/// The bolts that clamp a head.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HeadBoltsFile {
    /// How many hold one bank's head; its cylinders share them.
    pub per_bank: At<Number>,
    /// Preload of one bolt, N, where it is known (by stretch or by a load cell); in place of a torque.
    pub preload: Option<At<Number>>,
    /// Thread diameter; wanted beside a torque.
    pub diameter: Option<At<Length>>,
    /// Tightening torque, N·m; what it pulls is taken to be within 25 % either way.
    pub torque: Option<At<Number>>,
    /// Nut factor K of T = K F d; 0.20 unless stated.
    pub nut_factor: Option<At<Number>>,
    /// In which order they are tightened: each of a bank's studs once, numbered as the block's description lists them.
    pub order: Option<Vec<At<Number>>>,
    /// The steps of tightening, in words: "30 N·m", "60 N·m", "90 degrees".
    pub steps: Option<Vec<At<String>>>,
    /// Peak gas pressure, MPa.
    pub gas_pressure: Option<At<Number>>,
}

/// Crank, rod and piston, where the sleeve's length is to be held against the stroke.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PistonFile {
    /// Stroke.
    pub stroke: At<Length>,
    /// Rod between centres.
    pub rod: At<Length>,
    /// Pin centre to crown.
    pub pin_height: At<Length>,
    /// Crown to the lower edge of the oil ring.
    pub oil_ring: At<Length>,
    /// Crown to the end of the skirt.
    pub skirt: At<Length>,
    /// Thickness of the head gasket once clamped, which a crown above the deck stands in.
    pub gasket: Option<At<Length>>,
    /// Its metal; piston aluminium unless stated.
    pub material: Option<At<MaterialFile>>,
    /// Temperature of the skirt at work; 120 °C unless stated.
    pub temperature: Option<At<Number>>,
}

/// How coordinate lists are cut up.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ListsWord {
    /// One a bank and stage.
    #[default]
    Bank,
    /// One a cylinder and stage, to stop between.
    Cylinder,
}

/// What is still to be cut off the deck.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct DeckFile {
    /// How much, off the deck as it is.
    pub cut: At<Length>,
    /// Before or after the sleeves go in; before unless stated.
    #[serde(default)]
    pub when: WhenWord,
}

/// When the deck is cut.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WhenWord {
    /// With the pockets cut and no sleeve in.
    #[default]
    BeforeFit,
    /// With the sleeves in: flanges and block are cut together, flush.
    AfterFit,
}
