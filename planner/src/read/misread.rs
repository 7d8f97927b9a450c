//! Why a tree of YAML is not what a description asks for: what serde says of it, kept in parts, with its path and place.

use std::fmt;

use serde::de;

use super::fault::Place;
use super::step::Step;

/// What is wrong with a value.
#[derive(Debug)]
pub(super) enum What {
    /// A key that its map does not take.
    UnknownKey {
        /// The key.
        key: String,
        /// Those that it takes.
        expected: &'static [&'static str],
    },
    /// A key that its map lacks.
    MissingKey(&'static str),
    /// A word that is none of those that may stand here.
    UnknownWord {
        /// The word.
        word: String,
        /// Those that may.
        expected: &'static [&'static str],
    },
    /// A list with another count of values.
    Count {
        /// How many it has.
        count: usize,
        /// What is expected, in serde's words.
        expected: String,
    },
    /// A value of another kind than this one, in serde's words.
    Kind(String),
    /// A number that is infinite or none, as it is typed.
    NotFinite(String),
    /// What a reader says in its own words.
    Said(String),
}

/// A value that is not what is asked for, where it stands.
#[derive(Debug)]
pub(super) struct Misread(Box<Inside>);

#[derive(Debug)]
struct Inside {
    what: What,
    /// From the value up to the file.
    upwards: Vec<Step>,
    place: Option<Place>,
}

impl Misread {
    pub(super) fn new(what: What) -> Self {
        Self(Box::new(Inside { what, upwards: Vec::new(), place: None }))
    }

    pub(super) const fn what(&self) -> &What {
        &self.0.what
    }

    /// Where it stands; `None` for what is nowhere in the file.
    pub(super) fn place(&self) -> Option<Place> {
        self.0.place.filter(|place| place.line > 0)
    }

    /// The path of the value; of an unknown or missing key that of its map.
    pub(super) fn path(&self) -> Vec<Step> {
        self.0.upwards.iter().rev().cloned().collect()
    }

    /// The same, met at this place, if no place within it is known.
    pub(super) fn at(mut self, place: Place) -> Self {
        self.0.place.get_or_insert(place);
        self
    }

    /// The same, met within this step.
    pub(super) fn within(mut self, step: Step) -> Self {
        self.0.upwards.push(step);
        self
    }
}

impl fmt::Display for Misread {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.what() {
            What::UnknownKey { key, .. } => write!(f, "unknown key `{key}`"),
            What::MissingKey(key) => write!(f, "missing key `{key}`"),
            What::UnknownWord { word, .. } => write!(f, "unknown word `{word}`"),
            What::Count { count, expected } => write!(f, "{count} values, expected {expected}"),
            What::Kind(expected) => write!(f, "expected {expected}"),
            What::NotFinite(number) => write!(f, "`{number}` is not finite"),
            What::Said(said) => f.write_str(said),
        }
    }
}

impl std::error::Error for Misread {}

impl de::Error for Misread {
    fn custom<T: fmt::Display>(said: T) -> Self {
        Self::new(What::Said(said.to_string()))
    }

    fn invalid_type(_: de::Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        Self::new(What::Kind(expected.to_string()))
    }

    fn invalid_value(_: de::Unexpected<'_>, expected: &dyn de::Expected) -> Self {
        Self::new(What::Kind(expected.to_string()))
    }

    fn invalid_length(count: usize, expected: &dyn de::Expected) -> Self {
        Self::new(What::Count { count, expected: expected.to_string() })
    }

    fn unknown_variant(word: &str, expected: &'static [&'static str]) -> Self {
        Self::new(What::UnknownWord { word: word.to_owned(), expected })
    }

    fn unknown_field(key: &str, expected: &'static [&'static str]) -> Self {
        Self::new(What::UnknownKey { key: key.to_owned(), expected })
    }

    fn missing_field(key: &'static str) -> Self {
        Self::new(What::MissingKey(key))
    }
}
