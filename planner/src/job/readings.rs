//! Set-ups and what was read in them.

use std::collections::BTreeMap;
use std::sync::Arc;

use borewright_geometry::{Bank as BankFrame, Machine as MachineFrame};

/// Which way round the block stands: its front at the operator's left or right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Front {
    /// Front at the left: X to the rear, Y across as in the bank.
    Left,
    /// Front at the right: X and Y both turned about.
    Right,
}

/// A table that a set-up may name, in the order of their keys.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum TableKind {
    /// Points on the journal axis.
    Axis,
    /// Bore circles by their centres.
    Bores,
    /// Points on the deck.
    Deck,
    /// Liner or flange heights.
    Heights,
    /// Raw points on the housing bores.
    Mains,
    /// Raw probe points.
    Points,
    /// Radial readings round the bore.
    Shape,
    /// Wall thicknesses.
    Walls,
    /// Arcs of the old liner seen after a cut.
    Witness,
}

impl TableKind {
    /// All, in the order in which a set-up's are read.
    pub(crate) const ALL: [Self; 9] = [
        Self::Bores,
        Self::Points,
        Self::Walls,
        Self::Heights,
        Self::Shape,
        Self::Witness,
        Self::Axis,
        Self::Mains,
        Self::Deck,
    ];

    /// The job's key for it.
    #[must_use]
    pub fn key(self) -> &'static str {
        match self {
            Self::Axis => "axis",
            Self::Bores => "bores",
            Self::Deck => "deck",
            Self::Heights => "heights",
            Self::Mains => "mains",
            Self::Points => "points",
            Self::Shape => "shape",
            Self::Walls => "walls",
            Self::Witness => "witness",
        }
    }

    /// Whether where a bore is planned rests on it.
    pub(crate) fn places(self) -> bool {
        !matches!(self, Self::Heights | Self::Shape | Self::Witness)
    }

    /// Whether it ties a machine set-up to the journal axis: named with frame: machine alone.
    pub(crate) fn is_tie(self) -> bool {
        matches!(self, Self::Axis | Self::Mains | Self::Deck)
    }
}

/// One set-up and what was read in it.
#[derive(Debug, Clone)]
pub struct SetUp {
    /// Its name.
    pub name: String,
    /// Index of the bank that faces up.
    pub bank: usize,
    /// Which way round the block stands.
    pub front: Front,
    /// What stands tallest on the deck beside the bores, where given, mm.
    pub clamps_mm: Option<f64>,
    /// In which frame the readings were taken, and what ties them to the journal axis.
    pub frame: ReadingFrame,
    /// Bore circles by their centres.
    pub bores: Vec<BoreReading>,
    /// Raw probe points.
    pub points: Vec<PointReading>,
    /// Wall thicknesses.
    pub walls: Vec<WallReading>,
    /// Liner or flange heights.
    pub heights: Vec<HeightReading>,
    /// Radial readings round the bore.
    pub shape: Vec<ShapeReading>,
    /// Arcs of the old liner seen after a cut.
    pub witness: Vec<WitnessReading>,
    /// The file that each table was read from, as named in the job.
    pub files: BTreeMap<TableKind, String>,
}

/// The frame of a set-up's readings.
#[derive(Debug, Clone)]
pub enum ReadingFrame {
    /// x and y already from the journal axis, in the bank frame.
    Journal,
    /// Coordinates as read off the machine, with what the axis and the deck were read at.
    Machine(MachineReadings),
}

/// What ties a machine set-up to the journal axis.
#[derive(Debug, Clone)]
pub struct MachineReadings {
    /// Points on the journal axis, front to rear, with the main each belongs to.
    pub axis: Vec<AxisReading>,
    /// Raw points on the housing bores.
    pub mains: Vec<AxisReading>,
    /// Points on the deck; empty where no deck was read.
    pub deck_mm: Vec<[f64; 3]>,
    /// Machine x of the along datum, mm.
    pub along_x_mm: f64,
}

/// A point on the journal axis or a housing bore, machine coordinates.
#[derive(Debug, Clone, PartialEq)]
pub struct AxisReading {
    /// The main it belongs to.
    pub main: Arc<str>,
    /// Its coordinates, mm.
    pub at_mm: [f64; 3],
    /// Its line in its file; 0 where it was worked out.
    pub line: usize,
}

/// What a circle or wall was measured on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Surface {
    /// The factory liner.
    Liner,
    /// The parent metal.
    Parent,
    /// A new sleeve.
    Sleeve,
}

impl Surface {
    /// The surface's name as written in a table.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Liner => "liner",
            Self::Parent => "parent",
            Self::Sleeve => "sleeve",
        }
    }
}

/// One measured circle.
#[derive(Debug, Clone, PartialEq)]
pub struct BoreReading {
    /// Its cylinder.
    pub cylinder: u32,
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// Its centre, in the set-up's frame, mm.
    pub centre_mm: [f64; 2],
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// What it was measured on.
    pub surface: Surface,
    /// Which round of measuring it belongs to, where several were made.
    pub set: Option<String>,
    /// Its line in its table.
    pub line: usize,
}

/// One probe point.
#[derive(Debug, Clone, PartialEq)]
pub struct PointReading {
    /// Its cylinder.
    pub cylinder: u32,
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// Where, in the set-up's frame, mm.
    pub at_mm: [f64; 2],
    /// What it was measured on.
    pub surface: Surface,
    /// Which round of measuring it belongs to, where several were made.
    pub set: Option<String>,
    /// Its line in its table.
    pub line: usize,
}

/// One wall thickness, measured radially outwards.
#[derive(Debug, Clone, PartialEq)]
pub struct WallReading {
    /// Its cylinder.
    pub cylinder: u32,
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// Where round the bore, degrees from the rear towards +Y.
    pub clock_deg: f64,
    /// The wall, mm; `None` where the gauge gave no reading.
    pub wall_mm: Option<f64>,
    /// The surface it was measured from.
    pub surface: Surface,
    /// Its line in its table.
    pub line: usize,
}

/// A liner or flange height against the deck.
#[derive(Debug, Clone, PartialEq)]
pub struct HeightReading {
    /// Its cylinder.
    pub cylinder: u32,
    /// Where round the bore, degrees.
    pub clock_deg: f64,
    /// Above the deck, mm; negative when sunk.
    pub height_mm: f64,
}

/// A radial reading round the bore.
#[derive(Debug, Clone, PartialEq)]
pub struct ShapeReading {
    /// Its cylinder.
    pub cylinder: u32,
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// Where round the bore, degrees.
    pub clock_deg: f64,
    /// The reading, mm.
    pub radius_mm: f64,
    /// Whether the torque plate was on.
    pub plate_on: bool,
}

/// An arc of the old liner that a cut has left in sight.
#[derive(Debug, Clone, PartialEq)]
pub struct WitnessReading {
    /// Its cylinder.
    pub cylinder: u32,
    /// Where it was looked at, below the deck, mm.
    pub depth_mm: f64,
    /// Diameter of the cut, mm.
    pub diameter_mm: f64,
    /// Where the iron begins and where it ends, counted towards +Y, degrees.
    pub arc_deg: [f64; 2],
    /// The cut's centre in the bank frame, mm, where it was not the planned one.
    pub centre_mm: Option<[f64; 2]>,
}

/// The placement of a machine set-up in its bank frame.
pub type SetUpPlacement = borewright_geometry::Placement<MachineFrame, BankFrame>;
