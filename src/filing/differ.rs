//! Two plans held against each other, figure by figure.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};
use serde_json::Value;

/// Figures closer than this are the same: a nanometre is what a plan is rounded to.
const SAME: f64 = 1.5e-6;

/// What is different, by what it is.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub(crate) struct Differences(pub(crate) BTreeMap<String, Difference>);

/// One kind of figure that is different.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub(crate) struct Difference {
    /// In how many places.
    pub(crate) places: u32,
    /// The largest difference of numbers, today's less then's.
    pub(crate) by: Option<f64>,
    /// Where it is largest, or first where it is no number.
    pub(crate) at: String,
    /// Then and now there, in short.
    pub(crate) then: String,
    pub(crate) now: String,
}

/// What says which plan it is, and not what it says.
const NAMES: [&str; 3] = ["fingerprint", "lists[].sha256", "inputs[].sha256"];

pub(crate) fn differences(then: &Value, now: &Value) -> Differences {
    let mut found = Differences::default();
    walk(then, now, ("", ""), &mut found);
    found.0.retain(|kind, _| !NAMES.contains(&kind.as_str()));
    found
}

/// Walks both at once; `kind` is the path without places, `at` with them.
fn walk(then: &Value, now: &Value, (kind, at): (&str, &str), found: &mut Differences) {
    let below =
        |path: &str, key: &str| if path.is_empty() { key.to_owned() } else { format!("{path}.{key}") };
    match (then, now) {
        (Value::Object(a), Value::Object(b)) => {
            let keys: std::collections::BTreeSet<&String> = a.keys().chain(b.keys()).collect();
            for key in keys {
                let [a, b] = [a, b].map(|map| map.get(key).unwrap_or(&Value::Null));
                walk(a, b, (&below(kind, key), &below(at, key)), found);
            }
        }
        (Value::Array(a), Value::Array(b)) => {
            let kind = format!("{kind}[]");
            for row in 0..a.len().max(b.len()) {
                let [a, b] = [a, b].map(|rows| rows.get(row).unwrap_or(&Value::Null));
                let name = ["cylinder", "limit", "sleeve", "file", "set_up", "bank", "step"]
                    .iter()
                    .find_map(|key| [a, b].iter().find_map(|v| label(v, key)))
                    .unwrap_or_else(|| row.to_string());
                walk(a, b, (&kind, &format!("{at}[{name}]")), found);
            }
        }
        (Value::Number(a), Value::Number(b)) => {
            let by = b.as_f64().unwrap_or_default() - a.as_f64().unwrap_or_default();
            if by.abs() > SAME {
                add(found, kind, at, Some(by), (then, now));
            }
        }
        (a, b) if a != b => add(found, kind, at, None, (then, now)),
        _ => {}
    }
}

/// What a row calls itself: `cylinder 3`.
fn label(row: &Value, key: &str) -> Option<String> {
    match row.get(key)? {
        Value::String(text) => Some(format!("{key} {text}")),
        Value::Number(number) => Some(format!("{key} {number}")),
        _ => None,
    }
}

fn add(found: &mut Differences, kind: &str, at: &str, by: Option<f64>, (then, now): (&Value, &Value)) {
    let short = |value: &Value| match value {
        Value::String(text) => text.chars().take(60).collect(),
        Value::Null => "nothing".to_owned(),
        Value::Array(_) | Value::Object(_) => "something".to_owned(),
        other => other.to_string(),
    };
    let new = Difference { places: 0, by, at: at.to_owned(), then: short(then), now: short(now) };
    let kept = found.0.entry(kind.to_owned()).or_insert_with(|| new.clone());
    let larger = by.zip(kept.by).is_some_and(|(by, kept)| by.abs() > kept.abs());
    let places = kept.places + 1;
    if larger {
        *kept = new;
    }
    kept.places = places;
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn differences_are_told_by_kind_with_the_largest() {
        let then = json!({ "verdict": "hold", "fingerprint": "a", "cylinders": [
            { "cylinder": 1, "planned": { "x": 0.1 } }, { "cylinder": 3, "planned": { "x": 0.2 } } ] });
        let now = json!({ "verdict": "go", "fingerprint": "b", "cylinders": [
            { "cylinder": 1, "planned": { "x": 0.102 } }, { "cylinder": 3, "planned": { "x": 0.195 } } ], "new": 1 });
        let Differences(found) = differences(&then, &now);
        let kinds: Vec<&str> = found.keys().map(String::as_str).collect();
        assert_eq!(kinds, ["cylinders[].planned.x", "new", "verdict"]);
        let x = &found["cylinders[].planned.x"];
        assert_eq!((x.places, x.at.as_str()), (2, "cylinders[cylinder 3].planned.x"));
        assert!((x.by.unwrap() + 0.005).abs() < 1e-12);
        assert_eq!((found["verdict"].then.as_str(), found["verdict"].now.as_str()), ("hold", "go"));
        assert_eq!(found["new"].then, "nothing");
    }

    #[test]
    fn what_a_plan_is_rounded_to_is_no_difference() {
        let then = json!({ "x": 1.000_000_5 });
        assert_eq!(differences(&then, &json!({ "x": 1.000_001_5 })), Differences::default());
        assert_eq!(differences(&then, &json!({ "x": 1.000_003 })).0.len(), 1);
    }
}
