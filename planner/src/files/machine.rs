//! `borewright/machine/1`: the machine, its tools and its hone.

use std::borrow::Cow;
use std::collections::BTreeMap;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{self, Deserializer, Visitor};
use serde::{Deserialize, Serialize};

use crate::read::given::{At, CuttingSpeed, Length, Number, Scalar, Units};

/// What such a file says of itself.
pub const MACHINE_FORMAT: &str = "borewright/machine/1";

/// A machine.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
#[schemars(title = MACHINE_FORMAT)]
pub struct MachineFile {
    /// `borewright/machine/1`.
    #[schemars(extend("const" = MACHINE_FORMAT))]
    pub format: At<String>,
    /// Its name.
    pub name: At<String>,
    /// Units of bare numbers; mm unless stated.
    #[serde(default)]
    pub units: Units,
    /// Travel of the spindle nose's tool point, machine coordinates.
    pub travel: TravelFile,
    /// The spindle.
    pub spindle: SpindleFile,
    /// Fastest feed per minute.
    pub feed: At<Length>,
    /// Words that differ between controls.
    #[serde(default)]
    pub words: WordsFile,
    /// What coordinate lists are in; mm unless stated.
    pub lists: Option<At<ListUnitsWord>>,
    /// Rapids end this far above the deck.
    pub clearance: At<Length>,
    /// Stops are taken this far above the deck, as high as a bore gauge needs; the highest that the travel allows up to
    /// 150 mm unless stated.
    pub stop_clearance: Option<At<Length>>,
    /// The tools.
    pub tools: At<Vec<ToolFile>>,
    /// The hone.
    pub hone: Option<HoneFile>,
    /// Which parts of a pocket are milled on a helix; the rest is bored.
    #[serde(default)]
    pub mill: Vec<At<MillWord>>,
}

/// A part of a pocket that can be milled.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum MillWord {
    /// The flange's recess and its ledge.
    Flange,
    /// Wet lengths.
    Wet,
    /// Registers.
    Register,
}

/// What a bar is made of.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
pub enum BarWord {
    /// Steel.
    #[default]
    #[serde(rename = "steel")]
    Steel,
    /// Tungsten heavy metal.
    #[serde(rename = "heavy metal")]
    HeavyMetal,
}

/// Travel, least and most of each axis.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TravelFile {
    /// Along the operator's left and right.
    pub x: [At<Length>; 2],
    /// Away from the operator.
    pub y: [At<Length>; 2],
    /// Up.
    pub z: [At<Length>; 2],
}

/// The spindle.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SpindleFile {
    /// Least and most speed, 1/min.
    pub rpm: [At<Number>; 2],
    /// Power, kW.
    pub power: Option<At<Number>>,
    /// Stiffness at the nose, N/mm; 20 000 unless stated.
    pub stiffness: Option<At<Number>>,
    /// Diameter of the nose, with what turns there.
    pub nose: Option<At<Length>>,
}

/// Words that differ between controls.
#[derive(Debug, Default, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WordsFile {
    /// The word that sets millimetres: G21 or G71; the one of the same family as `inches` unless stated, else G21.
    pub millimetres: Option<At<String>>,
    /// The word that sets inches: G20 or G70; needed where lists are in inches.
    pub inches: Option<At<String>>,
}

/// What coordinate lists are in.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ListUnitsWord {
    /// Millimetres.
    Mm,
    /// Inches.
    In,
}

/// What a tool is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum ToolWord {
    /// A boring head.
    Boring,
    /// A milling cutter.
    Milling,
}

/// One tool.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ToolFile {
    /// Its name.
    pub name: At<String>,
    /// What it is.
    pub kind: At<ToolWord>,
    /// A boring head's range, or a cutter's own diameter.
    pub diameter: At<ToolDiameter>,
    /// Below the spindle nose.
    pub reach: At<Length>,
    /// Diameter of the bar.
    pub bar: Option<At<Length>>,
    /// What the bar is made of; steel unless stated.
    #[serde(default)]
    pub bar_material: BarWord,
    /// Nose radius of the tip.
    pub nose_radius: Option<At<Length>>,
    /// How far a cutter goes down in one turn round a pocket; a tenth of its diameter unless stated.
    pub step_down: Option<At<Length>>,
    /// Teeth of a cutter; the whole feed of a turn is reckoned as one tooth's unless stated.
    pub teeth: Option<At<Number>>,
    /// What it may do, by material.
    #[serde(default)]
    pub cuts: BTreeMap<String, At<CutFile>>,
}

/// A range, or one diameter.
#[derive(Debug, Clone)]
pub enum ToolDiameter {
    /// Least and most.
    Range([At<Length>; 2]),
    /// One.
    One(Length),
}

impl<'de> Deserialize<'de> for ToolDiameter {
    /// One length, or a list of just two for a range; a whole number stays text, so that its digits are told back
    /// as typed.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct DiameterVisitor;

        impl<'de> Visitor<'de> for DiameterVisitor {
            type Value = ToolDiameter;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a diameter, or a range of two")
            }
            fn visit_f64<E: de::Error>(self, number: f64) -> Result<ToolDiameter, E> {
                Ok(ToolDiameter::One(Length(Scalar::Number(number))))
            }
            fn visit_u64<E: de::Error>(self, number: u64) -> Result<ToolDiameter, E> {
                Ok(ToolDiameter::One(Length(Scalar::Text(number.to_string()))))
            }
            fn visit_i64<E: de::Error>(self, number: i64) -> Result<ToolDiameter, E> {
                Ok(ToolDiameter::One(Length(Scalar::Text(number.to_string()))))
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<ToolDiameter, E> {
                Ok(ToolDiameter::One(Length(Scalar::Text(text.to_owned()))))
            }
            fn visit_seq<A: de::SeqAccess<'de>>(self, mut seq: A) -> Result<ToolDiameter, A::Error> {
                let mut ends: Vec<At<Length>> = Vec::new();
                while let Some(end) = seq.next_element()? {
                    ends.push(end);
                }
                let count = ends.len();
                <[At<Length>; 2]>::try_from(ends)
                    .map(ToolDiameter::Range)
                    .map_err(|_| de::Error::invalid_length(count, &"2 values"))
            }
        }

        deserializer.deserialize_any(DiameterVisitor)
    }
}

impl JsonSchema for ToolDiameter {
    fn schema_name() -> Cow<'static, str> {
        "ToolDiameter".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let length = generator.subschema_for::<Length>();
        json_schema!({
            "description": "A boring head's range, or a cutter's own diameter.",
            "anyOf": [length, { "type": "array", "items": length, "minItems": 2, "maxItems": 2 }]
        })
    }
}

/// Cutting data in one material.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CutFile {
    /// Cutting speed, m/min.
    pub speed: At<CuttingSpeed>,
    /// Feed per revolution.
    pub feed: At<Length>,
    /// Most radial depth.
    pub depth: At<Length>,
}

/// The hone.
#[derive(Debug, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HoneFile {
    /// Least and most speed, 1/min.
    pub rpm: [At<Number>; 2],
    /// Least and most double strokes, 1/min.
    pub strokes: [At<Number>; 2],
}
