//! The machine, its tools and its hone.

use crate::plan::ListUnits;

/// The machine.
#[derive(Debug, Clone)]
pub struct Machine {
    /// Its name.
    pub name: String,
    /// Least and most of X, Y, Z of the spindle nose's tool point, machine coordinates, mm.
    pub travel_mm: [[f64; 2]; 3],
    /// Least and most spindle speed, 1/min.
    pub rpm: [f64; 2],
    /// Spindle power, kW.
    pub power_kw: Option<f64>,
    /// Stiffness at the spindle's nose, N/mm.
    pub stiffness_n_per_mm: f64,
    /// Diameter of the spindle's nose, where given, mm.
    pub nose_mm: Option<f64>,
    /// Which parts of a pocket are milled.
    pub mill: Vec<Milled>,
    /// Fastest feed, mm/min.
    pub feed_mm_per_min: f64,
    /// The word for millimetres.
    pub millimetres_word: MillimetresWord,
    /// What its lists are in.
    pub list_units: ListUnits,
    /// Rapids end this far above the deck, mm.
    pub clearance_mm: f64,
    /// Stops are taken this far above what stands on the deck, where given, mm.
    pub stop_clearance_mm: Option<f64>,
    /// Its tools.
    pub tools: Vec<Tool>,
    /// Its hone.
    pub hone: Option<Hone>,
}

/// A part of a pocket that a machine mills.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Milled {
    /// The flange's recess and its ledge.
    Flange,
    /// Wet lengths.
    Wet,
    /// Registers.
    Register,
}

/// The preparatory word that sets millimetres; one of the two that controls know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MillimetresWord {
    /// The widespread one.
    G21,
    /// The one of ISO 6983-1.
    G71,
}

impl MillimetresWord {
    /// The word as written in a list.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::G21 => "G21",
            Self::G71 => "G71",
        }
    }
}

/// Boring head or milling cutter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ToolKind {
    /// A head set to a diameter.
    Boring,
    /// A cutter that moves round.
    Milling,
}

/// One tool.
#[derive(Debug, Clone)]
pub struct Tool {
    /// Its name.
    pub name: String,
    /// What it is.
    pub kind: ToolKind,
    /// Least and most diameter, mm; equal for a cutter.
    pub diameter_mm: [f64; 2],
    /// Below the spindle nose, mm.
    pub reach_mm: f64,
    /// Diameter of the bar, mm.
    pub bar_mm: Option<f64>,
    /// Modulus of elasticity of the bar, MPa.
    pub bar_elastic_mpa: f64,
    /// How far a cutter goes down in one turn round a pocket, mm.
    pub step_down_mm: f64,
    /// Teeth of a cutter that share a turn's feed; 1 where they are not stated.
    pub teeth: f64,
    /// Nose radius of the tip, mm.
    pub nose_radius_mm: Option<f64>,
    /// What it may do in each material, by material name.
    pub cuts: Vec<Cut>,
}

impl Tool {
    /// The diameter that the tool's edge turns at in a pass to `pass_mm`, mm: a head is set to that size, a cutter
    /// has its own.
    #[must_use]
    pub fn turning_mm(&self, pass_mm: f64) -> f64 {
        match self.kind {
            ToolKind::Boring => pass_mm,
            ToolKind::Milling => self.diameter_mm[0],
        }
    }
}

/// A tool's cutting data in one material.
#[derive(Debug, Clone)]
pub struct Cut {
    /// The material's name.
    pub material: String,
    /// Cutting speed, m/min.
    pub speed_m_per_min: f64,
    /// Feed, mm per revolution.
    pub feed_mm: f64,
    /// Most radial depth, mm.
    pub depth_mm: f64,
}

/// The hone's ranges.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hone {
    /// Least and most spindle speed, 1/min.
    pub rpm: [f64; 2],
    /// Least and most double strokes, 1/min.
    pub strokes: [f64; 2],
}
