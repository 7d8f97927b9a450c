//! Candidate sleeves, as drawn and as measured.

use crate::material::Material;

/// Dry in metal, or wet in coolant.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SleeveKind {
    /// Stands in coolant over part of its length.
    Wet,
    /// Metal all the way down.
    Dry,
}

/// A candidate sleeve.
#[derive(Debug, Clone)]
pub struct Sleeve {
    /// Its name.
    pub name: String,
    /// Wet or dry.
    pub kind: SleeveKind,
    /// Its metal.
    pub material: Material,
    /// Its bore as supplied, mm.
    pub bore_mm: f64,
    /// Its length, mm.
    pub length_mm: f64,
    /// Its flange.
    pub flange: Flange,
    /// Least protrusion once seated, mm.
    pub protrusion_min_mm: f64,
    /// Most protrusion once seated, mm.
    pub protrusion_max_mm: f64,
    /// The body's steps from the flange down.
    pub body: Vec<Step>,
}

/// One sleeve as measured: means of its readings.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredSleeve {
    /// Which candidate it is one of.
    pub sleeve: usize,
    /// The number on it.
    pub number: String,
    /// Thickness of its flange, mm.
    pub thickness_mm: f64,
    /// Least and most of the flange's readings, mm.
    pub thickness_range_mm: [f64; 2],
    /// Outside of each step of its body, mm.
    pub outsides_mm: Vec<f64>,
}

/// A sleeve's flange.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Flange {
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Its thickness, mm.
    pub thickness_mm: f64,
    /// Its clearance in the pocket, on diameter, mm.
    pub clearance_mm: f64,
    /// Across the flats, where it has them, mm.
    pub flats_mm: Option<f64>,
    /// Fillet between flange and body, where given, mm.
    pub fillet_mm: Option<f64>,
    /// Either side of the thickness, mm.
    pub tolerance_mm: f64,
}

/// One step of a sleeve's body.
#[derive(Debug, Clone)]
pub struct Step {
    /// Its name.
    pub name: String,
    /// Its outside diameter, mm.
    pub diameter_mm: f64,
    /// Depth of its lower end below the deck, mm.
    pub to_mm: f64,
    /// How much larger the sleeve is than its pocket, on diameter, mm; negative is clearance.
    pub interference_mm: f64,
    /// Either side of the outside diameter, mm.
    pub tolerance_mm: f64,
    /// Either side of the pocket, where a fit code sets it, mm.
    pub pocket_tolerance_mm: Option<f64>,
    /// The fit code, where one stands in the file.
    pub code: Option<String>,
    /// Whether it stands in coolant.
    pub wet: bool,
    /// Its O-rings.
    pub o_rings: Vec<ORing>,
}

/// One O-ring in a groove of the sleeve.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ORing {
    /// Depth of the groove's middle below the deck, mm.
    pub depth_mm: f64,
    /// Diameter of the groove's floor, mm.
    pub groove_diameter_mm: f64,
    /// Width of the groove, mm.
    pub groove_width_mm: f64,
    /// Cord of the ring, mm.
    pub cord_mm: f64,
    /// Inside diameter of the free ring, mm.
    pub inside_mm: f64,
}
