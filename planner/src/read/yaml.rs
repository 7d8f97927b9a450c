//! Reads YAML: strict, bounded, every fault with its place and path.

use serde::de::DeserializeOwned;

use super::amend::{self, Amendment};
use super::blame;
use super::fault::{Fault, near};
use super::given::At;
use super::misread::{Misread, What};
use super::source::{Source, is_description};
use super::step::Step;
use super::tree::{self, Node};
use super::typed::{STAND_IN_TEXT, Typed};

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
            || fault.found.contains(STAND_IN_TEXT)
            || fault.expected.contains(STAND_IN_TEXT)
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
    let one = |fault: Fault| Err(Box::new(Faulty { faults: vec![fault], rest: None }));
    let described = is_description(&source.text);
    let (tree, first) = match tree::of(source).map(|tree| (T::deserialize(Typed(&tree)), tree)) {
        Ok((Ok(file), _)) => return Ok(file),
        Ok((Err(misread), tree)) if !described => {
            let fault = blame::fault(source, &tree, &misread);
            return one(if matches!(misread.what(), What::MissingKey(_)) {
                foreign(fault)
            } else {
                formless(fault)
            });
        }
        Ok((Err(misread), tree)) => {
            let fault = blame::fault(source, &tree, &misread);
            (tree, fault)
        }
        Err(error) => match tree::with_doubled(source).filter(|_| described) {
            Some(tree) => (tree, blame::unreadable(source, &error)),
            None if described => return one(blame::unreadable(source, &error)),
            None => return one(formless(blame::unreadable(source, &error))),
        },
    };
    match other_kind(source, &tree, T::FORMAT) {
        Some(other) => one(other),
        None => Err(Box::new(read_on(source, tree, first))),
    }
}

/// A fault of a text that is no description: no line of it is shown.
fn foreign(fault: Fault) -> Fault {
    Fault { line_text: None, ..fault }
}

/// The fault of a text that is no description and is not even the shape of one.
fn formless(fault: Fault) -> Fault {
    Fault {
        key: String::new(),
        found: "text that names no format".into(),
        expected: "a description, its first line `format: borewright/…`".into(),
        help: None,
        ..foreign(fault)
    }
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

/// A file whose YAML is sound, but for keys that are doubled, and whose shape is not: all its faults as far as they can be seen,
/// and the rest of it. `first` is the fault that a strict reading met.
fn read_on<T: DeserializeOwned>(source: &Source, mut tree: At<Node>, first: Fault) -> Faulty<T> {
    let mut faults: Vec<Fault> =
        tree::doubled(&tree).iter().map(|(path, place)| blame::doubled(source, path, *place)).collect();
    amend::undouble(&mut tree.value);
    let mut amendments: Vec<Amendment> = Vec::new();
    let mut file = None;
    while faults.len() < MOST_FAULTS {
        let misread = match T::deserialize(Typed(&tree)) {
            Ok(read) => {
                file = Some(read);
                break;
            }
            Err(misread) => misread,
        };
        let mut path = misread.path();
        let mut amendment = amendment(&tree, &path, &misread);
        if !amendments.contains(&amendment) {
            faults.push(blame::fault(source, &tree, &misread));
        }
        // What did not help there may help further up.
        while amendments.contains(&amendment) && path.pop().is_some() {
            amendment = Amendment::StoodIn(path.clone());
        }
        if amendment == Amendment::StoodIn(Vec::new()) {
            break;
        }
        amendment.make(&mut tree);
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

/// What lets a file be read on behind a fault.
fn amendment(tree: &At<Node>, path: &[Step], misread: &Misread) -> Amendment {
    let below = |key: &str| path.iter().cloned().chain([Step::Key(key.to_owned())]).collect::<Vec<_>>();
    match misread.what() {
        What::UnknownKey { key, expected } => {
            let written = |key: &str| tree::find(tree, &below(key)).is_some();
            match near(key, expected.iter().copied()).filter(|meant| !written(meant)) {
                // Else one slip would be told twice: as an unknown key, and as a missing one.
                Some(meant) => Amendment::Renamed(below(key), meant.to_owned()),
                None => Amendment::LeftOut(below(key)),
            }
        }
        What::MissingKey(key) => Amendment::Added(path.to_vec(), (*key).to_owned()),
        _ => Amendment::StoodIn(path.to_vec()),
    }
}

/// The keys whose values an amendment makes others than the file has.
fn keys(amendment: &Amendment) -> Vec<String> {
    let below = |path: &[Step], key: &str| {
        blame::written(&path.iter().cloned().chain([Step::Key(key.to_owned())]).collect::<Vec<_>>())
    };
    match amendment {
        Amendment::LeftOut(path) | Amendment::StoodIn(path) => vec![blame::written(path)],
        Amendment::Renamed(path, to) => {
            let above = path.split_last().map_or(&[] as &[Step], |(_, above)| above);
            vec![blame::written(path), below(above, to)]
        }
        Amendment::Added(path, to) => vec![below(path, to)],
    }
}
