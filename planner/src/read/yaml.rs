//! Reads YAML: strict, bounded, every fault with its place and path.

use serde::de::DeserializeOwned;

use super::blame;
use super::fault::Fault;
use super::source::{Source, is_description};
use super::step::Step;
use super::yaml_bounds::options;

/// Brackets and braces beyond this are a bomb, not a description; refused before parsing.
const MOST_BRACKETS: usize = 10_000;

/// Reads a file's text as `T`.
///
/// # Errors
/// The first fault of its YAML or shape, with line, column and path.
pub fn parse<T: DeserializeOwned>(source: &Source) -> Result<T, Box<Fault>> {
    let whole =
        |found: &str, expected: &str| Err(Box::new(source.fault(None, "", found.into(), expected.into())));
    let brackets = source.text.bytes().filter(|b| matches!(b, b'[' | b'{')).count();
    if brackets > MOST_BRACKETS {
        return whole(&format!("{brackets} brackets and braces"), &format!("at most {MOST_BRACKETS}"));
    }
    if source.text.trim().is_empty() {
        return whole("an empty file", "a description");
    }
    if source.text.lines().map(str::trim_start).all(|line| line.is_empty() || line.starts_with('#')) {
        return whole("comments and nothing else", "a description");
    }
    let mut path: Vec<Step> = Vec::new();
    let result = serde_yaml::with_deserializer_from_str_with_options(&source.text, options(), |de| {
        serde_path_to_error::deserialize::<_, T>(de).map_err(|e| {
            path = blame::steps(e.path());
            e.into_inner()
        })
    });
    result.map_err(|error| {
        let mut fault = blame::fault(source, &path, error.without_snippet());
        if !is_description(&source.text) {
            fault.line_text = None;
            if !matches!(error, serde_yaml::Error::SerdeMissingField { .. }) {
                fault.key = String::new();
                fault.found = "text that names no format".into();
                fault.expected = "a description, its first line `format: borewright/…`".into();
                fault.help = None;
            }
        }
        Box::new(fault)
    })
}
