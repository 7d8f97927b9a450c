//! Reads a file on behind its faults: a deserializer that leaves out, renames, adds or stands in for what was found wrong.

use std::collections::VecDeque;
use std::fmt;

use serde::de::value::{StrDeserializer, StringDeserializer};
use serde::de::{self, DeserializeSeed, Deserializer, EnumAccess, IgnoredAny, MapAccess, SeqAccess, Visitor};

use super::stand_in::StandIn;
use super::step::Step;

/// What is read otherwise than it stands in the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) enum Amendment {
    /// The key at the end of this path, and its value, are not read.
    LeftOut(Vec<Step>),
    /// The key at the end of this path is read as this one.
    Renamed(Vec<Step>, String),
    /// The map at this path has this key too, with a stand-in as its value.
    Added(Vec<Step>, String),
    /// A stand-in is read in place of the value at this path.
    StoodIn(Vec<Step>),
}

/// Something of serde at a place of the file: a deserializer, or what it hands out.
pub(super) struct Amending<'a, T> {
    inner: T,
    at: Vec<Step>,
    amendments: &'a [Amendment],
}

impl<'a, T> Amending<'a, T> {
    /// A file's deserializer, amended.
    pub(super) const fn new(inner: T, amendments: &'a [Amendment]) -> Self {
        Self { inner, at: Vec::new(), amendments }
    }

    /// Another thing at the same place.
    fn with<U>(self, inner: U) -> (T, Amending<'a, U>) {
        (self.inner, Amending { inner, at: self.at, amendments: self.amendments })
    }

    /// The path of what stands below; without amendments nobody asks for one.
    fn below(&self, step: Step) -> Vec<Step> {
        if self.amendments.is_empty() {
            return Vec::new();
        }
        self.at.iter().cloned().chain([step]).collect()
    }
}

fn stands_in(amendments: &[Amendment], at: &[Step]) -> bool {
    amendments.iter().any(|a| matches!(a, Amendment::StoodIn(path) if path == at))
}

macro_rules! asked {
    ($($method:ident($($name:ident: $of:ty),*))*) => {
        $(fn $method<V: Visitor<'de>>(self, $($name: $of,)* visitor: V) -> Result<V::Value, D::Error> {
            let (de, visitor) = self.with(visitor);
            de.$method($($name,)* visitor)
        })*
    };
}

impl<'de, D: Deserializer<'de>> Deserializer<'de> for Amending<'_, D> {
    type Error = D::Error;

