//! A value in the place of one that is wrong or missing, so that the rest of a file can still be read.

use std::marker::PhantomData;

use serde::de::value::StrDeserializer;
use serde::de::{self, DeserializeSeed, Deserializer, IntoDeserializer, Visitor};

/// What a stand-in says where text may stand: no quantity, file or metal, so that whatever reads it on finds it wrong, and a
/// fault that comes of it names it.
pub(super) const TEXT: &str = "\u{fffd}";

/// The key by which the YAML crate marks a value that is read with its place. Were it another one day, stand-ins
/// for such values would fail, and a file's later faults wait for the next run; a test would tell.
const PLACED: &str = "__serde_saphyr_private_spanned";

/// A value of whatever shape is asked for: [`TEXT`], 0, an empty list, a map of stand-ins. Nothing may be worked out from it.
pub(super) struct StandIn<E>(PhantomData<E>);

impl<E> StandIn<E> {
    pub(super) const fn new() -> Self {
        Self(PhantomData)
    }
}

impl<'de, E: de::Error> IntoDeserializer<'de, E> for StandIn<E> {
    type Deserializer = Self;

    fn into_deserializer(self) -> Self {
        self
    }
}

/// A map of stand-ins with these keys.
struct Keys<E> {
    keys: std::slice::Iter<'static, &'static str>,
    error: PhantomData<E>,
}

impl<E> Keys<E> {
    fn of(keys: &'static [&'static str]) -> Self {
        Self { keys: keys.iter(), error: PhantomData }
    }
}

impl<'de, E: de::Error> de::MapAccess<'de> for Keys<E> {
    type Error = E;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, E> {
        let Some(key) = self.keys.next() else { return Ok(None) };
        seed.deserialize(StrDeserializer::new(key)).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, E> {
        seed.deserialize(StandIn::new())
    }
}

/// A value with its place, both stood in for: the place is line 0.
struct Placed<E>(PhantomData<E>);

impl<'de, E: de::Error> Deserializer<'de> for Placed<E> {
    type Error = E;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
        visitor.visit_map(Keys::of(&[PLACED, "value", "referenced", "defined"]))
    }

    serde::forward_to_deserialize_any! {
        bool i8 i16 i32 i64 i128 u8 u16 u32 u64 u128 f32 f64 char str string bytes byte_buf option unit unit_struct
        newtype_struct seq tuple tuple_struct map struct enum identifier ignored_any
    }
}

macro_rules! nothing {
    ($($method:ident)*) => {
        $(fn $method<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
            visitor.visit_u8(0)
        })*
    };
}

impl<'de, E: de::Error> Deserializer<'de> for StandIn<E> {
    type Error = E;

    fn deserialize_any<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
        visitor.visit_str(TEXT)
    }

    nothing! {
        deserialize_i8 deserialize_i16 deserialize_i32 deserialize_i64 deserialize_i128 deserialize_u8 deserialize_u16
        deserialize_u32 deserialize_u64 deserialize_u128 deserialize_f32 deserialize_f64
    }

    fn deserialize_bool<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
        visitor.visit_bool(false)
    }

    fn deserialize_option<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
        visitor.visit_some(self)
    }

    fn deserialize_unit<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
        visitor.visit_unit()
    }

    fn deserialize_newtype_struct<V: Visitor<'de>>(self, _: &'static str, visitor: V) -> Result<V::Value, E> {
        visitor.visit_newtype_struct(Placed(PhantomData))
    }

    fn deserialize_seq<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
        visitor.visit_seq(de::value::SeqDeserializer::new(std::iter::empty::<Self>()))
    }

    fn deserialize_tuple<V: Visitor<'de>>(self, len: usize, visitor: V) -> Result<V::Value, E> {
        visitor.visit_seq(de::value::SeqDeserializer::new((0..len).map(|_| Self::new())))
    }

    fn deserialize_map<V: Visitor<'de>>(self, visitor: V) -> Result<V::Value, E> {
        visitor.visit_map(Keys::of(&[]))
    }

    fn deserialize_struct<V: Visitor<'de>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, E> {
        visitor.visit_map(Keys::of(fields))
    }

    fn deserialize_enum<V: Visitor<'de>>(
        self,
        _: &'static str,
        variants: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, E> {
        visitor.visit_enum(StrDeserializer::new(variants.first().copied().unwrap_or(TEXT)))
    }

    serde::forward_to_deserialize_any! {
        char str string bytes byte_buf unit_struct tuple_struct identifier ignored_any
    }
}
