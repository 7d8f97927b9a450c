//! Reads YAML: strict, bounded, every fault with its place and path.

use serde::de::DeserializeOwned;
use serde_yaml::{DuplicateKeyPolicy, Error, NonFiniteFloatPolicy, Options};

use super::amend::{Amending, Amendment};
use super::blame;
use super::fault::{Fault, near};
use super::given::At;
use super::source::{Source, is_description};
use super::stand_in;
use super::step::Step;
use super::tree::{self, Node};
use super::yaml_bounds::options;

/// Brackets and braces beyond this are a bomb, not a description; refused before parsing.
const MOST_BRACKETS: usize = 10_000;

/// Faults of one file that are looked for: each is another reading of it.
const MOST_FAULTS: usize = 40;

/// The kinds of file.
const KINDS: [&str; 5] = ["job", "block", "sleeve", "machine", "shop"];

/// A kind of file.
pub trait Kind: DeserializeOwned {
    /// What such a file says of itself.
    const FORMAT: &'static str;
}

/// A file that is at fault.
#[derive(Debug)]
pub struct Faulty<T> {
    /// What its YAML or shape is at fault with, in the order of the file; never empty.
    pub faults: Vec<Fault>,
    /// The rest of it, with stand-ins for what is wrong or missing: to be looked at for further faults, and never worked by.
    pub rest: Option<Rest<T>>,
}

/// What could be read of a file at fault.
#[derive(Debug)]
pub struct Rest<T> {
    /// The file, in part of stand-ins.
    pub file: T,
    /// What of it is not as it stands in the file.
    pub amended: Amended,
}

/// What of a file is not as it stands there; nothing of one without a fault.
#[derive(Debug, Clone, Default)]
pub struct Amended {
    keys: Vec<String>,
    /// Whether the units of its bare numbers are a stand-in's.
    unitless: bool,
}

impl Amended {
    /// Whether a value of this key, or of one within it, is not what stands in the file.
    #[must_use]
    pub fn has(&self, key: &str) -> bool {
        self.keys.iter().any(|amended| within(amended, key))
    }

    /// Whether a fault found in this file on reading on may come of a stand-in: it is of one, or in the same map as one, names
    /// one, or nothing is known of the units.
    #[must_use]
    pub fn may_cause(&self, fault: &Fault) -> bool {
        let beside = |amended: &String| match amended.rfind(['.', '[']) {
            Some(end) => within(&fault.key, &amended[..end]),
            None => within(&fault.key, amended),
        };
        self.unitless
            || fault.found.contains(stand_in::TEXT)
            || fault.expected.contains(stand_in::TEXT)
            || fault.place.is_none_or(|place| place.line == 0)
            || self.keys.iter().any(beside)
    }
}

/// Whether a key is this one or within it.
fn within(key: &str, of: &str) -> bool {
    key.strip_prefix(of).is_some_and(|rest| rest.is_empty() || rest.starts_with(['.', '[']))
}

/// Reads a file's text as `T`.
///
/// # Errors
/// The faults of its YAML and shape, with line, column and path. Text that is no YAML, or that names no format or that of another
/// kind of file, has one. Otherwise what is wrong is left out, or a stand-in takes its place, and the file is read again, up to 40
/// times. What stands within a value of the wrong shape is not seen, nor what is missing of a map that is itself missing.
pub fn parse<T: Kind>(source: &Source) -> Result<T, Box<Faulty<T>>> {
    let whole = |found: &str, expected: &str| {
        let fault = source.fault(None, "", found.into(), expected.into());
        Err(Box::new(Faulty { faults: vec![fault], rest: None }))
    };
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
    read(source, &[], options()).map_err(|met| {
        let (path, error) = *met;
        let mut fault = blame::fault(source, &path, error.without_snippet());
        let described = is_description(&source.text);
        if !described {
            fault.line_text = None;
            if !matches!(error, Error::SerdeMissingField { .. }) {
                fault.key = String::new();
                fault.found = "text that names no format".into();
                fault.expected = "a description, its first line `format: borewright/…`".into();
                fault.help = None;
            }
        }
        let one = |fault: Fault| Faulty { faults: vec![fault], rest: None };
        Box::new(match tree::of(source).filter(|_| described) {
            Some(tree) => match other_kind(source, &tree, T::FORMAT) {
                Some(other) => one(other),
                None => read_on(source, &tree, fault),
            },
            None => one(fault),
        })
    })
}

/// The fault of a file of another kind: not one key of it need fit.
fn other_kind(source: &Source, tree: &At<Node>, expected: &str) -> Option<Fault> {
    let node = tree::find(tree, &[Step::Key("format".into())])?;
    let named = tree::words(source, node);
    let format = named.trim_matches(['`', '"', '\'']);
    let kind = format.strip_prefix("borewright/")?.split('/').next()?;
    let other = format != expected && KINDS.contains(&kind) && !expected.contains(&format!("/{kind}/"));
    other.then(|| source.fault(tree::place(node), "format", format!("`{format}`"), format!("`{expected}`")))
}

