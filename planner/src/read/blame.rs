//! The fault that a misread value, or text that is no YAML, is turned into: where it is, what stands there, what should.

use serde_yaml::Error;

use super::fault::{Fault, Place, did_you_mean, plain};
use super::given::At;
use super::misread::{Misread, What};
use super::source::Source;
use super::step::Step;
use super::tree::{self, Node, Unreadable};

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

/// The fault that a misread value makes, at its place.
pub(super) fn fault(source: &Source, tree: &At<Node>, misread: &Misread) -> Fault {
    let path = misread.path();
    let below =
        |key: &str| written(&path.iter().cloned().chain([Step::Key(key.to_owned())]).collect::<Vec<_>>());
    let node = tree::find(tree, &path);
    let place = node.and_then(tree::place).or(misread.place());
    match misread.what() {
        What::UnknownKey { key, expected } => {
            let found = format!("the unknown key `{}`", plain(key, 60));
            let expected_keys = format!("one of {}", words(expected));
            let mut fault = source.fault(misread.place(), &below(key), found, expected_keys);
            fault.help = decimal_comma(key).or_else(|| did_you_mean(key, expected.iter().copied()));
            fault
        }
        // At the start of the map that lacks it.
        What::MissingKey(key) => {
            let mut fault = source.fault(place, &below(key), "nothing".into(), format!("the key `{key}`"));
            fault.help = match *key {
                "format" => {
                    Some("the first line of each file names its format, such as `borewright/job/1`".into())
                }
                _ => None,
            };
            fault
        }
        What::UnknownWord { word, expected } => {
            let found = format!("`{}`", plain(word, 60));
            let mut fault =
                source.fault(place, &written(&path), found, format!("one of {}", words(expected)));
            fault.help = did_you_mean(word, expected.iter().copied());
            fault
        }
        What::Count { count, expected } => {
            let found = if *count == 1 { "one value".into() } else { format!("{count} values") };
            let wanted: String = expected.chars().filter(char::is_ascii_digit).collect();
            let wanted = if wanted.is_empty() { plain(expected, 80) } else { format!("{wanted} values") };
            source.fault(place, &written(&path), found, wanted)
        }
        What::Kind(expected) => {
            let found = node.map_or_else(|| "a text".to_owned(), |node| tree::words(source, node));
            source.fault(place, &written(&path), found, kind(expected))
        }
        What::NotFinite(number) => {
            let found = format!("`{}`", plain(number, 60));
            source.fault(place, &written(&path), found, "a finite number".into())
        }
        What::Said(said) => source.fault(place, &written(&path), plain(said, 160), SHAPE.into()),
    }
}

const SHAPE: &str = "YAML of the documented shape";

/// No key is a number: `{ bore: 82,5 }` is to YAML a bore of 82 and a key `5`.
fn decimal_comma(field: &str) -> Option<String> {
    let figures = !field.is_empty() && field.chars().all(|c| c.is_ascii_digit());
    figures
        .then(|| "within braces a comma starts the next key: write decimals with a point, as in 82.5".into())
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

/// A kind of value, in words of ours.
fn kind(expected: &str) -> String {
    match expected {
        "a sequence" => "a list: `[…, …]`, or lines that start with `-`".into(),
        "a map" => "a map: keys, each with its value".into(),
        "a string" => "text".into(),
        _ if expected.starts_with("struct ") => kind("a map"),
        _ => plain(expected, 120),
    }
}

/// The fault of text that is no YAML, or YAML beyond the bounds.
pub(super) fn unreadable(source: &Source, unreadable: &Unreadable) -> Fault {
    let mut error = unreadable.error.without_snippet();
    while let Error::AliasError { error: inner, .. } = error {
        error = inner;
    }
    let place = error.location().and_then(|at| {
        let line = usize::try_from(at.line()).ok().filter(|line| *line > 0)?;
        Some(Place { line, column: usize::try_from(at.column()).ok()? })
    });
    let found = match error {
        Error::DuplicateMappingKey { key, .. } => {
            let key = Step::Key(key.clone().unwrap_or_else(|| "?".into()));
            let path: Vec<Step> = unreadable.path.iter().cloned().chain([key]).collect();
            return doubled(source, &path, place.unwrap_or(Place { line: 1, column: 1 }));
        }
        Error::MultipleDocuments { .. } => {
            let found = "a second document after `---`".into();
            return source.fault(place, "", found, "one description in each file".into());
        }
        Error::Eof { .. } => "the end of the file".to_owned(),
        _ => {
            let message = error.to_string();
            let first = message.lines().next().unwrap_or("text that cannot be read");
            plain(first.find(" at line ").and_then(|end| first.get(..end)).unwrap_or(first), 160)
        }
    };
    if let Some(tab) = place.and_then(|place| leading_tab(source, place.line)) {
        let mut fault = source.fault(Some(tab), "", "a tab before the key".into(), "blanks".into());
        fault.help =
            Some("YAML is indented with blanks: set the editor to write blanks for the tab key".into());
        return fault;
    }
    source.fault(place, &written(&unreadable.path), found, SHAPE.into())
}

/// A tab among the blanks before the text of this line or the next.
fn leading_tab(source: &Source, line: usize) -> Option<Place> {
    source.text.lines().enumerate().skip(line.saturating_sub(1)).take(2).find_map(|(index, text)| {
        let column = text.chars().take_while(|c| c.is_whitespace()).position(|c| c == '\t')?;
        Some(Place { line: index + 1, column: column + 1 })
    })
}
