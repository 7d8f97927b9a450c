//! The finished engine's demands: stock and windows, temperatures, bolts, piston, deck, finished bore.

use crate::material::Material;

/// Stock and windows of the pocket, mm.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Allowances {
    /// Radial stock that roughing leaves for the finishing pass, mm.
    pub pocket_mm: f64,
    /// Either side of a register's size.
    pub pocket_size_mm: f64,
    /// Either side of a ledge's depth.
    pub ledge_depth_mm: f64,
    /// Chamfer of the ledge's inner edge, at 45 degrees.
    pub ledge_chamfer_mm: f64,
    /// Wall of a finished sleeve under which a job holds without any limit, mm.
    pub sleeve_wall_mm: f64,
}

impl Default for Allowances {
    /// The usual figures. Common practice, no source.
    fn default() -> Self {
        Self {
            pocket_mm: 0.2,
            pocket_size_mm: 0.006,
            ledge_depth_mm: 0.010,
            ledge_chamfer_mm: 0.5,
            sleeve_wall_mm: 1.5,
        }
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
    /// In which order and steps they are tightened, as far as the job says.
    pub tightening: Tightening,
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
            tightening: Tightening::default(),
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

/// How the bolts of a head, or of the plate in its place, are tightened; empty where the job does not say.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct Tightening {
    /// Numbers of a bank's bolts, as the block's description lists its studs, in the order that they are tightened in.
    pub order: Vec<u32>,
    /// The steps in words.
    pub steps: Vec<String>,
    /// The last torque, N·m, where the preload rests on one.
    pub torque_nm: Option<f64>,
}

/// The bolts of one bank's head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadBolts {
    /// How many hold one bank's head.
    pub per_bank: f64,
    /// Diameter of their thread, mm, where given.
    pub thread_mm: Option<f64>,
    /// Preload of one, N.
    pub each_n: f64,
    /// What one may be off by, either way, as a share of it.
    pub scatter: f64,
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
    /// Whether the job states it.
    pub temperature_stated: bool,
    /// Thickness of the head gasket once clamped, where given.
    pub gasket_mm: Option<f64>,
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
    /// Piston's clearance in it, where it is stated by piston and clearance, mm.
    pub clearance_mm: Option<f64>,
    /// Left for the hone, on diameter, mm.
    pub hone_stock_mm: f64,
    /// Tolerance of the finished bore (either side), mm.
    pub tolerance_mm: f64,
    /// Thickness of the torque plate that the finish bore runs through, mm, where stated.
    pub plate_mm: Option<f64>,
    /// Mean roughness Ra asked of it, least and most, µm, where the job asks one.
    pub roughness_um: Option<[f64; 2]>,
}
