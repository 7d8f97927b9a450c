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
    /// Its length below the deck, mm.
    pub length_mm: f64,
    /// What it stands by.
    pub stands: Stands,
    /// The body's steps from the top down.
    pub body: Vec<Step>,
}

impl Sleeve {
    /// The sleeve's flange; `None` where it stands on a foot.
    #[must_use]
    pub fn flange(&self) -> Option<&Flange> {
        match &self.stands {
            Stands::Flange(flange) => Some(flange),
            Stands::Foot(_) => None,
        }
    }

    /// The step that the sleeve stands on; `None` where it hangs by a flange.
    #[must_use]
    pub fn foot(&self) -> Option<&Foot> {
        match &self.stands {
            Stands::Flange(_) => None,
            Stands::Foot(foot) => Some(foot),
        }
    }

    /// What of the block it stands on, in a word.
    #[must_use]
    pub fn seat_word(&self) -> &'static str {
        if self.flange().is_some() { "ledge" } else { "step" }
    }

    /// What keeps it from going down, in a word: its own flange, or the step of the block.
    #[must_use]
    pub fn stop_word(&self) -> &'static str {
        if self.flange().is_some() { "flange" } else { "step" }
    }
}

/// What keeps a sleeve from going down.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Stands {
    /// A flange on a ledge below the deck.
    Flange(Flange),
    /// A plain dry sleeve's lower end, on a step of the parent.
    Foot(Foot),
}

/// A step left of the parent below a pocket, and how a plain sleeve is held on it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Foot {
    /// Bore of the step, mm.
    pub inside_mm: f64,
    /// Least height of the step, mm.
    pub height_mm: f64,
    /// How far the sleeve is left above the deck, to be cut flush, mm.
    pub proud_mm: f64,
    /// Coefficient of friction between sleeve and pocket.
    pub friction: f64,
}

/// One sleeve as measured: means of its readings.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredSleeve {
    /// Which candidate it is one of.
    pub sleeve: usize,
    /// The number on it.
    pub number: String,
    /// Its flange, where it has one.
    pub flange: Option<Thickness>,
    /// Outside of each step of its body, mm.
    pub outsides_mm: Vec<f64>,
    /// The most by which readings of one of them differ, mm.
    pub apart_mm: f64,
}

/// Thickness of a flange as measured, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Thickness {
    /// Mean of its readings.
    pub mean_mm: f64,
    /// Least and most of them.
    pub range_mm: [f64; 2],
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
    /// Least protrusion once seated, mm.
    pub protrusion_min_mm: f64,
    /// Most protrusion once seated, mm.
    pub protrusion_max_mm: f64,
}

impl Flange {
    /// Its width over the flats, mm, where they are narrower than the flange: a file may state a round flange's
    /// diameter.
    #[must_use]
    pub fn flats_cut_mm(&self) -> Option<f64> {
        /// Widths this near are printed alike, mm.
        const SAME_MM: f64 = 0.0005;
        self.flats_mm.filter(|flats| *flats < self.diameter_mm - SAME_MM)
    }
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
    /// Whether the file gives an interference, and no clearance or fit code.
    pub drawn_tight: bool,
    /// The fit code, where one stands in the file.
    pub code: Option<String>,
    /// Whether it stands in coolant.
    pub wet: bool,
    /// Its O-rings.
    pub o_rings: Vec<ORing>,
}

impl Step {
    /// The pocket that it asks for, on diameter, mm.
    #[must_use]
    pub fn pocket_mm(&self) -> f64 {
        self.diameter_mm - self.interference_mm
    }
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
