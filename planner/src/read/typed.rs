//! A tree of YAML as the values that a description asks for: the one deserializer of all descriptions.
//!
//! One for all, since every description is compiled anew for each: the YAML crate's own with its bounds and aliases, one that
//! keeps paths and one that amends were half of the program.

use serde::de::value::StrDeserializer;
use serde::de::{self, DeserializeSeed, Deserializer, IntoDeserializer, Visitor};

use super::fault::Place;
use super::given::{At, PLACED};
use super::misread::{Misread, What};
use super::step::Step;
use super::tree::{Node, STAND_IN, Told};

/// What a stand-in says where text may stand: no quantity, file or metal, so that whatever reads it on finds it wrong, and a
/// fault that comes of it names it.
pub(super) const STAND_IN_TEXT: &str = "\u{fffd}";

/// Names that stand on papers alone: one with nothing behind it is one that was not given.
const BLANK: [&str; 3] = ["customer", "family", "source"];

/// A node to be read. A stand-in is of whatever shape is asked for: [`STAND_IN_TEXT`], 0, an empty list, a map of stand-ins;
/// nothing may be worked out from it.
#[derive(Clone, Copy)]
pub(super) struct Typed<'t>(pub(super) &'t At<Node>);

impl<'t> Typed<'t> {
    /// The fault of a node of another kind than this, in serde's words.
    fn is_no(self, expected: &str) -> Misread {
        Misread::new(What::Kind(expected.to_owned())).at(self.0.place)
    }

    /// A scalar as it is typed, without its quotes.
    fn text(self, expected: &str) -> Result<&'t str, Misread> {
        match &self.0.value {
            Node::Scalar(_, text) => Ok(text),
            Node::StandIn => Ok(STAND_IN_TEXT),
            Node::Nothing | Node::List(_) | Node::Map(_) => Err(self.is_no(expected)),
        }
    }

    fn list(self, stand_ins: usize) -> Result<List<'t>, Misread> {
        match &self.0.value {
            Node::List(nodes) => Ok(List { nodes: nodes.iter(), stand_ins: 0, next: 0 }),
            Node::StandIn => Ok(List { nodes: [].iter(), stand_ins, next: 0 }),
            Node::Nothing | Node::Scalar(..) | Node::Map(_) => Err(self.is_no("a sequence")),
        }
    }

    fn map(self, stand_ins: &'static [&'static str]) -> Result<Map<'t>, Misread> {
        match &self.0.value {
            Node::Map(entries) => Ok(Map { entries: entries.iter(), stand_ins: [].iter(), met: None }),
            Node::StandIn => Ok(Map { entries: [].iter(), stand_ins: stand_ins.iter(), met: None }),
            Node::Nothing | Node::Scalar(..) | Node::List(_) => Err(self.is_no("a map")),
        }
    }

    /// What a visitor found, its faults being of this node where no node within it has them.
    fn placed<T>(self, found: Result<T, Misread>) -> Result<T, Misread> {
        found.map_err(|misread| misread.at(self.0.place))
    }
}

macro_rules! whole_numbers {
    ($($method:ident $visit:ident $of:ty),*) => {
        $(fn $method<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
            let number: Option<$of> = match &self.0.value {
                Node::StandIn => Some(0),
                Node::Scalar(Told::Unsigned(number), _) => (*number).try_into().ok(),
                Node::Scalar(Told::Signed(number), _) => (*number).try_into().ok(),
                Node::Scalar(Told::Text, text) => text.trim().parse().ok(),
                _ => None,
            };
            let number = number.ok_or_else(|| self.is_no("a whole number"))?;
            self.placed(visitor.$visit(number))
        })*
    };
}

