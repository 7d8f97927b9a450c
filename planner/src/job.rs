//! The job once checked: every value present, in range, in mm (or the unit its name ends in).
//!
//! Nothing after `check` sees a value that is not here.

use std::collections::BTreeMap;

use borewright_geometry::{Bank as BankFrame, Machine as MachineFrame};

use crate::material::Material;

/// Everything a plan is made from.
#[derive(Debug, Clone)]
pub struct Job {
    /// The shop's job number, as typed.
    pub number: String,
    /// Free text.
    pub customer: Option<String>,
    /// In which units the sheets print.
    pub sheet_units: SheetUnits,
    /// The block as described.
    pub block: Block,
    /// The candidate sleeves, in the order of the job file.
    pub sleeves: Vec<Sleeve>,
    /// The machine the job runs on.
    pub machine: Machine,
    /// What the bores follow.
    pub aim: Aim,
    /// The finished bore.
    pub finish: Finish,
    /// Stock and windows of the pocket.
    pub allowances: Allowances,
    /// Temperatures, bolts, piston and deck at work.
    pub engine: Engine,
    /// The limits to apply.
    pub limits: Limits,
    /// Standard uncertainties of the instruments.
    pub instruments: Instruments,
    /// Temperatures at measuring, where given.
    pub temperature: Option<Temperature>,
    /// Whether each cylinder gets a coordinate list of its own.
    pub list_per_cylinder: bool,
    /// Sleeves measured one by one.
    pub measured: Vec<MeasuredSleeve>,
    /// How the block is held, where the job says so.
    pub fixture: Option<Fixture>,
    /// The turn from one bank up to the other, where it was read.
    pub index_span: Option<IndexSpan>,
    /// Where the dowels put the gasket against the true positions, per bank, mm.
    pub gasket_shift_mm: Vec<[f64; 2]>,
    /// The set-ups read.
    pub set_ups: Vec<SetUp>,
    /// The files read, in reading order.
    pub inputs: Vec<InputFile>,
}

impl Job {
    /// The bank with this index.
    #[must_use]
    pub fn bank(&self, index: usize) -> &Bank {
        &self.block.banks[index]
    }

    /// Bank index and bore site of a cylinder.
    #[must_use]
    pub fn site(&self, cylinder: u32) -> Option<(usize, &Site)> {
        self.block
            .banks
            .iter()
            .enumerate()
            .find_map(|(b, bank)| bank.sites.iter().find(|s| s.cylinder == cylinder).map(|s| (b, s)))
    }

    /// The set-up that gives a bank its datum on the machine: the first one read of it.
    #[must_use]
    pub fn set_up_of(&self, bank: usize) -> Option<&SetUp> {
        self.set_ups.iter().find(|s| s.bank == bank)
    }
}

/// How far the block turns from one bank up to the other, as read (sine bar, or the circle closed).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct IndexSpan {
    /// As read, degrees.
    pub angle_deg: f64,
    /// Its standard uncertainty, degrees.
    pub u_deg: f64,
}

/// What holds the block.
#[derive(Debug, Clone, PartialEq)]
pub struct Fixture {
    /// In words.
    pub held_by: String,
    /// Whether its combined error enters the limits measured from the journal axis.
    pub feeds_limits: bool,
    /// The six locators.
    pub locators: Vec<FixtureLocator>,
}

/// One locator.
#[derive(Debug, Clone, PartialEq)]
pub struct FixtureLocator {
    /// Its name.
    pub name: String,
    /// Where, in the block frame, mm.
    pub at_mm: [f64; 3],
    /// The direction in which it pushes the block, of length 1.
    pub inward: [f64; 3],
    /// Standard uncertainty of its place along that direction, mm.
    pub u_mm: f64,
}

/// One file a plan rests on.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InputFile {
    /// Its path as named in the job.
    pub name: String,
    /// SHA-256 of its bytes, lower-case hexadecimal.
    pub sha256: String,
}

/// Units of the printed sheets.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum SheetUnits {
    /// Millimetres.
    Mm,
    /// Inches.
    In,
    /// Millimetres with inches beside them.
    Both,
}

