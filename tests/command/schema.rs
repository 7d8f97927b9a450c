//! The schemas that editors complete from name every key that the samples use, and no others pass.

use std::collections::BTreeSet;
use std::fs;
use std::path::PathBuf;

use serde_json::Value;

use crate::common::{files, root, run};

const KINDS: [&str; 5] = ["block", "sleeve", "machine", "shop", "job"];

fn schema(kind: &str) -> Value {
    let run = run(&["schema", kind]);
    assert_eq!((run.status, run.err.as_str()), (Some(0), ""));
    serde_json::from_str(&run.out).unwrap()
}

/// Calls `look` on every map of a schema.
fn each_map(value: &Value, look: &mut impl FnMut(&serde_json::Map<String, Value>)) {
    match value {
        Value::Object(map) => {
            look(map);
            map.values().for_each(|below| each_map(below, look));
        }
        Value::Array(list) => list.iter().for_each(|below| each_map(below, look)),
        _ => {}
    }
}

#[test]
fn every_object_of_a_schema_is_closed_and_described() {
    for kind in KINDS {
        let schema = schema(kind);
        assert_eq!(schema["title"], format!("borewright/{kind}/1"));
        assert_eq!(schema["properties"]["format"]["const"], format!("borewright/{kind}/1"), "{kind}");
        assert_eq!(schema["additionalProperties"], false, "{kind}");
        each_map(&schema, &mut |map| {
            // `properties` is a map of keys, in which a key may itself be called so.
            if map.get("type") == Some(&Value::from("object")) && map.contains_key("properties") {
                assert_eq!(map.get("additionalProperties"), Some(&Value::Bool(false)), "{kind}: {map:?}");
                for (key, property) in map["properties"].as_object().unwrap() {
                    let told = property.get("description").is_some() || property.get("const").is_some();
                    assert!(told, "{kind}: {key} has no description");
                }
            }
        });
    }
}

/// The keys of a sample, without the names that a job gives itself.
fn keys(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    for line in text.lines() {
        let line = line.split(" #").next().unwrap_or_default().trim_start_matches([' ', '-']);
        if line.starts_with('#') {
            continue;
        }
        for part in line.split(['{', ',']) {
            if let Some((key, _)) =
                part.split_once(": ").or_else(|| part.trim_end().strip_suffix(':').map(|k| (k, "")))
            {
                let key = key.trim();
                if !key.is_empty() && key.chars().all(|c| c.is_ascii_lowercase() || c == '_') {
                    found.insert(key.to_owned());
                }
            }
        }
    }
    found
}

#[test]
fn every_key_of_the_samples_is_named_by_their_schema() {
    let own_names = ["aluminium", "bank", "steel", "iron"];
    let samples: Vec<PathBuf> = ["blocks", "src/templates"]
        .iter()
        .flat_map(|folder| {
            let folder = root().join(folder);
            files(&folder).into_iter().map(move |name| folder.join(name))
        })
        .filter(|path| {
            let path = path.to_string_lossy().into_owned();
            let faulty = path.contains("invalid") && !path.contains("invalid/base");
            path.ends_with(".yaml") && !faulty && !path.contains("/out/")
        })
        .collect();
    let mut seen = BTreeSet::new();
    for path in samples {
        let text = fs::read_to_string(&path).unwrap();
        let kind = KINDS.iter().find(|kind| text.contains(&format!("\nformat: borewright/{kind}/1")));
        let Some(kind) = kind else { panic!("{} names no format", path.display()) };
        seen.insert(*kind);
        let mut named = BTreeSet::new();
        each_map(&schema(kind), &mut |map| {
            if let Some(Value::Object(properties)) = map.get("properties") {
                named.extend(properties.keys().cloned());
            }
        });
        for key in keys(&text) {
            assert!(
                named.contains(&key) || own_names.contains(&key.as_str()),
                "{}: `{key}` is in no schema",
                path.display()
            );
        }
    }
    assert_eq!(seen.len(), KINDS.len());
}

#[test]
fn no_key_may_stand_with_nothing_behind_it() {
    for kind in KINDS {
        each_map(&schema(kind), &mut |map| {
            let kinds = map.get("type").and_then(Value::as_array);
            assert!(kinds.is_none_or(|kinds| !kinds.contains(&Value::from("null"))), "{kind}: {map:?}");
            assert_ne!(map.get("type"), Some(&Value::from("null")), "{kind}: {map:?}");
        });
    }
}
