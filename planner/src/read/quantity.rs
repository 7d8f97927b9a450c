//! The one table of bounds: every quantity of the input, its name, its unit, the least and most it can be.
//!
//! Bounds are physical sense for engine blocks from a model engine to a ship's auxiliary, not advice.

/// In what a quantity is counted.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unit {
    /// Millimetres.
    Mm,
    /// Degrees.
    Degree,
    /// Degrees Celsius.
    Celsius,
    /// Metres per minute.
    MetrePerMinute,
    /// Per minute.
    PerMinute,
    /// Kilowatts.
    Kilowatt,
    /// Megapascals.
    Megapascal,
    /// Newton metres.
    NewtonMetre,
    /// Newtons.
    Newton,
    /// Newtons per millimetre.
    NewtonPerMm,
    /// 1e-6 per kelvin.
    MicroPerKelvin,
    /// None.
    One,
}

impl Unit {
    /// The unit as printed after a number, with its space.
    #[must_use]
    pub fn suffix(self) -> &'static str {
        match self {
            Self::Mm => " mm",
            Self::Degree => " degrees",
            Self::Celsius => " °C",
            Self::MetrePerMinute => " m/min",
            Self::PerMinute => " 1/min",
            Self::Kilowatt => " kW",
            Self::Megapascal => " MPa",
            Self::NewtonMetre => " N·m",
            Self::Newton => " N",
            Self::NewtonPerMm => " N/mm",
            Self::MicroPerKelvin => "e-6 1/K",
            Self::One => "",
        }
    }
}

/// One quantity's name and bounds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    /// With its article: "a bore spacing".
    pub name: &'static str,
    /// Its unit.
    pub unit: Unit,
    /// The least it can be, in its unit.
    pub least: f64,
    /// The most it can be, in its unit.
    pub most: f64,
}

impl Quantity {
    /// "a bore spacing from 20 mm to 400 mm".
    #[must_use]
    pub fn expected(&self) -> String {
        let unit = self.unit.suffix();
        format!("{} from {}{unit} to {}{unit}", self.name, self.least, self.most)
    }

    /// Whether a value lies within the bounds.
    #[must_use]
    pub fn holds(&self, value: f64) -> bool {
        value.is_finite() && value >= self.least && value <= self.most
    }
}

const fn mm(name: &'static str, least: f64, most: f64) -> Quantity {
    Quantity { name, unit: Unit::Mm, least, most }
}

const fn of(name: &'static str, unit: Unit, least: f64, most: f64) -> Quantity {
    Quantity { name, unit, least, most }
}

