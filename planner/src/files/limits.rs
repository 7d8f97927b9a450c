//! Limits as a job or a shop states them: the keys are those of `limits::ALL`.

use std::borrow::Cow;
use std::fmt;
use std::sync::LazyLock;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::{self, Deserializer, Visitor};

use crate::limits::{ALL, Kind, Stated, stated};
use crate::read::fault::Place;
use crate::read::given::{At, LimitGiven};
use crate::read::position::PositionGiven;

/// Least metal or largest error; a limit left out is not applied.
#[derive(Debug, Default)]
pub struct LimitsFile {
    /// The position zone, round or two parallel ones.
    pub position: Option<At<PositionGiven>>,
    /// Every other limit, in the order of the file.
    pub limits: Vec<(&'static Stated, At<LimitGiven>)>,
}

impl LimitsFile {
    /// Where a limit stands.
    #[must_use]
    pub fn place(&self, limit: &Stated) -> Option<Place> {
        self.limits.iter().find(|(stated, _)| stated.name == limit.name).map(|(_, given)| given.place)
    }
}

static NAMES: LazyLock<Vec<&'static str>> = LazyLock::new(|| ALL.iter().map(|limit| limit.name).collect());

impl<'de> Deserialize<'de> for LimitsFile {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct LimitsVisitor;

        impl<'de> Visitor<'de> for LimitsVisitor {
            type Value = LimitsFile;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a map of limits")
            }

            fn visit_map<A: de::MapAccess<'de>>(self, mut map: A) -> Result<LimitsFile, A::Error> {
                let mut file = LimitsFile::default();
                while let Some(Name(limit)) = map.next_key()? {
                    if limit.kind == Kind::Zone {
                        file.position = map.next_value()?;
                    } else if let Some(given) = map.next_value()? {
                        file.limits.push((limit, given));
                    }
                }
                Ok(file)
            }
        }

        deserializer.deserialize_map(LimitsVisitor)
    }
}

/// The key of a limit.
struct Name(&'static Stated);

impl<'de> Deserialize<'de> for Name {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct NameVisitor;

        impl Visitor<'_> for NameVisitor {
            type Value = Name;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("the name of a limit")
            }

            fn visit_str<E: de::Error>(self, name: &str) -> Result<Name, E> {
                stated(name).map(Name).ok_or_else(|| E::unknown_field(name, &NAMES))
            }
        }

        deserializer.deserialize_identifier(NameVisitor)
    }
}

impl JsonSchema for LimitsFile {
    fn schema_name() -> Cow<'static, str> {
        "LimitsFile".into()
    }

    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let mut properties = serde_json::Map::new();
        for limit in ALL {
            let given = match limit.kind {
                Kind::Zone => generator.subschema_for::<PositionGiven>(),
                Kind::Length | Kind::Share => generator.subschema_for::<LimitGiven>(),
            };
            let property = json_schema!({ "description": limit.says, "anyOf": [given, { "type": "null" }] });
            properties.insert(limit.name.to_owned(), property.into());
        }
        json_schema!({
            "description": "Least metal or largest error; a limit left out is not applied.",
            "type": "object",
            "properties": properties,
            "additionalProperties": false
        })
    }
}
