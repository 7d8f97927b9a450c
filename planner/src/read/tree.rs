//! A file's YAML as a tree: every value with its place, its kind and its own text.

use std::collections::BTreeSet;
use std::fmt;

use serde::Deserialize;
use serde::de::{self, Deserializer, Visitor};
use serde_path_to_error::Segment;
use serde_yaml::{DuplicateKeyPolicy, Error, Location, Spanned};

use super::fault::Place;
use super::given::At;
use super::source::Source;
use super::step::Step;
use super::yaml_bounds::options;

/// What stands at a place.
#[derive(Debug, Clone)]
pub(super) enum Node {
    /// Nothing.
    Nothing,
    /// A scalar: what YAML takes it for, and its text without quotes.
    Scalar(Told, String),
    /// A list.
    List(Vec<At<Node>>),
    /// A map, its keys in the order of the file.
    Map(Entries),
    /// Whatever is asked for, in place of what is wrong or missing.
    StandIn,
}

/// Keys and what stands under them.
pub(super) type Entries = Vec<(At<String>, At<Node>)>;

/// What YAML takes a scalar for.
#[derive(Debug, Clone, Copy)]
pub(super) enum Told {
    /// True or false.
    Flag(bool),
    /// A whole number below 0.
    Signed(i64),
    /// A whole number.
    Unsigned(u64),
    /// Another number; it may be infinite or none.
    Real(f64),
    /// Text.
    Text,
}

/// A stand-in; it stands nowhere.
pub(super) static STAND_IN: At<Node> = At { value: Node::StandIn, place: Place { line: 0, column: 0 } };

/// Text that is no YAML, or YAML beyond the bounds.
pub(super) struct Unreadable {
    /// Where in the tree the YAML crate came upon it.
    pub(super) path: Vec<Step>,
    /// What it says.
    pub(super) error: Error,
}

/// The tree of a file, in which no map has a key twice.
///
/// # Errors
/// That of the YAML crate.
pub(super) fn of(source: &Source) -> Result<At<Node>, Box<Unreadable>> {
    compose(source, DuplicateKeyPolicy::Error).map_err(|error| {
        // Read once more with every step kept, which a sound file need not pay for.
        let mut path = Vec::new();
        let _ = serde_yaml::with_deserializer_from_str_with_options(&source.text, options(), |de| {
            serde_path_to_error::deserialize::<_, serde_json::Value>(de).map_err(|met| {
                path = steps(met.path());
                met.into_inner()
            })
        });
        Box::new(Unreadable { path, error })
    })
}

/// The path of an error, as far as it is known.
fn steps(path: &serde_path_to_error::Path) -> Vec<Step> {
    path.iter()
        .filter_map(|segment| match segment {
            Segment::Seq { index } => Some(Step::Index(*index)),
            Segment::Map { key } | Segment::Enum { variant: key } => Some(Step::Key(key.clone())),
            Segment::Unknown => None,
        })
        .collect()
}

/// The tree of a file whose maps may have a key twice; `None` where its YAML is otherwise at fault.
pub(super) fn with_doubled(source: &Source) -> Option<At<Node>> {
    compose(source, DuplicateKeyPolicy::PassThrough).ok()
}

fn compose(source: &Source, duplicate_keys: DuplicateKeyPolicy) -> Result<At<Node>, Error> {
    let mut options = options();
    options.duplicate_keys = duplicate_keys;
    serde_yaml::from_str_with_options(&source.text, options).map(|root| settled(&source.text, root))
}

/// A value as the YAML crate reads it: the text of one that is no text is still to be fetched from the file.
enum Bare {
    Nothing,
    Scalar(Told, Option<String>),
    List(Vec<Spanned<Bare>>),
    Map(Vec<(Spanned<String>, Spanned<Bare>)>),
}

/// A value with its place and text.
fn settled(text: &str, bare: Spanned<Bare>) -> At<Node> {
    let value = match bare.value {
        Bare::Nothing => Node::Nothing,
        Bare::Scalar(told, own) => Node::Scalar(told, own.unwrap_or_else(|| typed(text, bare.defined))),
        Bare::List(nodes) => Node::List(nodes.into_iter().map(|node| settled(text, node)).collect()),
        Bare::Map(entries) => Node::Map(
            entries
                .into_iter()
                .map(|(key, node)| {
                    (At { value: key.value, place: place_of(key.referenced) }, settled(text, node))
                })
                .collect(),
        ),
    };
    At { value, place: place_of(bare.referenced) }
}

fn place_of(location: Location) -> Place {
    let count = |n: u64| usize::try_from(n).unwrap_or(usize::MAX);
    Place { line: count(location.line()), column: count(location.column()) }
}

/// What is typed at a place.
fn typed(text: &str, location: Location) -> String {
    let span = location.span();
    let range = span.byte_offset().zip(span.byte_len()).and_then(|(offset, len)| {
        let start = usize::try_from(offset).ok()?;
        text.get(start..start.checked_add(usize::try_from(len).ok()?)?)
    });
    range.unwrap_or_default().trim().to_owned()
}