/// Included angle between banks.
pub const BANK_ANGLE: Quantity = of("an included bank angle", Unit::Degree, 0.0, 180.0);
/// Angle of one bank from the block's Z.
pub const LEAN: Quantity = of("a bank's angle", Unit::Degree, -90.0, 90.0);
/// From bore to bore.
pub const BORE_SPACING: Quantity = mm("a bore spacing", 20.0, 400.0);
/// Journal axis to deck.
pub const DECK_HEIGHT: Quantity = mm("a deck height", 50.0, 1000.0);
/// A place along the journal axis.
pub const ALONG: Quantity = mm("a place along the journal axis", -3000.0, 3000.0);
/// A place across a bank.
pub const ACROSS: Quantity = mm("a place across the bank", -500.0, 500.0);
/// Designed offset of the bores from the journal axis.
pub const AXIS_OFFSET: Quantity = mm("an axis offset", -30.0, 30.0);
/// Main housing bore.
pub const HOUSING_BORE: Quantity = mm("a main housing bore", 15.0, 300.0);
/// A zone or step of the journal axis.
pub const ALIGNMENT: Quantity = mm("an alignment limit", 0.001, 1.0);
/// A bore, liner, sleeve or pocket diameter.
pub const BORE: Quantity = mm("a bore diameter", 20.0, 400.0);
/// A depth below the deck.
pub const DEPTH: Quantity = mm("a depth below the deck", 0.0, 800.0);
/// A depth of something drilled, which may start above the deck.
pub const HOLE_DEPTH: Quantity = mm("a depth below the deck", -50.0, 800.0);
/// A length of a bore or sleeve.
pub const LENGTH: Quantity = mm("a length", 10.0, 800.0);
/// Room below the bore.
pub const ROOM: Quantity = mm("a room below the bore", 0.0, 300.0);
/// A hole's diameter.
pub const HOLE: Quantity = mm("a hole diameter", 0.5, 60.0);
/// A flange's thickness.
pub const FLANGE_THICKNESS: Quantity = mm("a flange thickness", 1.0, 80.0);
/// The height of a step below a pocket.
pub const STEP_HEIGHT: Quantity = mm("a height of a step", 0.5, 50.0);
/// How far a sleeve is left above the deck, to be cut flush.
pub const STAND: Quantity = mm("a stand above the deck", 0.0, 3.0);
/// A clearance on diameter.
pub const CLEARANCE: Quantity = mm("a clearance on diameter", 0.0, 5.0);
/// An interference on diameter.
pub const INTERFERENCE: Quantity = mm("an interference on diameter", 0.0, 0.5);
/// A protrusion above the deck.
pub const PROTRUSION: Quantity = mm("a protrusion", -0.5, 3.0);
/// A groove's width.
pub const GROOVE_WIDTH: Quantity = mm("a groove width", 0.5, 20.0);
/// An O-ring's cord.
pub const CORD: Quantity = mm("an O-ring cord", 0.5, 15.0);
/// A limit on metal or error.
pub const LIMIT: Quantity = mm("a limit", 0.0, 50.0);
/// A standard uncertainty.
pub const UNCERTAINTY: Quantity = mm("a standard uncertainty", 0.0001, 2.0);
/// A standard uncertainty of an angle.
pub const ANGLE_UNCERTAINTY: Quantity = of("a standard uncertainty of an angle", Unit::Degree, 0.0001, 1.0);
/// Stock on diameter.
pub const HONE_STOCK: Quantity = mm("a hone stock on diameter", 0.0, 1.0);
/// Radial stock left for a finishing pass.
pub const ALLOWANCE: Quantity = mm("a radial allowance", 0.0, 3.0);
/// An edge's chamfer or fillet.
pub const EDGE: Quantity = mm("a chamfer or fillet", 0.0, 5.0);
/// The wall of a finished sleeve.
pub const SLEEVE_WALL: Quantity = mm("a sleeve's wall", 0.1, 20.0);
/// A head gasket once clamped.
pub const GASKET: Quantity = mm("a head gasket's thickness", 0.1, 10.0);
/// A bolt's thread diameter.
pub const BOLT: Quantity = mm("a bolt diameter", 3.0, 40.0);
/// A stroke.
pub const STROKE: Quantity = mm("a stroke", 10.0, 600.0);
/// A connecting rod between centres.
pub const ROD: Quantity = mm("a rod length", 20.0, 1200.0);
/// A height on a piston.
pub const PISTON_HEIGHT: Quantity = mm("a height on the piston", 1.0, 400.0);
/// What is cut off a deck.
pub const DECK_CUT: Quantity = mm("a cut off the deck", 0.0, 5.0);
/// What stands on a deck beside the bores.
pub const CLAMPS: Quantity = mm("a height of clamps", 0.0, 300.0);
/// A tolerance.
pub const TOLERANCE: Quantity = mm("a tolerance", 0.001, 0.5);
/// Thickness of a torque plate.
pub const PLATE: Quantity = mm("a torque plate's thickness", 5.0, 200.0);
/// Piston to bore.
pub const PISTON_CLEARANCE: Quantity = mm("a piston clearance", 0.005, 1.0);
/// Where the gasket sits.
pub const GASKET_SHIFT: Quantity = mm("a gasket shift", -3.0, 3.0);
/// A component of a direction.
pub const DIRECTION: Quantity = of("a component of a direction", Unit::One, -1000.0, 1000.0);
/// A machine coordinate.
pub const COORDINATE: Quantity = mm("a machine coordinate", -20_000.0, 20_000.0);
/// A wall thickness.
pub const WALL: Quantity = mm("a wall thickness", 0.0, 200.0);
/// A liner height against the deck.
pub const HEIGHT: Quantity = mm("a height against the deck", -20.0, 20.0);
/// A clock angle.
pub const CLOCK: Quantity = of("a clock angle", Unit::Degree, -360.0, 360.0);
/// A temperature.
pub const TEMPERATURE: Quantity = of("a temperature", Unit::Celsius, -30.0, 100.0);
/// A temperature at work.
pub const HOT: Quantity = of("a temperature at work", Unit::Celsius, -30.0, 400.0);
/// A sleeve's temperature as it goes in.
pub const COLD: Quantity = of("a sleeve's temperature", Unit::Celsius, -200.0, 60.0);
/// A tightening torque.
pub const TORQUE: Quantity = of("a tightening torque", Unit::NewtonMetre, 1.0, 2000.0);
/// A bolt's preload.
pub const PRELOAD: Quantity = of("a bolt's preload", Unit::Newton, 100.0, 1_000_000.0);
/// A coefficient of friction.
pub const FRICTION: Quantity = of("a coefficient of friction", Unit::One, 0.02, 0.5);
/// A nut factor.
pub const NUT_FACTOR: Quantity = of("a nut factor", Unit::One, 0.05, 0.5);
/// A number of bolts.
pub const BOLTS: Quantity = of("a number of bolts", Unit::One, 2.0, 100.0);
/// The number of a bolt.
pub const BOLT_NUMBER: Quantity = of("a bolt's number", Unit::One, 1.0, 100.0);
/// A mean roughness.
pub const ROUGHNESS: Quantity = of("a mean roughness in micrometres", Unit::One, 0.02, 10.0);
/// A gas pressure.
pub const GAS: Quantity = of("a gas pressure", Unit::Megapascal, 0.1, 40.0);
/// How a bore read at one depth may lean.
pub const BORE_LEAN: Quantity = of("a lean of a bore", Unit::One, 0.0, 0.01);
/// Standard uncertainty of a difference of temperatures.
pub const KELVIN: Quantity = of("a difference of temperatures", Unit::One, 0.01, 50.0);
/// A share of the whole.
pub const SHARE: Quantity = of("a share", Unit::One, 0.01, 2.0);
/// Reach of a tool.
pub const REACH: Quantity = mm("a tool reach", 5.0, 1500.0);
/// A cutter or head diameter.
pub const TOOL_DIAMETER: Quantity = mm("a tool diameter", 1.0, 500.0);
/// A tip's nose radius.
pub const NOSE_RADIUS: Quantity = mm("a nose radius", 0.01, 10.0);
/// Feed per revolution.
pub const FEED_PER_REV: Quantity = mm("a feed per revolution", 0.001, 5.0);
/// Radial depth of cut.
pub const CUT_DEPTH: Quantity = mm("a radial depth of cut", 0.005, 20.0);
/// Feed of a machine per minute.
pub const FEED: Quantity = mm("a feed per minute", 1.0, 100_000.0);
/// Clearance of rapids above the deck.
pub const RAPID_CLEARANCE: Quantity = mm("a clearance above the deck", 0.5, 200.0);
/// Clearance of stops above the deck.
pub const STOP_CLEARANCE: Quantity = mm("a clearance of stops above the deck", 5.0, 600.0);
/// A spindle speed.
pub const RPM: Quantity = of("a spindle speed", Unit::PerMinute, 1.0, 60_000.0);
/// Strokes of a hone.
pub const STROKES: Quantity = of("a number of double strokes", Unit::PerMinute, 1.0, 600.0);
/// Spindle power.
pub const POWER: Quantity = of("a spindle power", Unit::Kilowatt, 0.05, 500.0);
/// Cutting speed.
pub const CUTTING_SPEED: Quantity = of("a cutting speed", Unit::MetrePerMinute, 1.0, 5000.0);
/// Young's modulus.
pub const ELASTIC: Quantity = of("a modulus of elasticity", Unit::Megapascal, 1000.0, 500_000.0);
/// Poisson's ratio.
pub const POISSON: Quantity = of("a Poisson's ratio", Unit::One, 0.0, 0.49);
/// Expansion.
pub const EXPANSION: Quantity = of("a linear expansion", Unit::MicroPerKelvin, 4.0, 30.0);
/// A temperature of a table of expansion.
pub const EXPANSION_AT: Quantity = of("a temperature of an expansion", Unit::Celsius, -200.0, 500.0);
/// Teeth of a cutter.
pub const TEETH: Quantity = of("a number of teeth", Unit::One, 1.0, 40.0);
/// Specific cutting force.
pub const CUTTING_FORCE: Quantity = of("a specific cutting force", Unit::Megapascal, 100.0, 6000.0);
/// Exponent of the chip's thickness.
pub const EXPONENT: Quantity = of("an exponent of the chip's thickness", Unit::One, 0.0, 0.6);
/// A spindle's stiffness.
pub const STIFFNESS: Quantity = of("a spindle's stiffness", Unit::NewtonPerMm, 500.0, 1_000_000.0);
/// Yield.
pub const YIELD: Quantity = of("a yield strength", Unit::Megapascal, 5.0, 3000.0);
