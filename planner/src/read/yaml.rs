//! The one room that knows the YAML crate: strict, bounded, every fault with its place and path.

use serde::de::DeserializeOwned;
use serde_yaml::{Budget, Error, Options};

use super::fault::{Fault, Place, did_you_mean, plain};
use super::source::Source;

/// Brackets and braces beyond this are a bomb, not a description; refused before parsing.
const MOST_BRACKETS: usize = 10_000;

fn options() -> Options {
    let mut options = Options::default();
    let mut budget = Budget::default();
    // A block with 16 cylinders and its studs is some 500 nodes, five levels deep.
    budget.max_depth = 16;
    budget.max_nodes = 50_000;
    budget.max_events = 200_000;
    budget.max_aliases = 100;
    budget.max_anchors = 100;
    options.budget = Some(budget);
    options.strict_booleans = true;
    options.with_snippet = false;
    options.underscored_numbers_as_strings = true;
    options
}

/// Reads a file's text as `T`.
///
/// # Errors
/// The first fault of its YAML or shape, with line, column and path.
pub fn parse<T: DeserializeOwned>(source: &Source) -> Result<T, Box<Fault>> {
    let brackets = source.text.bytes().filter(|b| matches!(b, b'[' | b'{')).count();
    if brackets > MOST_BRACKETS {
        let found = format!("{brackets} brackets and braces");
        return Err(Box::new(source.fault(None, "", found, format!("at most {MOST_BRACKETS}"))));
    }
    if source.text.trim().is_empty() {
        return Err(Box::new(source.fault(None, "", "an empty file".into(), "a description".into())));
    }
    let mut path = String::new();
    let result = serde_yaml::with_deserializer_from_str_with_options(&source.text, options(), |de| {
        serde_path_to_error::deserialize::<_, T>(de).map_err(|e| {
            path = e.path().to_string();
            e.into_inner()
        })
    });
    result.map_err(|error| Box::new(fault(source, &path, error.without_snippet())))
}

fn fault(source: &Source, path: &str, error: &Error) -> Fault {
    let place = error.location().and_then(|at| {
        let line = usize::try_from(at.line()).ok().filter(|line| *line > 0)?;
        Some(Place { line, column: usize::try_from(at.column()).ok()? })
    });
    let path = if path == "." || path == "?" { "" } else { path };
    let parent = |path: &str| path.rsplit_once('.').map_or(String::new(), |(front, _)| front.to_owned());
    let words = |names: &[&str]| names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ");
    match error {
        Error::SerdeUnknownField { field, expected, .. } => {
            // The path names the key itself where the key is the fault.
            let key = if path.is_empty() { plain(field, 60) } else { path.to_owned() };
            let mut fault = source.fault(
                place,
                &key,
                format!("the unknown key `{}`", plain(field, 60)),
                format!("one of {}", words(expected)),
            );
            fault.help = did_you_mean(field, expected.iter().copied());
            fault
        }
        Error::SerdeUnknownVariant { variant, expected, .. } => {
            let mut fault = source.fault(
                place,
                path,
                format!("`{}`", plain(variant, 60)),
                format!("one of {}", words(expected)),
            );
            fault.help = did_you_mean(variant, expected.iter().copied());
            fault
        }
        Error::SerdeMissingField { field, .. } => {
            let key = if path.is_empty() { (*field).to_owned() } else { format!("{path}.{field}") };
            let mut fault = source.fault(place, &key, "nothing".into(), format!("the key `{field}`"));
            fault.help = missing_help(field);
            fault
        }
        Error::DuplicateMappingKey { key, .. } => {
            let key = plain(key.as_deref().unwrap_or("?"), 60);
            let at = if path.is_empty() { key.clone() } else { format!("{}.{key}", parent(path)) };
            source.fault(
                place,
                at.trim_start_matches('.'),
                format!("the key `{key}` a second time"),
                "each key once".into(),
            )
        }
        Error::SerdeInvalidType { unexpected, expected, .. }
        | Error::SerdeInvalidValue { unexpected, expected, .. } => {
            source.fault(place, path, plain(unexpected, 80), plain(expected, 120))
        }
        Error::InvalidScalar { ty, .. } => {
            source.fault(place, path, "something else".into(), format!("a value of type {ty}"))
        }
        Error::SerdeInvalidLength { len, expected, .. } => {
            source.fault(place, path, format!("{len} values"), plain(expected, 80))
        }
        Error::MultipleDocuments { .. } => source.fault(
            place,
            path,
            "a second document after `---`".into(),
            "one description in each file".into(),
        ),
        other => {
            let message = other.to_string();
            let first = message.lines().next().unwrap_or("YAML that cannot be read");
            source.fault(place, path, plain(first, 160), "YAML of the documented shape".into())
        }
    }
}

fn missing_help(field: &str) -> Option<String> {
    match field {
        "flange" => {
            Some("only flanged sleeves are planned: a sleeve without a flange can sink below the deck".into())
        }
        "format" => Some("the first line of each file names its format, such as `borewright/job/1`".into()),
        _ => None,
    }
}