/// What the planned centres follow.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Aim {
    /// The true position from the journal axis.
    Journal,
    /// The bore that is there.
    Parent,
}

/// Which way the crankshaft turns, seen from the front.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Rotation {
    /// The major thrust side is +Y in every bank.
    Clockwise,
    /// The major thrust side is -Y in every bank.
    Anticlockwise,
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
    /// Drilled coolant holes.
    pub coolant_holes: Vec<CoolantHole>,
    /// The gasket's combustion seal.
    pub fire_ring: Option<FireRing>,
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
    /// Rapids end this far above the deck, mm.
    pub clearance_mm: f64,
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
    /// As written in a list.
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
    /// Nose radius of the tip, mm.
    pub nose_radius_mm: Option<f64>,
    /// What it may do in each material, by material name.
    pub cuts: Vec<Cut>,
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

/// Stock and windows of the pocket, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowances {
    /// Radial stock that roughing leaves for the finishing pass.
    pub pocket_mm: f64,
    /// Either side of a register's size.
    pub pocket_size_mm: f64,
    /// Either side of a ledge's depth.
    pub ledge_depth_mm: f64,
    /// Chamfer of the ledge's inner edge, at 45 degrees.
    pub ledge_chamfer_mm: f64,
}

impl Default for Allowances {
    /// The usual figures. Common practice, no source.
    fn default() -> Self {
        Self { pocket_mm: 0.2, pocket_size_mm: 0.006, ledge_depth_mm: 0.010, ledge_chamfer_mm: 0.5 }
    }
}

/// What fits, seats and strokes rest on besides the block and the sleeve.
#[derive(Debug, Clone)]
pub struct Engine {
    /// Temperatures at work.
    pub running: Running,
    /// How the sleeves go in.
    pub going_in: GoingInWanted,
    /// The head's bolts, where given.
    pub head_bolts: Option<HeadBolts>,
    /// Crank, rod and piston, where given.
    pub piston: Option<Piston>,
    /// What is still to be cut off the deck.
    pub deck: DeckCut,
}

impl Default for Engine {
    /// What is taken where a job says nothing. Common practice, no source: both parts at 100 °C at work; a sleeve drops
    /// with 0.10 mm, at room temperature, into a block of at most 150 °C (aged alloys soften above it).
    fn default() -> Self {
        Self {
            running: Running { block_c: 100.0, sleeve_c: 100.0, stated: false },
            going_in: GoingInWanted { clearance_mm: 0.10, sleeve_c: 20.0, hottest_c: 150.0 },
            head_bolts: None,
            piston: None,
            deck: DeckCut { cut_mm: 0.0, after_fit: false },
        }
    }
}

/// Temperatures at work, degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// Of the block round the sleeve.
    pub block_c: f64,
    /// Of the sleeve.
    pub sleeve_c: f64,
    /// Whether the job says so; else they are assumed.
    pub stated: bool,
}

/// How a sleeve goes in.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GoingInWanted {
    /// Gap on diameter at which it drops, mm.
    pub clearance_mm: f64,
    /// Temperature of the sleeve, degrees Celsius.
    pub sleeve_c: f64,
    /// Hottest that the block may become, degrees Celsius.
    pub hottest_c: f64,
}

/// The bolts of one bank's head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadBolts {
    /// How many hold one bank's head.
    pub per_bank: f64,
    /// Thread diameter, mm.
    pub diameter_mm: f64,
    /// Tightening torque, N·m.
    pub torque_nm: f64,
    /// K of T = K F d.
    pub nut_factor: f64,
    /// Peak gas pressure, MPa, where given.
    pub gas_mpa: Option<f64>,
}

/// Crank, rod and piston, mm.
#[derive(Debug, Clone)]
pub struct Piston {
    /// Stroke.
    pub stroke_mm: f64,
    /// Rod between centres.
    pub rod_mm: f64,
    /// Pin centre to crown.
    pub pin_height_mm: f64,
    /// Crown to the lower edge of the oil ring.
    pub oil_ring_mm: f64,
    /// Crown to the end of the skirt.
    pub skirt_mm: f64,
    /// Its metal.
    pub material: Material,
    /// Temperature of the skirt at work, degrees Celsius.
    pub temperature_c: f64,
    /// Skirt to finished bore on diameter at 20 °C, where the job gives it, mm.
    pub clearance_mm: Option<f64>,
}

