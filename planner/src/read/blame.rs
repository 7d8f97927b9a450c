//! The fault that an error of the YAML crate is turned into: where it is, what stands there, what should.

use serde_path_to_error::{Path, Segment};
use serde_yaml::Error;

use super::fault::{Fault, Place, did_you_mean, plain};
use super::source::Source;
use super::step::Step;
use super::tree;

/// The path of an error, as far as it is known.
pub(super) fn steps(path: &Path) -> Vec<Step> {
    path.iter()
        .filter_map(|segment| match segment {
            Segment::Seq { index } => Some(Step::Index(*index)),
            Segment::Map { key } | Segment::Enum { variant: key } => Some(Step::Key(key.clone())),
            Segment::Unknown => None,
        })
        .collect()
}

/// `banks[0].cylinders`.
pub(super) fn written(path: &[Step]) -> String {
    let mut text = String::new();
    for step in path {
        match step {
            Step::Key(key) if text.is_empty() => text.push_str(&plain(key, 60)),
            Step::Key(key) => text.push_str(&format!(".{}", plain(key, 60))),
            Step::Index(index) => text.push_str(&format!("[{index}]")),
        }
    }
    text
}

fn words(names: &[&str]) -> String {
    names.iter().map(|n| format!("`{n}`")).collect::<Vec<_>>().join(", ")
}

/// The fault that an error makes, at its place.
pub(super) fn fault(source: &Source, path: &[Step], error: &Error) -> Fault {
    let mut error = error;
    while let Error::AliasError { error: inner, .. } = error {
        error = inner;
    }
    let place = error.location().and_then(|at| {
        let line = usize::try_from(at.line()).ok().filter(|line| *line > 0)?;
        Some(Place { line, column: usize::try_from(at.column()).ok()? })
    });
    let above: Vec<Step> = path.iter().filter(|step| !step.is_value()).cloned().collect();
    match error {
        Error::SerdeUnknownField { field, expected, .. } => unknown_key(source, place, path, field, expected),
        Error::SerdeMissingField { field, .. } => missing_key(source, place, above, field),
        Error::DuplicateMappingKey { key, .. } => {
            let key = Step::Key(key.clone().unwrap_or_else(|| "?".into()));
            let path: Vec<Step> = above.into_iter().chain([key]).collect();
            doubled(source, &path, place.unwrap_or(Place { line: 1, column: 1 }))
        }
        Error::MultipleDocuments { .. } => {
            let found = "a second document after `---`".into();
            source.fault(place, "", found, "one description in each file".into())
        }
        other => match expected(other) {
            Some(expected) => wrong_value(source, place, &above, other, expected),
            None => unreadable(source, place, &above, other),
        },
    }
}