impl<'t> Deserializer<'t> for Typed<'t> {
    type Error = Misread;

    fn deserialize_any<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        let found = match &self.0.value {
            Node::Nothing => visitor.visit_unit(),
            Node::Scalar(Told::Flag(flag), _) => visitor.visit_bool(*flag),
            Node::Scalar(Told::Signed(number), _) => visitor.visit_i64(*number),
            Node::Scalar(Told::Unsigned(number), _) => visitor.visit_u64(*number),
            Node::Scalar(Told::Real(number), _) if number.is_finite() => visitor.visit_f64(*number),
            Node::Scalar(Told::Real(_), text) => Err(Misread::new(What::NotFinite(text.clone()))),
            Node::Scalar(Told::Text, text) => visitor.visit_borrowed_str(text),
            Node::StandIn => visitor.visit_borrowed_str(STAND_IN_TEXT),
            Node::List(_) => self.list(0).and_then(|list| visitor.visit_seq(list)),
            Node::Map(_) => self.map(&[]).and_then(|map| visitor.visit_map(map)),
        };
        self.placed(found)
    }

    whole_numbers! {
        deserialize_i8 visit_i8 i8, deserialize_i16 visit_i16 i16, deserialize_i32 visit_i32 i32,
        deserialize_i64 visit_i64 i64, deserialize_u8 visit_u8 u8, deserialize_u16 visit_u16 u16,
        deserialize_u32 visit_u32 u32, deserialize_u64 visit_u64 u64
    }

    fn deserialize_bool<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        let flag = match &self.0.value {
            Node::StandIn => Some(false),
            Node::Scalar(Told::Flag(flag), _) => Some(*flag),
            Node::Scalar(Told::Text, text) => text.trim().parse().ok(),
            _ => None,
        };
        self.placed(visitor.visit_bool(flag.ok_or_else(|| self.is_no("`true` or `false`"))?))
    }

    fn deserialize_str<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        self.placed(visitor.visit_borrowed_str(self.text("a string")?))
    }

    fn deserialize_string<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        self.deserialize_str(visitor)
    }

    fn deserialize_identifier<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        self.deserialize_str(visitor)
    }

    fn deserialize_option<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        match &self.0.value {
            // Not as if the key were left out: a limit whose value was lost would be a limit that nobody asks for.
            Node::Nothing => Err(self.is_no("a value, or the key left out")),
            _ => visitor.visit_some(self),
        }
    }

    fn deserialize_newtype_struct<V: Visitor<'t>>(
        self,
        name: &'static str,
        visitor: V,
    ) -> Result<V::Value, Misread> {
        match name {
            PLACED => visitor.visit_seq(Placed { node: self.0, next: 0 }),
            _ => visitor.visit_newtype_struct(self),
        }
    }

    fn deserialize_seq<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        self.placed(self.list(0).and_then(|list| visitor.visit_seq(list)))
    }

    fn deserialize_tuple<V: Visitor<'t>>(self, len: usize, visitor: V) -> Result<V::Value, Misread> {
        let list = self.list(len)?;
        let count = list.nodes.len() + list.stand_ins;
        if count != len {
            let expected = format!("{len} values");
            return Err(Misread::new(What::Count { count, expected }).at(self.0.place));
        }
        self.placed(visitor.visit_seq(list))
    }

    fn deserialize_map<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        self.placed(self.map(&[]).and_then(|map| visitor.visit_map(map)))
    }

    fn deserialize_struct<V: Visitor<'t>>(
        self,
        _: &'static str,
        fields: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misread> {
        self.placed(self.map(fields).and_then(|map| visitor.visit_map(map)))
    }

    fn deserialize_enum<V: Visitor<'t>>(
        self,
        _: &'static str,
        words: &'static [&'static str],
        visitor: V,
    ) -> Result<V::Value, Misread> {
        let word = match &self.0.value {
            Node::StandIn => words.first().copied().unwrap_or(STAND_IN_TEXT),
            _ => self.text("one word")?,
        };
        let word: StrDeserializer<'_, Misread> = word.into_deserializer();
        self.placed(visitor.visit_enum(word))
    }

    fn deserialize_ignored_any<V: Visitor<'t>>(self, visitor: V) -> Result<V::Value, Misread> {
        visitor.visit_unit()
    }

    serde::forward_to_deserialize_any! {
        <V: Visitor<'t>>
        i128 u128 f32 f64 char bytes byte_buf unit unit_struct tuple_struct
    }
}

/// The values of a list, or so many stand-ins.
struct List<'t> {
    nodes: std::slice::Iter<'t, At<Node>>,
    stand_ins: usize,
    next: usize,
}

impl<'t> de::SeqAccess<'t> for List<'t> {
    type Error = Misread;

    fn next_element_seed<S: DeserializeSeed<'t>>(&mut self, seed: S) -> Result<Option<S::Value>, Misread> {
        let node = match self.nodes.next() {
            Some(node) => node,
            None if self.stand_ins > 0 => {
                self.stand_ins -= 1;
                &STAND_IN
            }
            None => return Ok(None),
        };
        let index = self.next;
        self.next += 1;
        seed.deserialize(Typed(node)).map(Some).map_err(|misread| misread.within(Step::Index(index)))
    }

    fn size_hint(&self) -> Option<usize> {
        Some(self.nodes.len() + self.stand_ins)
    }
}

/// The keys and values of a map, or stand-ins for these keys.
struct Map<'t> {
    entries: std::slice::Iter<'t, (At<String>, At<Node>)>,
    stand_ins: std::slice::Iter<'static, &'static str>,
    /// The key read last, and its value.
    met: Option<(&'t str, &'t At<Node>)>,
}