/// Reads a file's text, amended; else where it is at fault, and how.
fn read<T: DeserializeOwned>(
    source: &Source,
    amendments: &[Amendment],
    options: Options,
) -> Result<T, Box<(Vec<Step>, Error)>> {
    let mut path: Vec<Step> = Vec::new();
    let result = serde_yaml::with_deserializer_from_str_with_options(&source.text, options, |de| {
        serde_path_to_error::deserialize::<_, T>(Amending::new(de, amendments)).map_err(|e| {
            path = blame::steps(e.path());
            e.into_inner()
        })
    });
    result.map_err(|error| Box::new((path, error)))
}

/// A file whose YAML is sound and whose shape is not: all its faults as far as they can be seen, and the rest of it. `first`
/// is the fault that a strict reading met.
fn read_on<T: DeserializeOwned>(source: &Source, tree: &At<Node>, first: Fault) -> Faulty<T> {
    let mut faults: Vec<Fault> =
        tree::doubled(tree).iter().map(|(path, place)| blame::doubled(source, path, *place)).collect();
    let mut amendments: Vec<Amendment> = Vec::new();
    let mut file = None;
    let mut options = options();
    // Doubled keys are told already. A number that is none is told as a value that is none.
    options.duplicate_keys = DuplicateKeyPolicy::FirstWins;
    options.non_finite_float_policy = NonFiniteFloatPolicy::AsString;
    while faults.len() < MOST_FAULTS {
        let (path, error) = match read(source, &amendments, options.clone()) {
            Ok(read) => {
                file = Some(read);
                break;
            }
            Err(met) => *met,
        };
        let mut amendment = amendment(tree, &path, &error);
        if !amendments.contains(&amendment) {
            faults.push(blame::fault(source, &path, error.without_snippet()));
        }
        // What did not help there may help further up.
        let mut path = path;
        while amendments.contains(&amendment) && path.pop().is_some() {
            amendment = Amendment::StoodIn(path.clone());
        }
        if amendment == Amendment::StoodIn(Vec::new()) {
            break;
        }
        amendments.push(amendment);
    }
    let mut told: Vec<String> = amendments.iter().flat_map(keys).collect();
    if faults.is_empty() {
        told.push(first.key.clone());
        faults.push(first);
    }
    faults.sort_by_key(|fault| fault.place);
    let unitless = |amendment: &Amendment| {
        !matches!(amendment, Amendment::Renamed(..)) && keys(amendment).iter().any(|key| key == "units")
    };
    let amended = Amended { unitless: amendments.iter().any(unitless), keys: told };
    Faulty { faults, rest: file.map(|file| Rest { file, amended }) }
}

/// What lets a file be read on behind an error.
fn amendment(tree: &At<Node>, path: &[Step], error: &Error) -> Amendment {
    let mut error = error;
    while let Error::AliasError { error: inner, .. } = error {
        error = inner;
    }
    match error {
        Error::SerdeUnknownField { field, expected, .. } => {
            let own = Step::Key(field.clone());
            let above = match path.split_last() {
                Some((last, above)) if *last == own => above,
                _ => path,
            };
            let written = |key: &str| {
                let keys = above.iter().filter(|step| !step.is_value()).cloned();
                tree::find(tree, &keys.chain([Step::Key(key.to_owned())]).collect::<Vec<_>>()).is_some()
            };
            let at = above.iter().cloned().chain([own]).collect();
            match near(field, expected.iter().copied()).filter(|meant| !written(meant)) {
                // Else one slip would be told twice: as an unknown key, and as a missing one.
                Some(meant) => Amendment::Renamed(at, meant.to_owned()),
                None => Amendment::LeftOut(at),
            }
        }
        Error::SerdeMissingField { field, .. } => Amendment::Added(path.to_vec(), (*field).to_owned()),
        _ => Amendment::StoodIn(path.to_vec()),
    }
}

/// The keys whose values an amendment makes others than the file has.
fn keys(amendment: &Amendment) -> Vec<String> {
    let key = |path: &[Step]| {
        blame::written(&path.iter().filter(|step| !step.is_value()).cloned().collect::<Vec<_>>())
    };
    let beside = |path: &[Step], to: &str| {
        let above = path.split_last().map_or(path, |(_, above)| above);
        key(&above.iter().cloned().chain([Step::Key(to.to_owned())]).collect::<Vec<_>>())
    };
    match amendment {
        Amendment::LeftOut(path) | Amendment::StoodIn(path) => vec![key(path)],
        Amendment::Renamed(path, to) => vec![key(path), beside(path, to)],
        Amendment::Added(path, to) => {
            vec![key(&path.iter().cloned().chain([Step::Key(to.clone())]).collect::<Vec<_>>())]
        }
    }
}
