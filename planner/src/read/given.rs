//! Values as they stand in a file: with their place, before their unit is known.

use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{self, Deserializer, Visitor};
use serde::{Deserialize, Serialize};

use super::fault::Place;

/// A value and where it stands.
#[derive(Debug, Clone)]
pub struct At<T> {
    /// The value.
    pub value: T,
    /// Its place in the file.
    pub place: Place,
}

/// By this name a reader is asked for a value with its place: line, column, value, as a sequence.
pub(super) const PLACED: &str = "borewright::At";

impl<'de, T: Deserialize<'de>> Deserialize<'de> for At<T> {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct AtVisitor<T>(PhantomData<T>);

        impl<'de, T: Deserialize<'de>> Visitor<'de> for AtVisitor<T> {
            type Value = At<T>;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a value with its place")
            }

            fn visit_seq<A: de::SeqAccess<'de>>(self, mut seq: A) -> Result<At<T>, A::Error> {
                let line = seq.next_element()?.unwrap_or_default();
                let column = seq.next_element()?.unwrap_or_default();
                let value = seq.next_element()?.ok_or_else(|| de::Error::invalid_length(2, &self))?;
                Ok(At { value, place: Place { line, column } })
            }
        }

        deserializer.deserialize_newtype_struct(PLACED, AtVisitor(PhantomData))
    }
}

impl<T: JsonSchema> JsonSchema for At<T> {
    fn inline_schema() -> bool {
        T::inline_schema()
    }
    fn schema_name() -> Cow<'static, str> {
        T::schema_name()
    }
    fn schema_id() -> Cow<'static, str> {
        T::schema_id()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        T::json_schema(generator)
    }
}

/// A number, or text that may carry a unit.
#[derive(Debug, Clone, PartialEq)]
pub enum Scalar {
    /// A bare number.
    Number(f64),
    /// Anything else written as a scalar.
    Text(String),
}

impl fmt::Display for Scalar {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Number(number) => write!(f, "{number}"),
            Self::Text(text) => write!(f, "`{}`", super::fault::plain(text, 60)),
        }
    }
}

struct ScalarVisitor;

impl Visitor<'_> for ScalarVisitor {
    type Value = Scalar;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str("a number, or text with a unit")
    }

    fn visit_f64<E: de::Error>(self, number: f64) -> Result<Scalar, E> {
        Ok(Scalar::Number(number))
    }

    fn visit_i64<E: de::Error>(self, number: i64) -> Result<Scalar, E> {
        // Beyond 2^53 no length is meant; the text form says so in the message.
        Ok(i32::try_from(number)
            .map_or_else(|_| Scalar::Text(number.to_string()), |n| Scalar::Number(n.into())))
    }

    fn visit_u64<E: de::Error>(self, number: u64) -> Result<Scalar, E> {
        Ok(u32::try_from(number)
            .map_or_else(|_| Scalar::Text(number.to_string()), |n| Scalar::Number(n.into())))
    }

    fn visit_str<E: de::Error>(self, text: &str) -> Result<Scalar, E> {
        Ok(Scalar::Text(text.to_owned()))
    }
}

impl<'de> Deserialize<'de> for Scalar {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(ScalarVisitor)
    }
}