/// What is still to be cut off the deck.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DeckCut {
    /// How much, off the deck as it is, mm.
    pub cut_mm: f64,
    /// Whether it is cut with the sleeves in.
    pub after_fit: bool,
}

/// The finished bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Finish {
    /// Diameter after the hone, mm.
    pub bore_mm: f64,
    /// Left for the hone, on diameter, mm.
    pub hone_stock_mm: f64,
    /// Tolerance of the finished bore (either side), mm.
    pub tolerance_mm: f64,
    /// Thickness of the torque plate that the finish bore runs through, mm, where stated.
    pub plate_mm: Option<f64>,
}

/// One limit: what decides and, where given, what is preferred, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Decides.
    pub least_mm: f64,
    /// A value under it is a hold.
    pub prefer_mm: Option<f64>,
}

/// The limits; one left out is not applied.
#[derive(Debug, Clone, Copy, Default, PartialEq)]
pub struct Limits {
    /// Diameter of the position zone about the true position.
    pub position: Option<Limit>,
    /// Least radial stock all round.
    pub clean_up: Option<Limit>,
    /// Least wall left in the parent metal.
    pub parent_wall: Option<Limit>,
    /// The same within 45 degrees of the major thrust side.
    pub parent_wall_thrust: Option<Limit>,
    /// Between neighbouring pockets below the flange.
    pub bridge: Option<Limit>,
    /// Between neighbouring flange pockets.
    pub flange_gap: Option<Limit>,
    /// Pocket to stud hole.
    pub stud_wall: Option<Limit>,
    /// Pocket to coolant hole.
    pub coolant_hole: Option<Limit>,
    /// Flange beyond the outside of the fire ring.
    pub fire_ring_cover: Option<Limit>,
    /// Inside of the fire ring beyond the finished bore.
    pub fire_ring_bore: Option<Limit>,
    /// Lean of the bank's Z from the machine's Z over the bore length.
    pub squareness: Option<Limit>,
    /// Wall of the finished sleeve.
    pub sleeve_wall: Option<Limit>,
    /// Width of the fire ring on the flange.
    pub ring_on_flange: Option<Limit>,
    /// Difference of a flange's protrusion round the bore.
    pub protrusion_spread: Option<Limit>,
    /// Sleeve below the oil ring at bottom dead centre.
    pub ring_hold: Option<Limit>,
    /// Skirt below the sleeve at bottom dead centre.
    pub skirt_out: Option<Limit>,
    /// Seat pressure over yield: a share, no length.
    pub seat_ratio: Option<Limit>,
    /// Hoop stress over yield: a share, no length.
    pub hoop_ratio: Option<Limit>,
}

/// Standard uncertainties, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Instruments {
    /// One coordinate of a bore centre.
    pub centre_mm: f64,
    /// A diameter.
    pub diameter_mm: f64,
    /// A wall reading.
    pub wall_mm: f64,
    /// The journal axis in a set-up, across.
    pub axis_mm: f64,
    /// The along datum.
    pub along_mm: f64,
    /// Where the machine bores against where it was told to.
    pub machine_mm: f64,
}

/// Temperatures at measuring, degrees Celsius.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Temperature {
    /// Of the block.
    pub block_c: f64,
    /// Of the machine.
    pub machine_c: f64,
}

/// Which way round the block stands: its front at the operator's left or right.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Front {
    /// Front at the left: X to the rear, Y across as in the bank.
    Left,
    /// Front at the right: X and Y both turned about.
    Right,
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
    pub files: BTreeMap<&'static str, String>,
}

/// The frame of a set-up's readings.
#[derive(Debug, Clone)]
pub enum ReadingFrame {
    /// x and y already from the journal axis, in the bank frame.
    Journal,
    /// As read off the machine.
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
    pub main: String,
    /// Its coordinates, mm.
    pub at_mm: [f64; 3],
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
    /// As written in a table.
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