fn unknown_key(
    source: &Source,
    place: Option<Place>,
    path: &[Step],
    field: &str,
    expected: &[&'static str],
) -> Fault {
    let own = Step::Key(field.to_owned());
    let mut above: Vec<Step> = match path.split_last() {
        Some((last, above)) if *last == own => above.to_vec(),
        _ => path.to_vec(),
    };
    above.retain(|step| !step.is_value());
    above.push(own);
    let found = format!("the unknown key `{}`", plain(field, 60));
    let mut fault = source.fault(place, &written(&above), found, format!("one of {}", words(expected)));
    fault.help = decimal_comma(field).or_else(|| did_you_mean(field, expected.iter().copied()));
    fault
}

/// No key is a number: `{ bore: 82,5 }` is to YAML a bore of 82 and a key `5`.
fn decimal_comma(field: &str) -> Option<String> {
    let figures = !field.is_empty() && field.chars().all(|c| c.is_ascii_digit());
    figures
        .then(|| "within braces a comma starts the next key: write decimals with a point, as in 82.5".into())
}

/// The fault of a missing key, at the start of the map that lacks it.
fn missing_key(source: &Source, place: Option<Place>, mut above: Vec<Step>, field: &str) -> Fault {
    let tree = tree::of(source);
    let start = tree.as_ref().and_then(|t| tree::find(t, &above)).and_then(tree::place);
    above.push(Step::Key(field.to_owned()));
    let key = written(&above);
    let mut fault = source.fault(start.or(place), &key, "nothing".into(), format!("the key `{field}`"));
    fault.help = match field {
        "format" => Some("the first line of each file names its format, such as `borewright/job/1`".into()),
        _ => None,
    };
    fault
}

/// A key that its map has already, at the end of its path.
pub(super) fn doubled(source: &Source, path: &[Step], place: Place) -> Fault {
    let key = match path.last() {
        Some(Step::Key(key)) => key.as_str(),
        _ => "?",
    };
    let found = format!("the key `{}` a second time", plain(key, 60));
    source.fault(Some(place), &written(path), found, "each key once".into())
}

/// A value of another shape than its key takes.
fn wrong_value(
    source: &Source,
    place: Option<Place>,
    path: &[Step],
    error: &Error,
    expected: String,
) -> Fault {
    let tree = tree::of(source);
    let node = tree.as_ref().and_then(|t| tree::find(t, path));
    let place = node.and_then(tree::place).or(place);
    let found = match (error, node) {
        (Error::SerdeInvalidLength { len: 1, .. }, _) => "one value".into(),
        (Error::SerdeInvalidLength { len, .. }, _) => format!("{len} values"),
        (Error::SerdeUnknownVariant { variant, .. }, _) => format!("`{}`", plain(variant, 60)),
        (Error::NonFiniteFloat { value, .. }, _) => format!("`{}`", plain(value, 60)),
        (_, Some(node)) => tree::words(source, node),
        (_, None) => source.text.lines().next().map_or("nothing".into(), |_| "a text".to_owned()),
    };
    let mut fault = source.fault(place, &written(path), found, expected);
    if let Error::SerdeUnknownVariant { variant, expected, .. } = error {
        fault.help = did_you_mean(variant, expected.iter().copied());
    }
    fault
}

/// What a key takes, where the error is one of its value.
fn expected(error: &Error) -> Option<String> {
    const A_LIST: &str = "a list: `[…, …]`, or lines that start with `-`";
    const A_MAP: &str = "a map: keys, each with its value";
    let plainer = |text: &str| match text {
        "sequence start" | "a sequence" => A_LIST.to_owned(),
        "mapping start" | "a map" => A_MAP.to_owned(),
        "string scalar" | "a string" => "text".to_owned(),
        _ if text.starts_with("struct ") => A_MAP.to_owned(),
        _ => plain(text, 120),
    };
    Some(match error {
        Error::SerdeUnknownVariant { expected, .. } => format!("one of {}", words(expected)),
        Error::SerdeInvalidType { expected, .. } | Error::SerdeInvalidValue { expected, .. } => {
            plainer(expected)
        }
        Error::Unexpected { expected, .. } => plainer(expected),
        Error::SerdeInvalidLength { expected, .. } => {
            let count: String = expected.chars().filter(char::is_ascii_digit).collect();
            if count.is_empty() { plain(expected, 80) } else { format!("{count} values") }
        }
        Error::NonFiniteFloat { .. } => "a finite number".into(),
        Error::InvalidBooleanStrict { .. } => "`true` or `false`".into(),
        Error::NullIntoString { .. } => "text".into(),
        Error::InvalidScalar { ty, .. } if ty.starts_with(['u', 'i']) => "a whole number".into(),
        Error::InvalidScalar { ty, .. } => format!("a value of type {ty}"),
        _ => return None,
    })
}

/// Text that is no YAML, or YAML beyond the bounds.
fn unreadable(source: &Source, place: Option<Place>, path: &[Step], error: &Error) -> Fault {
    let message = error.to_string();
    let first = message.lines().next().unwrap_or("text that cannot be read");
    let first = first.find(" at line ").and_then(|end| first.get(..end)).unwrap_or(first);
    let found = match error {
        Error::Eof { .. } => "the end of the file".to_owned(),
        _ => plain(first, 160),
    };
    let mut fault = source.fault(place, &written(path), found, "YAML of the documented shape".into());
    if let Some(tab) = place.and_then(|place| leading_tab(source, place.line)) {
        fault = source.fault(Some(tab), "", "a tab before the key".into(), "blanks".into());
        fault.help =
            Some("YAML is indented with blanks: set the editor to write blanks for the tab key".into());
    }
    fault
}

/// A tab among the blanks before the text of this line or the next.
fn leading_tab(source: &Source, line: usize) -> Option<Place> {
    source.text.lines().enumerate().skip(line.saturating_sub(1)).take(2).find_map(|(index, text)| {
        let column = text.chars().take_while(|c| c.is_whitespace()).position(|c| c == '\t')?;
        Some(Place { line: index + 1, column: column + 1 })
    })
}