    asked! {
        deserialize_any() deserialize_bool() deserialize_i8() deserialize_i16() deserialize_i32() deserialize_i64()
        deserialize_i128() deserialize_u8() deserialize_u16() deserialize_u32() deserialize_u64() deserialize_u128()
        deserialize_f32() deserialize_f64() deserialize_char() deserialize_str() deserialize_string()
        deserialize_bytes() deserialize_byte_buf() deserialize_option() deserialize_unit() deserialize_seq()
        deserialize_map() deserialize_identifier() deserialize_ignored_any()
        deserialize_unit_struct(name: &'static str)
        deserialize_newtype_struct(name: &'static str)
        deserialize_tuple(len: usize)
        deserialize_tuple_struct(name: &'static str, len: usize)
        deserialize_struct(name: &'static str, fields: &'static [&'static str])
        deserialize_enum(name: &'static str, variants: &'static [&'static str])
    }
}

macro_rules! told {
    ($($method:ident($of:ty))*) => {
        $(fn $method<E: de::Error>(self, value: $of) -> Result<V::Value, E> {
            self.inner.$method(value)
        })*
    };
}

impl<'de, V: Visitor<'de>> Visitor<'de> for Amending<'_, V> {
    type Value = V::Value;

    fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.inner.expecting(f)
    }

    told! {
        visit_bool(bool) visit_i8(i8) visit_i16(i16) visit_i32(i32) visit_i64(i64) visit_i128(i128) visit_u8(u8)
        visit_u16(u16) visit_u32(u32) visit_u64(u64) visit_u128(u128) visit_f32(f32) visit_f64(f64) visit_char(char)
        visit_str(&str) visit_borrowed_str(&'de str) visit_string(String) visit_bytes(&[u8])
        visit_borrowed_bytes(&'de [u8]) visit_byte_buf(Vec<u8>)
    }

    fn visit_none<E: de::Error>(self) -> Result<V::Value, E> {
        self.inner.visit_none()
    }

    fn visit_unit<E: de::Error>(self) -> Result<V::Value, E> {
        self.inner.visit_unit()
    }

    fn visit_some<D: Deserializer<'de>>(self, de: D) -> Result<V::Value, D::Error> {
        let (visitor, de) = self.with(de);
        visitor.visit_some(de)
    }

    fn visit_newtype_struct<D: Deserializer<'de>>(self, de: D) -> Result<V::Value, D::Error> {
        let (visitor, de) = self.with(de);
        visitor.visit_newtype_struct(de)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, seq: A) -> Result<V::Value, A::Error> {
        let (visitor, seq) = self.with(seq);
        visitor.visit_seq(List { seq, next: 0 })
    }

    fn visit_map<A: MapAccess<'de>>(self, map: A) -> Result<V::Value, A::Error> {
        let added = self.amendments.iter().filter_map(|amendment| match amendment {
            Amendment::Added(at, key) if *at == self.at => Some(key.clone()),
            _ => None,
        });
        let added = added.collect();
        let (visitor, map) = self.with(map);
        visitor.visit_map(Map { map, added, value: Value::Read(Vec::new()) })
    }

    fn visit_enum<A: EnumAccess<'de>>(self, chosen: A) -> Result<V::Value, A::Error> {
        self.inner.visit_enum(chosen)
    }
}

impl<'de, S: DeserializeSeed<'de>> DeserializeSeed<'de> for Amending<'_, S> {
    type Value = S::Value;

    fn deserialize<D: Deserializer<'de>>(self, de: D) -> Result<S::Value, D::Error> {
        let (seed, de) = self.with(de);
        seed.deserialize(de)
    }
}

struct List<'a, A> {
    seq: Amending<'a, A>,
    next: usize,
}

impl<'de, A: SeqAccess<'de>> SeqAccess<'de> for List<'_, A> {
    type Error = A::Error;

    fn next_element_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<Option<S::Value>, A::Error> {
        let at = self.seq.below(Step::Index(self.next));
        self.next += 1;
        let amendments = self.seq.amendments;
        if stands_in(amendments, &at) {
            return match self.seq.inner.next_element::<IgnoredAny>()? {
                Some(_) => seed.deserialize(StandIn::new()).map(Some),
                None => Ok(None),
            };
        }
        self.seq.inner.next_element_seed(Amending { inner: seed, at, amendments })
    }

    fn size_hint(&self) -> Option<usize> {
        self.seq.inner.size_hint()
    }
}

struct Map<'a, A> {
    map: Amending<'a, A>,
    /// Keys still to come that the file does not have.
    added: VecDeque<String>,
    value: Value,
}

/// Where the value of the key read last comes from.
enum Value {
    /// The file, at this path.
    Read(Vec<Step>),
    /// Nowhere.
    Added,
}

impl<'de, A: MapAccess<'de>> MapAccess<'de> for Map<'_, A> {
    type Error = A::Error;

    fn next_key_seed<K: DeserializeSeed<'de>>(&mut self, seed: K) -> Result<Option<K::Value>, A::Error> {
        // A file without a fault, as nearly all are, is read as it stands.
        if self.map.amendments.is_empty() {
            return self.map.inner.next_key_seed(seed);
        }
        while let Some(key) = self.map.inner.next_key::<String>()? {
            let at = self.map.below(Step::Key(key.clone()));
            let mut named = Some(key);
            for amendment in self.map.amendments {
                match amendment {
                    Amendment::LeftOut(path) if *path == at => named = None,
                    Amendment::Renamed(path, to) if *path == at => named = Some(to.clone()),
                    _ => {}
                }
            }
            let Some(key) = named else {
                self.map.inner.next_value::<IgnoredAny>()?;
                continue;
            };
            self.value = Value::Read(self.map.below(Step::Key(key.clone())));
            return seed.deserialize(StringDeserializer::new(key)).map(Some);
        }
        let Some(key) = self.added.pop_front() else { return Ok(None) };
        self.value = Value::Added;
        seed.deserialize(StrDeserializer::new(&key)).map(Some)
    }

    fn next_value_seed<S: DeserializeSeed<'de>>(&mut self, seed: S) -> Result<S::Value, A::Error> {
        let at = match &mut self.value {
            Value::Added => return seed.deserialize(StandIn::new()),
            Value::Read(at) => std::mem::take(at),
        };
        let amendments = self.map.amendments;
        if stands_in(amendments, &at) {
            self.map.inner.next_value::<IgnoredAny>()?;
            return seed.deserialize(StandIn::new());
        }
        self.map.inner.next_value_seed(Amending { inner: seed, at, amendments })
    }
}
