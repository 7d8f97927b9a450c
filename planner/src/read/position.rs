//! A position zone as it stands in a file: a diameter, or the widths of two parallel zones.

use std::borrow::Cow;
use std::fmt;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::Deserialize;
use serde::de::{self, Deserializer, Visitor};

use super::given::{At, Length, LimitGiven};

/// A position zone about the true position.
#[derive(Debug, Clone)]
pub enum PositionGiven {
    /// Round: its diameter.
    Round(LimitGiven),
    /// Between parallel lines: widths across and along the bank, one of them at least.
    Parallel {
        /// Across the bank.
        across: Option<At<LimitGiven>>,
        /// Along it.
        along: Option<At<LimitGiven>>,
    },
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct PositionMap {
    /// The diameter that decides.
    least: Option<At<Length>>,
    /// A larger one than this is a hold.
    prefer: Option<At<Length>>,
    /// Width of the zone across the bank.
    across: Option<At<LimitGiven>>,
    /// Width of the zone along the bank.
    along: Option<At<LimitGiven>>,
}

impl<'de> Deserialize<'de> for PositionGiven {
    /// A bare figure or `{ least, prefer }` as a round zone, `{ across, along }` as parallel ones; a mixture of
    /// both is refused.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct PositionVisitor;

        impl<'de> Visitor<'de> for PositionVisitor {
            type Value = PositionGiven;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a length, `{ least, prefer }`, or `{ across, along }`")
            }
            fn visit_f64<E: de::Error>(self, number: f64) -> Result<PositionGiven, E> {
                LimitGiven::deserialize(de::value::F64Deserializer::new(number)).map(PositionGiven::Round)
            }
            fn visit_i64<E: de::Error>(self, number: i64) -> Result<PositionGiven, E> {
                LimitGiven::deserialize(de::value::I64Deserializer::new(number)).map(PositionGiven::Round)
            }
            fn visit_u64<E: de::Error>(self, number: u64) -> Result<PositionGiven, E> {
                LimitGiven::deserialize(de::value::U64Deserializer::new(number)).map(PositionGiven::Round)
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<PositionGiven, E> {
                LimitGiven::deserialize(de::value::StrDeserializer::new(text)).map(PositionGiven::Round)
            }
            fn visit_map<A: de::MapAccess<'de>>(self, map: A) -> Result<PositionGiven, A::Error> {
                let map = PositionMap::deserialize(de::value::MapAccessDeserializer::new(map))?;
                match map {
                    PositionMap { least: Some(least), prefer, across: None, along: None } => {
                        Ok(PositionGiven::Round(LimitGiven { least, prefer }))
                    }
                    PositionMap { least: None, prefer: None, across, along }
                        if across.is_some() || along.is_some() =>
                    {
                        Ok(PositionGiven::Parallel { across, along })
                    }
                    _ => Err(de::Error::custom(
                        "expected `least` (with or without `prefer`) for a round zone, or `across` and `along` for two \
                         parallel zones, not both",
                    )),
                }
            }
        }

        deserializer.deserialize_any(PositionVisitor)
    }
}

impl JsonSchema for PositionGiven {
    fn schema_name() -> Cow<'static, str> {
        "Position".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let length = generator.subschema_for::<Length>();
        let map = generator.subschema_for::<PositionMap>();
        json_schema!({
            "description": "A position zone: a diameter, what decides and what is preferred, or the widths of two parallel zones.",
            "anyOf": [length, map]
        })
    }
}
