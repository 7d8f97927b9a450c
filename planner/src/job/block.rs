//! The block: its journal axis, banks, casting, and the holes that pockets keep clear of.

use crate::material::Material;

/// Which way the crankshaft turns, seen from the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rotation {
    /// The major thrust side is +Y in every bank.
    Clockwise,
    /// The major thrust side is -Y in every bank.
    Anticlockwise,
}

impl Rotation {
    /// The clock of the major thrust side, degrees.
    pub(crate) fn thrust_clock_deg(self) -> f64 {
        match self {
            Self::Clockwise => 90.0,
            Self::Anticlockwise => 270.0,
        }
    }
}

/// The block.
#[derive(Debug, Clone)]
pub struct Block {
    /// Its name.
    pub name: String,
    /// Its casting family, where given.
    pub family: Option<String>,
    /// Included angle between the banks, degrees.
    pub bank_angle_deg: f64,
    /// Rotation of the crankshaft, where stated.
    pub rotation: Option<Rotation>,
    /// The journal axis.
    pub journal_axis: JournalAxis,
    /// The banks, in the order of the file.
    pub banks: Vec<Bank>,
    /// The casting.
    pub parent: Parent,
    /// Holes that pockets keep clear of.
    pub studs: Vec<Stud>,
    /// Whether the description speaks of studs at all; an empty list says that none come near.
    pub studs_told: bool,
    /// Drilled coolant holes.
    pub coolant_holes: Vec<CoolantHole>,
    /// Whether it speaks of coolant holes at all.
    pub coolant_holes_told: bool,
    /// The gasket's combustion seal.
    pub fire_ring: Option<FireRing>,
}

impl Block {
    /// The number of every cylinder, bank by bank.
    #[must_use]
    pub fn cylinders(&self) -> Vec<u32> {
        self.banks.iter().flat_map(|bank| &bank.sites).map(|site| site.cylinder).collect()
    }
}

/// The journal axis and its mains.
#[derive(Debug, Clone)]
pub struct JournalAxis {
    /// Where x = 0 is, in words.
    pub along_datum: String,
    /// Main housing bore, mm.
    pub housing_bore_mm: f64,
    /// Widest zone allowed for all mains, mm.
    pub straightness_mm: f64,
    /// Largest step allowed from one main to the next, mm.
    pub neighbour_mm: f64,
    /// The mains, front to rear.
    pub mains: Vec<Main>,
}

/// One main bearing housing.
#[derive(Debug, Clone, PartialEq)]
pub struct Main {
    /// Its name.
    pub name: String,
    /// Its middle along the journal axis, mm.
    pub x_mm: f64,
}

/// One bank of bores.
#[derive(Debug, Clone)]
pub struct Bank {
    /// Its name.
    pub name: String,
    /// Angle from the block's Z, degrees, positive to the engine's right.
    pub angle_deg: f64,
    /// Whether its own angle or its name says on which side it lies, and not its place in the list alone.
    pub side_told: bool,
    /// Journal axis to deck along the bore, mm.
    pub deck_height_mm: f64,
    /// Designed offset of the bores from the journal axis, along the bank's Y, mm.
    pub axis_offset_mm: f64,
    /// Its bores, front to rear.
    pub sites: Vec<Site>,
}

/// A bore's true place in its bank.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Site {
    /// The customer's cylinder number.
    pub cylinder: u32,
    /// Nominal x in the bank, mm.
    pub x_mm: f64,
}

/// The casting and what its maker put into it.
#[derive(Debug, Clone)]
pub struct Parent {
    /// The block's own metal.
    pub material: Material,
    /// Deck to the lower end of the bore, mm.
    pub bore_length_mm: f64,
    /// How far a tool may run past the lower end, mm.
    pub room_below_mm: f64,
    /// The factory liner; `None` where the bores run in the parent metal.
    pub liner: Option<Liner>,
    /// The water jacket's depths.
    pub jacket: Option<Depths>,
}

impl Parent {
    /// Deck to the lowest that a tool may run below the bore's end, mm.
    #[must_use]
    pub fn floor_mm(&self) -> f64 {
        self.bore_length_mm + self.room_below_mm
    }
}

/// A factory liner.
#[derive(Debug, Clone)]
pub struct Liner {
    /// Its bore, mm.
    pub bore_mm: f64,
    /// Its outside, mm.
    pub outside_mm: f64,
    /// Deck to its lower end, mm.
    pub length_mm: f64,
    /// Its metal.
    pub material: Material,
}

/// A range of depths below the deck, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Depths {
    /// The upper end.
    pub from_mm: f64,
    /// The lower end.
    pub to_mm: f64,
}

impl Depths {
    /// The length of the stretch both share, mm; `None` where they share none.
    #[must_use]
    pub fn shared(&self, other: &Self) -> Option<Self> {
        let from_mm = self.from_mm.max(other.from_mm);
        let to_mm = self.to_mm.min(other.to_mm);
        (from_mm < to_mm).then_some(Self { from_mm, to_mm })
    }
}

/// A stud hole, square to the deck.
#[derive(Debug, Clone)]
pub struct Stud {
    /// Index of its bank.
    pub bank: usize,
    /// Its centre in the bank, mm.
    pub centre_mm: [f64; 2],
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// Its depths.
    pub depths: Depths,
}

/// A drilled coolant hole, by its axis.
#[derive(Debug, Clone)]
pub struct CoolantHole {
    /// Index of its bank.
    pub bank: usize,
    /// Its name.
    pub name: String,
    /// One end: x, y, depth, mm.
    pub start_mm: [f64; 3],
    /// The other end: x, y, depth, mm.
    pub end_mm: [f64; 3],
    /// Its diameter, mm.
    pub diameter_mm: f64,
}

/// The gasket's combustion seal, centred on the true position.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FireRing {
    /// Inside diameter, mm.
    pub inside_mm: f64,
    /// Outside diameter, mm.
    pub outside_mm: f64,
}
