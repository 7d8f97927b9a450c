//! `borewright/job/1`: one job, its files and its readings.

use std::collections::BTreeMap;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::OwnMaterial;
use super::engine::{DeckFile, GoingInFile, HeadBoltsFile, ListsWord, PistonFile, RunningFile};
use super::limits::LimitsFile;
use super::shop::{AllowancesFile, InstrumentsFile};
use crate::read::given::{Angle, At, Length, Number, Units, Warmth};

/// What such a file says of itself.
pub const JOB_FORMAT: &str = "borewright/job/1";

/// A job.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = JOB_FORMAT)]
pub struct JobFile {
    /// `borewright/job/1`.
    #[schemars(extend("const" = JOB_FORMAT))]
    pub format: At<String>,
    /// The shop's job number.
    pub job: At<String>,
    /// Free text.
    pub customer: Option<At<String>>,
    /// Units of bare numbers, here and in the reading tables; mm unless stated.
    #[serde(default)]
    pub units: Units,
    /// Units of the printed sheets; mm unless stated.
    #[serde(default)]
    pub sheet_units: SheetUnitsWord,
    /// The block description, relative to this file.
    pub block: At<String>,
    /// One or several candidate sleeves.
    pub sleeves: At<Vec<At<String>>>,
    /// The machine.
    pub machine: At<String>,
    /// What the bores follow.
    pub aim: At<AimWord>,
    /// The finished bore.
    pub finish: At<FinishFile>,
    /// Stock left between passes.
    #[serde(default)]
    pub allowances: AllowancesFile,
    /// The house's own figures; this job's come before them.
    pub shop: Option<At<String>>,
    /// Least metal or largest error.
    #[serde(default)]
    pub limits: LimitsFile,
    /// Standard uncertainties.
    #[serde(default)]
    pub instruments: InstrumentsFile,
    /// Temperatures at measuring.
    pub temperature: Option<TemperatureFile>,
    /// Temperatures at work; 100 °C for both unless stated.
    pub running: Option<RunningFile>,
    /// How the sleeves go in.
    pub going_in: Option<GoingInFile>,
    /// The bolts that clamp the head.
    pub head_bolts: Option<HeadBoltsFile>,
    /// Crank, rod and piston.
    pub piston: Option<PistonFile>,
    /// What is still to be cut off the deck.
    pub deck: Option<DeckFile>,
    /// One coordinate list a bank and stage, or one a cylinder and stage.
    #[serde(default)]
    pub lists: ListsWord,
    /// Sleeves measured one by one.
    pub sleeves_measured: Option<At<String>>,
    /// Metals of this job, in place of built-in ones of the same name or beside them.
    #[serde(default)]
    pub materials: Vec<OwnMaterial>,
    /// What holds the block, for a budget of what that costs.
    pub fixture: Option<FixtureFile>,
    /// How far the block turns from one bank up to the other, as read.
    pub index_span: Option<IndexSpanFile>,
    /// Where the dowels put the gasket against the true positions, by bank.
    #[serde(default)]
    pub gasket_shift: BTreeMap<String, At<ShiftFile>>,
    /// What was read, set-up by set-up.
    pub readings: At<Vec<ReadingsFile>>,
}

/// Units of the printed sheets.
#[derive(Debug, Clone, Copy, Default, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum SheetUnitsWord {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    In,
    /// Both.
    Both,
}

/// What the bores follow.
#[derive(Debug, Clone, Copy, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum AimWord {
    /// True position from the journal axis.
    Journal,
    /// The bore that is there.
    Parent,
}

/// The finished bore: `bore`, or `piston` and `clearance`.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FinishFile {
    /// Finished diameter.
    pub bore: Option<At<Length>>,
    /// The piston's diameter, in place of `bore`.
    pub piston: Option<At<Length>>,
    /// Piston to bore, on diameter.
    pub clearance: Option<At<Length>>,
    /// Left for the hone, on diameter; 0.06 mm unless stated.
    pub hone_stock: Option<At<Length>>,
    /// Tolerance of the finished bore; 0.010 mm unless stated.
    pub tolerance: Option<At<Length>>,
    /// Thickness of the torque plate that the finish bore runs through.
    pub plate: Option<At<Length>>,
    /// Mean roughness Ra asked of the finished bore, micrometres.
    pub roughness: Option<RoughnessFile>,
}

