//! The whereabouts of the keys in a file that was read without fault.

use std::collections::BTreeMap;

use super::given::At;
use super::source::Source;
use super::tree::{self, Node};

/// The line, from 1, of every key of a file, written as `banks[1].first_bore`.
#[derive(Debug, Clone, Default)]
pub struct Whereabouts(BTreeMap<String, usize>);

impl Whereabouts {
    /// The whereabouts of a file's keys; empty where its YAML is at fault.
    #[must_use]
    pub fn of(source: &Source) -> Self {
        let mut lines = BTreeMap::new();
        if let Ok(tree) = tree::of(source) {
            walk(source, &tree, "", &mut lines);
        }
        Self(lines)
    }

    /// The line of a key's value; `None` where the file does not state it.
    #[must_use]
    pub fn line(&self, key: &str) -> Option<usize> {
        self.0.get(key).copied()
    }
}

fn walk(source: &Source, node: &At<Node>, key: &str, lines: &mut BTreeMap<String, usize>) {
    match &node.value {
        Node::Map(entries) => {
            for (name, below) in entries {
                let own = if key.is_empty() { name.value.clone() } else { format!("{key}.{}", name.value) };
                if let Some(place) = tree::place(below) {
                    // A map or list begins below its key.
                    lines.insert(own.clone(), source.key_place(place, &name.value).line);
                }
                walk(source, below, &own, lines);
            }
        }
        Node::List(nodes) => {
            for (index, below) in nodes.iter().enumerate() {
                let own = format!("{key}[{index}]");
                if let Some(place) = tree::place(below) {
                    lines.insert(own.clone(), place.line);
                }
                walk(source, below, &own, lines);
            }
        }
        Node::Nothing | Node::Scalar(..) | Node::StandIn => {}
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_is_found_on_its_own_line() {
        let text = "format: borewright/shop/1\nlimits:\n  bridge: 1.5\n  parent_wall:\n    least: 2.0\nbody:\n  - { to: 1 }\n";
        let source = Source {
            name: "shop.yaml".into(),
            path: "shop.yaml".into(),
            text: text.into(),
            sha256: String::new(),
        };
        let whereabouts = Whereabouts::of(&source);
        let line = |key| whereabouts.line(key);
        assert_eq!(line("limits.bridge"), Some(3));
        assert_eq!(line("limits.parent_wall"), Some(4));
        assert_eq!(line("limits.parent_wall.least"), Some(5));
        assert_eq!(line("body"), Some(6));
        assert_eq!(line("body[0].to"), Some(7));
        assert_eq!(line("limits.stud_wall"), None);
        assert_eq!(line("body[4].to"), None);
        assert_eq!(line(""), None);
    }
}