/// The keys that a map has already, with their paths and places.
pub(super) fn doubled(tree: &At<Node>) -> Vec<(Vec<Step>, Place)> {
    let mut found = Vec::new();
    look(&tree.value, &mut Vec::new(), &mut found);
    found
}

fn look(node: &Node, path: &mut Vec<Step>, found: &mut Vec<(Vec<Step>, Place)>) {
    let mut below = |step: Step, node: &Node, own: Option<Place>| {
        path.push(step);
        found.extend(own.map(|place| (path.clone(), place)));
        look(node, path, found);
        path.pop();
    };
    match node {
        Node::Nothing | Node::Scalar(..) | Node::StandIn => {}
        Node::List(nodes) => {
            nodes.iter().enumerate().for_each(|(i, node)| below(Step::Index(i), &node.value, None));
        }
        Node::Map(entries) => {
            let mut seen = BTreeSet::new();
            for (key, node) in entries {
                let again = !seen.insert(&key.value);
                below(Step::Key(key.value.clone()), &node.value, again.then_some(key.place));
            }
        }
    }
}

/// The node at the end of a path.
pub(super) fn find<'t>(tree: &'t At<Node>, path: &[Step]) -> Option<&'t At<Node>> {
    let Some((step, rest)) = path.split_first() else { return Some(tree) };
    let below = match (&tree.value, step) {
        (Node::Map(entries), Step::Key(key)) => {
            entries.iter().find(|(name, _)| name.value == *key).map(|(_, n)| n)
        }
        (Node::List(nodes), Step::Index(index)) => nodes.get(*index),
        _ => None,
    };
    find(below?, rest)
}

/// What stands at a node, in words; a scalar as it is typed.
pub(super) fn words(source: &Source, node: &At<Node>) -> String {
    match &node.value {
        Node::Nothing | Node::StandIn => "nothing".into(),
        Node::List(_) => "a list".into(),
        Node::Map(_) => "a map".into(),
        Node::Scalar(..) => {
            let line = source.line(node.place.line).unwrap_or_default();
            let rest: String = line.chars().skip(node.place.column.saturating_sub(1)).collect();
            format!("`{}`", super::fault::plain(scalar(&rest), 60))
        }
    }
}

/// The scalar that a text starts with.
fn scalar(text: &str) -> &str {
    if let Some(quote) = text.chars().next().filter(|c| matches!(c, '"' | '\'')) {
        let end = text.char_indices().skip(1).find(|(_, c)| *c == quote).map_or(text.len(), |(at, _)| at + 1);
        return text.get(..end).unwrap_or(text);
    }
    let end = [", ", "}", "]", " #", ": "].iter().filter_map(|stop| text.find(stop)).min();
    text.get(..end.unwrap_or(text.len())).unwrap_or(text).trim()
}

impl<'de> Deserialize<'de> for Bare {
    /// Any YAML, whatever its scalars hold.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct BareVisitor;

        impl<'de> Visitor<'de> for BareVisitor {
            type Value = Bare;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("anything")
            }
            fn visit_unit<E: de::Error>(self) -> Result<Bare, E> {
                Ok(Bare::Nothing)
            }
            fn visit_bool<E: de::Error>(self, flag: bool) -> Result<Bare, E> {
                Ok(Bare::Scalar(Told::Flag(flag), None))
            }
            fn visit_i64<E: de::Error>(self, number: i64) -> Result<Bare, E> {
                Ok(Bare::Scalar(Told::Signed(number), None))
            }
            fn visit_u64<E: de::Error>(self, number: u64) -> Result<Bare, E> {
                Ok(Bare::Scalar(Told::Unsigned(number), None))
            }
            fn visit_f64<E: de::Error>(self, number: f64) -> Result<Bare, E> {
                Ok(Bare::Scalar(Told::Real(number), None))
            }
            fn visit_str<E: de::Error>(self, text: &str) -> Result<Bare, E> {
                Ok(Bare::Scalar(Told::Text, Some(text.to_owned())))
            }
            fn visit_seq<A: de::SeqAccess<'de>>(self, mut seq: A) -> Result<Bare, A::Error> {
                let mut nodes = Vec::new();
                while let Some(node) = seq.next_element()? {
                    nodes.push(node);
                }
                Ok(Bare::List(nodes))
            }
            fn visit_map<A: de::MapAccess<'de>>(self, mut map: A) -> Result<Bare, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Bare::Map(entries))
            }
        }

        deserializer.deserialize_any(BareVisitor)
    }
}

/// The place of a node.
pub(super) fn place(node: &At<Node>) -> Option<Place> {
    (node.place.line > 0).then_some(node.place)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_scalar_ends_where_its_value_does() {
        assert_eq!(scalar("180.0, next: 1 }"), "180.0");
        assert_eq!(scalar("180,0"), "180,0");
        assert_eq!(scalar("\"a, b\" }"), "\"a, b\"");
        assert_eq!(scalar("word # why"), "word");
    }
}
