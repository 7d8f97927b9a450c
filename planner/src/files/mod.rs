//! The input files as they are written, one type a file; JSON Schemas come from these types.

mod block;
mod engine;
mod job;
mod limits;
mod machine;
mod shop;
mod sleeve;

pub use block::{
    BLOCK_FORMAT, BankFile, BlockFile, CoolantHoleFile, DepthsFile, FireRingFile, JournalAxisFile, LinerFile,
    MainFile, ParentFile, RotationWord, StudFile,
};
pub use engine::{DeckFile, GoingInFile, HeadBoltsFile, ListsWord, PistonFile, RunningFile, WhenWord};
pub use job::{
    AimWord, AlongFile, CuttingFile, FinishFile, FixtureFile, FrameWord, FrontWord, IndexSpanFile,
    JOB_FORMAT, JobFile, LocatorFile, ReadingsFile, RoughnessFile, SheetUnitsWord, ShiftFile,
    TemperatureFile,
};
pub use limits::LimitsFile;
pub use machine::{
    BarWord, CutFile, HoneFile, ListUnitsWord, MACHINE_FORMAT, MachineFile, MillWord, SpindleFile,
    ToolDiameter, ToolFile, ToolWord, TravelFile, WordsFile,
};
pub use shop::{AllowancesFile, InstrumentsFile, SHOP_FORMAT, ShopFile};
pub use sleeve::{
    FlangeFile, FootFile, KindWord, ORingFile, ProtrusionFile, SLEEVE_FORMAT, SleeveFile, StepFile,
};

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::{self, Deserializer, Visitor};

use crate::read::given::{At, Number};
use crate::read::yaml::Kind;

macro_rules! kinds {
    ($($file:ty: $format:expr),*) => {
        $(impl Kind for $file {
            const FORMAT: &'static str = $format;
        })*
    };
}

kinds!(
    JobFile: JOB_FORMAT,
    BlockFile: BLOCK_FORMAT,
    SleeveFile: SLEEVE_FORMAT,
    MachineFile: MACHINE_FORMAT,
    ShopFile: SHOP_FORMAT
);

/// A metal: a name of the built-in table, or a map of its own.
#[derive(Debug, Clone)]
pub enum MaterialFile {
    /// A name.
    Named(String),
    /// A metal of its own.
    Own(Box<OwnMaterial>),
}

/// A metal described in the file.
#[derive(Debug, Clone, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct OwnMaterial {
    /// Its name, as the machine's `cuts` name it.
    pub name: At<String>,
    /// Modulus of elasticity, MPa.
    pub elastic: At<Number>,
    /// Poisson's ratio.
    pub poisson: At<Number>,
    /// Mean linear expansion from 20 to 100 °C, 1e-6 per kelvin.
    pub expansion: At<Number>,
    /// The mean from 20 °C to other temperatures: pairs of a temperature and 1e-6 per kelvin, rising; as to 100 °C unless
    /// given.
    #[serde(default)]
    pub mean_expansion: Vec<[At<Number>; 2]>,
    /// Yield strength, MPa.
    #[serde(rename = "yield")]
    pub yield_strength: At<Number>,
    /// Yield strength when hot: pairs of a temperature and MPa, rising; constant unless given.
    #[serde(default)]
    pub hot_yield: Vec<[At<Number>; 2]>,
    /// What it bears for good without creeping away: pairs of a temperature and MPa, rising; nothing to mind below the first,
    /// nor unless given.
    #[serde(default)]
    pub creep: Vec<[At<Number>; 2]>,
    /// Specific cutting force of a chip 1 mm thick, MPa.
    pub cutting_force: Option<At<Number>>,
    /// How it falls with thicker chips.
    pub cutting_exponent: Option<At<Number>>,
    /// Where the figures come from.
    pub source: Option<At<String>>,
}

impl<'de> Deserialize<'de> for MaterialFile {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct MaterialVisitor;

        impl<'de> Visitor<'de> for MaterialVisitor {
            type Value = MaterialFile;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the name of a material, or a map that describes one")
            }
            fn visit_str<E: de::Error>(self, name: &str) -> Result<MaterialFile, E> {
                Ok(MaterialFile::Named(name.to_owned()))
            }
            fn visit_map<A: de::MapAccess<'de>>(self, map: A) -> Result<MaterialFile, A::Error> {
                OwnMaterial::deserialize(de::value::MapAccessDeserializer::new(map))
                    .map(Box::new)
                    .map(MaterialFile::Own)
            }
        }

        deserializer.deserialize_any(MaterialVisitor)
    }
}

impl JsonSchema for MaterialFile {
    fn schema_name() -> Cow<'static, str> {
        "Material".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let names: Vec<&str> = crate::material::names().collect();
        let own = generator.subschema_for::<OwnMaterial>();
        json_schema!({
            "description": "A metal: a built-in name, the name of one described in the same job, or a map of its own.",
            "anyOf": [{ "type": "string", "examples": names }, own]
        })
    }
}
