//! A file's YAML as a bare tree of places: read a second time, when a fault has to be pointed at.

use std::collections::BTreeSet;
use std::fmt;

use serde::Deserialize;
use serde::de::{self, Deserializer, Visitor};
use serde_yaml::{DuplicateKeyPolicy, NonFiniteFloatPolicy};

use super::fault::Place;
use super::given::At;
use super::source::Source;
use super::step::Step;

/// What stands at a place.
pub(super) enum Node {
    /// Nothing.
    Nothing,
    /// Text, a number, true or false.
    Scalar,
    /// A list.
    List(Vec<At<Node>>),
    /// A map, its keys in the order of the file.
    Map(Vec<(At<String>, At<Node>)>),
}

/// The tree of a file; `None` where its YAML is itself at fault.
pub(super) fn of(source: &Source) -> Option<At<Node>> {
    let mut options = super::yaml_bounds::options();
    options.duplicate_keys = DuplicateKeyPolicy::PassThrough;
    options.non_finite_float_policy = NonFiniteFloatPolicy::AsString;
    serde_yaml::from_str_with_options(&source.text, options).ok()
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
        Node::Nothing | Node::Scalar => {}
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
        Node::Nothing => "nothing".into(),
        Node::List(_) => "a list".into(),
        Node::Map(_) => "a map".into(),
        Node::Scalar => {
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

impl<'de> Deserialize<'de> for Node {
    /// Any YAML as a tree of lists and maps, whatever its scalars hold; every node keeps its place.
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        struct NodeVisitor;

        impl<'de> Visitor<'de> for NodeVisitor {
            type Value = Node;

            fn expecting(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str("anything")
            }
            fn visit_unit<E: de::Error>(self) -> Result<Node, E> {
                Ok(Node::Nothing)
            }
            fn visit_bool<E: de::Error>(self, _: bool) -> Result<Node, E> {
                Ok(Node::Scalar)
            }
            fn visit_i64<E: de::Error>(self, _: i64) -> Result<Node, E> {
                Ok(Node::Scalar)
            }
            fn visit_u64<E: de::Error>(self, _: u64) -> Result<Node, E> {
                Ok(Node::Scalar)
            }
            fn visit_f64<E: de::Error>(self, _: f64) -> Result<Node, E> {
                Ok(Node::Scalar)
            }
            fn visit_str<E: de::Error>(self, _: &str) -> Result<Node, E> {
                Ok(Node::Scalar)
            }
            fn visit_seq<A: de::SeqAccess<'de>>(self, mut seq: A) -> Result<Node, A::Error> {
                let mut nodes = Vec::new();
                while let Some(node) = seq.next_element()? {
                    nodes.push(node);
                }
                Ok(Node::List(nodes))
            }
            fn visit_map<A: de::MapAccess<'de>>(self, mut map: A) -> Result<Node, A::Error> {
                let mut entries = Vec::new();
                while let Some(entry) = map.next_entry()? {
                    entries.push(entry);
                }
                Ok(Node::Map(entries))
            }
        }

        deserializer.deserialize_any(NodeVisitor)
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