impl<'t> de::MapAccess<'t> for Map<'t> {
    type Error = Misread;

    fn next_key_seed<K: DeserializeSeed<'t>>(&mut self, seed: K) -> Result<Option<K::Value>, Misread> {
        let blank = |(key, node): &&(At<String>, At<Node>)| {
            matches!(node.value, Node::Nothing) && BLANK.contains(&key.value.as_str())
        };
        let next = self.entries.by_ref().find(|entry| !blank(entry));
        let (key, place, node) = match (next, self.stand_ins.next()) {
            (Some((key, node)), _) => (key.value.as_str(), key.place, node),
            (None, Some(key)) => (*key, STAND_IN.place, &STAND_IN),
            (None, None) => return Ok(None),
        };
        self.met = Some((key, node));
        let key: de::value::BorrowedStrDeserializer<'t, Misread> =
            de::value::BorrowedStrDeserializer::new(key);
        seed.deserialize(key).map(Some).map_err(|misread| misread.at(place))
    }

    fn next_value_seed<S: DeserializeSeed<'t>>(&mut self, seed: S) -> Result<S::Value, Misread> {
        let (key, node) = self.met.take().unwrap_or(("", &STAND_IN));
        seed.deserialize(Typed(node)).map_err(|misread| misread.within(Step::Key(key.to_owned())))
    }
}

/// A value with its place: line, column, value.
struct Placed<'t> {
    node: &'t At<Node>,
    next: usize,
}

impl<'t> de::SeqAccess<'t> for Placed<'t> {
    type Error = Misread;

    fn next_element_seed<S: DeserializeSeed<'t>>(&mut self, seed: S) -> Result<Option<S::Value>, Misread> {
        let Place { line, column } = self.node.place;
        self.next += 1;
        match self.next {
            1 => seed.deserialize(line.into_deserializer()).map(Some),
            2 => seed.deserialize(column.into_deserializer()).map(Some),
            3 => seed.deserialize(Typed(self.node)).map(Some),
            _ => Ok(None),
        }
    }
}

#[cfg(test)]
mod tests {
    use serde::Deserialize;

    use super::*;
    use crate::read::source::Source;
    use crate::read::tree;

    #[derive(Debug, Deserialize)]
    #[serde(rename_all = "lowercase")]
    enum Side {
        Left,
        Right,
    }

    #[derive(Debug, Deserialize)]
    #[serde(deny_unknown_fields)]
    struct Bank {
        name: At<String>,
        side: Option<Side>,
        cylinders: Vec<u32>,
        ends: [At<String>; 2],
        #[serde(default)]
        wet: bool,
    }

    fn read(text: &str) -> Result<Bank, Misread> {
        let (name, sha256) = (String::new(), String::new());
        let source = Source { name, path: Default::default(), text: text.into(), sha256 };
        let tree = tree::of(&source).ok().unwrap();
        Bank::deserialize(Typed(&tree))
    }

    #[test]
    fn text_is_what_was_typed_whatever_yaml_takes_it_for() {
        let bank =
            read("name: 0412\nside: left\ncylinders: [1, 0x3]\nends: [1.50, \"no\"]\nwet: true\n").unwrap();
        assert_eq!((bank.name.value.as_str(), bank.name.place.line, bank.name.place.column), ("0412", 1, 7));
        assert!(matches!(bank.side, Some(Side::Left)) && bank.wet);
        assert_eq!(bank.cylinders, [1, 3]);
        assert_eq!(bank.ends.map(|end| end.value), ["1.50", "no"]);
        let bank = read("name: \"0412\"\ncylinders: []\nends: [&a 2e3, *a]\n").unwrap();
        assert_eq!(bank.name.value, "0412");
        assert!(bank.side.is_none() && !bank.wet);
        assert_eq!(
            bank.ends.map(|end| (end.value, end.place.column)),
            [("2e3".into(), 11), ("2e3".into(), 16)]
        );
        assert!(read("name: \"0412\"\nside:\ncylinders: []\nends: [1, 2]\n").is_err());
        assert!(matches!(
            read("name: x\nside: right\ncylinders: []\nends: [a, b]\n").unwrap().side,
            Some(Side::Right)
        ));
    }

    #[test]
    fn what_is_wrong_is_told_where_it_stands() {
        let of = |text: &str| {
            let misread = read(text).unwrap_err();
            (misread.to_string(), misread.path(), misread.place().map(|p| (p.line, p.column)))
        };
        let key = |key: &str| Step::Key(key.into());
        let (said, path, place) = of("name: x\ncylinders: [1, -3]\nends: [a, b]\n");
        assert_eq!((said.as_str(), place), ("expected a whole number", Some((2, 16))));
        assert_eq!(path, [key("cylinders"), Step::Index(1)]);
        let (said, path, place) = of("name: x\ncylinder: [1]\n");
        assert_eq!(
            (said.as_str(), path.as_slice(), place),
            ("unknown key `cylinder`", &[][..], Some((2, 1)))
        );
        let (said, path, _) = of("name: x\ncylinders: [1]\nends: [a, b, c]\n");
        assert_eq!((said.as_str(), path), ("3 values, expected 2 values", vec![key("ends")]));
        let (said, ..) = of("name: x\ncylinders: [1]\n");
        assert_eq!(said, "missing key `ends`");
        let (said, path, _) = of("name: x\nside: up\n");
        assert_eq!((said.as_str(), path), ("unknown word `up`", vec![key("side")]));
        let (said, path, _) = of("name: [x]\n");
        assert_eq!((said.as_str(), path), ("expected a string", vec![key("name")]));
    }
}
