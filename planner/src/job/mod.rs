//! The job once checked: every value present, in range, in mm (or the unit its name ends in).
//!
//! Nothing after `check` sees a value that is not here.

mod block;
mod cut;
mod described;
mod engine;
mod fixture;
pub mod iso286;
pub mod limits;
pub mod locating;
mod machine;
pub mod pocket;
mod readings;
pub mod rounds;
mod sleeve;
mod temperature;
pub mod words;

use crate::plan::sentence::Sentence;
use std::collections::BTreeMap;

use crate::log::{Log, Whose};
use crate::plan::JournalAxis as ReadAxis;
use crate::read::given::Units;

pub use block::{
    Bank, Block, CoolantHole, Depths, FireRing, JournalAxis, Liner, Main, Parent, Rotation, Site, Stud,
};
pub use cut::{CutBore, CutPart};
pub use described::Described;
pub use engine::{
    Allowances, DeckCut, Engine, Finish, GoingInWanted, HeadBolts, Piston, Running, Tightening,
};
pub use fixture::{Fixture, FixtureLocator, IndexSpan};
pub use limits::{EXACT_MM, Instruments, LEAN, Limit, Limits};
pub use machine::{Cut, Hone, Machine, Milled, MillimetresWord, Tool, ToolKind};
pub use readings::{
    AxisReading, BoreReading, Front, HeightReading, MachineReadings, PointReading, ReadingFrame, SetUp,
    SetUpPlacement, ShapeReading, Surface, TableKind, WallReading, WitnessReading,
};
pub use sleeve::{Flange, Foot, MeasuredSleeve, ORing, Sleeve, SleeveKind, Stands, Step, Thickness};
pub use temperature::{REFERENCE_C, Temperature, Warmth};

/// Everything a plan is made from.
#[derive(Debug, Clone)]
pub struct Job {
    /// The shop's job number, as typed.
    pub number: String,
    /// Free text.
    pub customer: Option<String>,
    /// In which units bare numbers of the job and its tables are.
    pub units: Units,
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
    /// Instruments that the job states far better than its shop does: name, the job's figure, the shop's, mm.
    pub bettered: Vec<(&'static str, [f64; 2])>,
    /// Limits that the job states far looser than its shop does: name, the job's figure and the shop's, mm.
    pub loosened: Vec<(&'static str, [f64; 2])>,
    /// The limits that its shop states.
    pub shop_limits: Limits,
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
    /// What was measured and what happened while the work went on.
    pub log: Log,
    /// What is cut already, by cylinder: read from the record against the plan that would be made without it.
    pub cut: BTreeMap<u32, CutBore>,
    /// The candidate that the work has begun with.
    pub kept_sleeve: Option<usize>,
    /// The descriptions it was read from.
    pub described: Described,
    /// The files read, in reading order.
    pub inputs: Vec<InputFile>,
}

impl Job {
    /// The bank with this index.
    #[must_use]
    pub fn bank(&self, index: usize) -> &Bank {
        &self.block.banks[index]
    }

    /// Whose it is, as a record of it is known again.
    #[must_use]
    pub fn whose(&self) -> Whose {
        let names = [&self.number, self.customer.as_deref().unwrap_or_default(), &self.block.name];
        Whose::of(names, self.inputs.iter().map(|input| (input.name.as_str(), input.sha256.as_str())))
    }

    /// From the deck as it is to the lower end of a fitted sleeve, mm.
    #[must_use]
    pub fn end_mm(&self, sleeve: &Sleeve) -> f64 {
        sleeve.length_mm + self.engine.deck.cut_mm
    }

    /// What of the bore is left below a fitted sleeve, mm; negative where the sleeve stands past it.
    #[must_use]
    pub fn left_below_mm(&self, sleeve: &Sleeve) -> f64 {
        self.block.parent.bore_length_mm - sleeve.length_mm - self.engine.deck.cut_mm
    }

    /// How far a tool may run past a fitted sleeve, mm; negative where the sleeve reaches deeper than any may.
    #[must_use]
    pub fn room_below_mm(&self, sleeve: &Sleeve) -> f64 {
        self.block.parent.floor_mm() - self.end_mm(sleeve)
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

    /// The bank's deck above the journal axis: as it was read in the set-up that gives its datum, else as
    /// described, mm.
    #[must_use]
    pub fn deck_as_it_is_mm(&self, bank: usize, read: &[ReadAxis]) -> f64 {
        let set_up = self.set_up_of(bank);
        let axis = set_up.and_then(|s| read.iter().find(|a| a.set_up == s.name));
        axis.and_then(|a| a.deck_height).unwrap_or(self.bank(bank).deck_height_mm)
    }

    /// What is said of a size behind its figure at 20 °C, mm, in a metal of this expansion, 1/K: the size on the
    /// block as it is cut. Nothing where that is at 20 °C or no temperature was given.
    #[must_use]
    pub fn at_cutting_words(&self, size_mm: f64, per_k: f64) -> Sentence {
        let warm = self.temperature.and_then(|t| t.size_at_cutting(size_mm, per_k));
        warm.map_or_else(Sentence::new, |warm| warm.words())
    }

    /// What a length at 20 °C becomes on the machine's scales while the block is cut; 1 where no temperatures were
    /// given.
    #[must_use]
    pub fn at_cutting(&self) -> f64 {
        self.temperature
            .map_or(1.0, |t| 1.0 / t.cutting.to_reference(self.block.parent.material.expansion_per_k))
    }

    /// What each mm of length may be off by because the temperature difference of block and machine has an
    /// uncertainty: the block metal's expansion times that, mm a mm; 0 where the job states none.
    #[must_use]
    pub fn unlike_per_mm(&self) -> f64 {
        let u_k = self.temperature.and_then(|t| t.u_k).unwrap_or_default();
        self.block.parent.material.expansion_per_k * u_k
    }

    /// The set-up that gives a bank its datum on the machine: the first one read of it.
    #[must_use]
    pub fn set_up_of(&self, bank: usize) -> Option<&SetUp> {
        self.set_ups.iter().find(|s| s.bank == bank)
    }
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
