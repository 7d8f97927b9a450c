//! Reads a file on behind its faults: edits of its tree that leave out, rename, add or stand in for what was found wrong.

use std::collections::BTreeSet;

use super::given::At;
use super::step::Step;
use super::tree::{Entries, Node, STAND_IN};

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

impl Amendment {
    /// Makes it of a tree; where the path leads nowhere, nothing.
    pub(super) fn make(&self, tree: &mut At<Node>) {
        match self {
            Self::LeftOut(path) => {
                if let Some((entries, key)) = entry(tree, path) {
                    entries.retain(|(name, _)| name.value != key);
                }
            }
            Self::Renamed(path, to) => {
                let found = entry(tree, path)
                    .and_then(|(entries, key)| entries.iter_mut().find(|(name, _)| name.value == key));
                if let Some((name, _)) = found {
                    name.value.clone_from(to);
                }
            }
            Self::Added(path, key) => {
                if let Some(At { value: Node::Map(entries), place }) = find(tree, path) {
                    entries.push((At { value: key.clone(), place: *place }, STAND_IN.clone()));
                }
            }
            Self::StoodIn(path) => {
                if let Some(node) = find(tree, path) {
                    *node = STAND_IN.clone();
                }
            }
        }
    }
}

/// Leaves the first of every key that a map has more than once.
pub(super) fn undouble(node: &mut Node) {
    match node {
        Node::Nothing | Node::Scalar(..) | Node::StandIn => {}
        Node::List(nodes) => nodes.iter_mut().for_each(|node| undouble(&mut node.value)),
        Node::Map(entries) => {
            let mut seen = BTreeSet::new();
            entries.retain(|(key, _)| seen.insert(key.value.clone()));
            entries.iter_mut().for_each(|(_, node)| undouble(&mut node.value));
        }
    }
}

fn find<'t>(tree: &'t mut At<Node>, path: &[Step]) -> Option<&'t mut At<Node>> {
    let Some((step, rest)) = path.split_first() else { return Some(tree) };
    let below = match (&mut tree.value, step) {
        (Node::Map(entries), Step::Key(key)) => {
            entries.iter_mut().find(|(name, _)| name.value == *key).map(|(_, node)| node)
        }
        (Node::List(nodes), Step::Index(index)) => nodes.get_mut(*index),
        _ => None,
    };
    find(below?, rest)
}

/// The entries of the map that has the key at the end of a path, and the key.
fn entry<'t, 'p>(tree: &'t mut At<Node>, path: &'p [Step]) -> Option<(&'t mut Entries, &'p str)> {
    match path.split_last()? {
        (Step::Key(key), above) => match &mut find(tree, above)?.value {
            Node::Map(entries) => Some((entries, key)),
            _ => None,
        },
        (Step::Index(_), _) => None,
    }
}