/// Mean roughness Ra, micrometres (ISO 21920-2).
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct RoughnessFile {
    /// No smoother than this; open unless stated.
    pub least: Option<At<Number>>,
    /// No rougher than this.
    pub most: At<Number>,
}

/// Temperatures at measuring.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TemperatureFile {
    /// Of the block.
    pub block: At<Warmth>,
    /// Of the machine.
    pub machine: At<Warmth>,
    /// Standard uncertainty of the difference between the two, K.
    pub u: Option<At<Number>>,
    /// At cutting, where it is not as at measuring.
    pub cutting: Option<CuttingFile>,
}

/// Temperatures at cutting.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CuttingFile {
    /// Of the block.
    pub block: At<Warmth>,
    /// Of the machine.
    pub machine: At<Warmth>,
}

/// Six locators that hold the block, in the block frame.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FixtureFile {
    /// How the block is held, in words: mandrel in the mains, rails and pins, deck down.
    pub held_by: At<String>,
    /// Whether its combined error enters the limits measured from the journal axis; no unless stated.
    pub feeds_limits: Option<bool>,
    /// The six locators.
    pub locators: At<Vec<LocatorFile>>,
}

/// The turn from one bank up to the other, read by a sine bar or by closing the circle.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct IndexSpanFile {
    /// As read.
    pub angle: At<Angle>,
    /// Its standard uncertainty, degrees.
    pub u: At<Angle>,
}

/// One locator.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct LocatorFile {
    /// Its name.
    pub name: At<String>,
    /// Where: x, y, z in the block frame.
    pub at: [At<Length>; 3],
    /// The direction in which it pushes the block: square to the surface, into the block; any length.
    pub normal: [At<Number>; 3],
    /// Full play along that direction, in place of `u`.
    pub clearance: Option<At<Length>>,
    /// Standard uncertainty of its place along that direction.
    pub u: Option<At<Length>>,
}

/// A shift in the bank frame.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ShiftFile {
    /// Along the bank.
    pub x: At<Length>,
    /// Across the bank.
    pub y: At<Length>,
}

/// The frame of a set-up's readings.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FrameWord {
    /// x, y already from the journal axis in the bank frame.
    Journal,
    /// As read off the machine.
    Machine,
}

/// Which way round the block stands.
#[derive(Debug, Clone, Copy, Default, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum FrontWord {
    /// Its front at the operator's left.
    #[default]
    Left,
    /// Its front at the operator's right.
    Right,
}

/// What was read in one set-up.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingsFile {
    /// The set-up's name.
    pub set_up: At<String>,
    /// The bank that faces up.
    pub bank: At<String>,
    /// The frame of the readings.
    pub frame: At<FrameWord>,
    /// Which way round the block stands; front at the left unless stated.
    #[serde(default)]
    pub front: Option<At<FrontWord>>,
    /// What stands tallest on the deck beside the bores: clamps, bolts.
    pub clamps: Option<At<Length>>,
    /// Points on the journal axis (frame: machine).
    pub axis: Option<At<String>>,
    /// Raw points on the housing bores (frame: machine).
    pub mains: Option<At<String>>,
    /// Points on the deck (frame: machine).
    pub deck: Option<At<String>>,
    /// Where the along datum is (frame: machine).
    pub along: Option<At<AlongFile>>,
    /// Bore centres and diameters.
    pub bores: Option<At<String>>,
    /// Raw probe points.
    pub points: Option<At<String>>,
    /// Wall thicknesses.
    pub walls: Option<At<String>>,
    /// Liner heights.
    pub heights: Option<At<String>>,
    /// Radial readings round the bore.
    pub shape: Option<At<String>>,
    /// Arcs of the old liner seen after a cut.
    pub witness: Option<At<String>>,
}

/// Machine x of the along datum.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct AlongFile {
    /// Machine x.
    pub x: At<Length>,
}