macro_rules! scalar_kind {
    ($(#[$doc:meta])* $name:ident, $schema_name:literal, $description:literal, $pattern:expr) => {
        $(#[$doc])*
        #[derive(Debug, Clone, Deserialize)]
        #[serde(transparent)]
        pub struct $name(pub Scalar);

        impl JsonSchema for $name {
            fn schema_name() -> Cow<'static, str> {
                $schema_name.into()
            }
            fn json_schema(_: &mut SchemaGenerator) -> Schema {
                let pattern: Option<&str> = $pattern;
                match pattern {
                    Some(pattern) => json_schema!({
                        "description": $description,
                        "anyOf": [{ "type": "number" }, { "type": "string", "pattern": pattern }]
                    }),
                    None => json_schema!({ "description": $description, "type": "number" }),
                }
            }
        }
    };
}

scalar_kind!(
    /// A length: a bare number in the file's units, or text with its own.
    Length,
    "Length",
    "A length: a number in the file's units, or text with its own unit, such as \"0.05 mm\", \"12 um\", \"0.002 in\" or \"2 thou\".",
    Some("^\\s*[+-]?[0-9./ ]*[0-9.]\\s*([mM]{2}|[uUµμ][mM]|[mM]icrons?|[iI][nN]|[iI]nch(es)?|\"|[tT]hou?)?\\s*$")
);
scalar_kind!(
    /// An angle, degrees.
    Angle,
    "Angle",
    "An angle in degrees.",
    Some("^\\s*[+-]?[0-9.]+\\s*(deg|degrees|°)?\\s*$")
);
scalar_kind!(
    /// A temperature: degrees Celsius, or text in Fahrenheit.
    Warmth,
    "Temperature",
    "A temperature in degrees Celsius, or text such as \"75 F\".",
    Some("^\\s*[+-]?[0-9.]+\\s*(°?[cC]|°?[fF])?\\s*$")
);
scalar_kind!(
    /// A cutting speed: m/min, or text in ft/min.
    CuttingSpeed,
    "CuttingSpeed",
    "A cutting speed in m/min, or text such as \"300 ft/min\".",
    Some("^\\s*[0-9.]+\\s*([mM]/[mM][iI][nN]|[fF][tT]/[mM][iI][nN])?\\s*$")
);
scalar_kind!(
    /// A number without a unit, or in the one unit its key names.
    Number,
    "Number",
    "A number.",
    None
);

/// The units of a file's bare numbers.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Deserialize, Serialize, JsonSchema)]
#[serde(rename_all = "lowercase")]
pub enum Units {
    /// Millimetres.
    #[default]
    Mm,
    /// Inches.
    In,
}

impl Units {
    /// As it stands behind a figure.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::In => "in",
        }
    }

    /// In a sentence.
    #[must_use]
    pub fn name(self) -> &'static str {
        match self {
            Self::Mm => "millimetres",
            Self::In => "inches",
        }
    }
}

/// A limit: one figure, or what decides and what is preferred.
#[derive(Debug, Clone)]
pub struct LimitGiven {
    /// What decides.
    pub least: At<Length>,
    /// What is preferred.
    pub prefer: Option<At<Length>>,
}

#[derive(Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
struct LimitMap {
    /// What decides.
    least: At<Length>,
    /// A value worse than this is a hold.
    prefer: Option<At<Length>>,
}

impl<'de> Deserialize<'de> for LimitGiven {
    /// A bare figure or `{ least, prefer }`; the place of a bare one is left 0, since it is that of the whole
    /// limit.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct LimitVisitor;

        impl<'de> Visitor<'de> for LimitVisitor {
            type Value = LimitGiven;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("a length, or `{ least, prefer }`")
            }

            fn visit_f64<E: de::Error>(self, number: f64) -> Result<LimitGiven, E> {
                ScalarVisitor.visit_f64(number).map(bare)
            }
            fn visit_i64<E: de::Error>(self, number: i64) -> Result<LimitGiven, E> {
                ScalarVisitor.visit_i64(number).map(bare)
            }
            fn visit_u64<E: de::Error>(self, number: u64) -> Result<LimitGiven, E> {
                ScalarVisitor.visit_u64(number).map(bare)
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<LimitGiven, E> {
                ScalarVisitor.visit_str(text).map(bare)
            }
            fn visit_map<A: de::MapAccess<'de>>(self, map: A) -> Result<LimitGiven, A::Error> {
                let map = LimitMap::deserialize(de::value::MapAccessDeserializer::new(map))?;
                Ok(LimitGiven { least: map.least, prefer: map.prefer })
            }
        }

        fn bare(scalar: Scalar) -> LimitGiven {
            // A bare figure has the limit's own place, which the value round it has.
            LimitGiven {
                least: At { value: Length(scalar), place: Place { line: 0, column: 0 } },
                prefer: None,
            }
        }

        deserializer.deserialize_any(LimitVisitor)
    }
}

impl JsonSchema for LimitGiven {
    fn schema_name() -> Cow<'static, str> {
        "Limit".into()
    }
    fn json_schema(generator: &mut SchemaGenerator) -> Schema {
        let length = generator.subschema_for::<Length>();
        let map = generator.subschema_for::<LimitMap>();
        json_schema!({
            "description": "A limit: a length, or what decides and what is preferred.",
            "anyOf": [length, map]
        })
    }
}
