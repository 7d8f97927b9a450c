//! What a pass stops for: whole in lists and in `plan.json`, in its parts on a card.

use std::fmt;

use serde::{Serialize, Serializer};

use super::sentence::Sentence;
use crate::say;

/// What to measure or mind before going on, in the parts that are told apart.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stop {
    /// The number of the sleeve that goes into this bore, where sleeves were measured one by one.
    pub sleeve: Option<String>,
    /// How it is done; nothing where the pass itself says it.
    pub how: Sentence,
    /// When it is judged, where that is not at once.
    pub once: Sentence,
    /// What is measured or looked at.
    pub asks: Sentence,
}

impl Stop {
    /// All of it, as one sentence.
    #[must_use]
    pub fn whole(&self) -> Sentence {
        let mut whole = self.sleeve.as_ref().map_or_else(Sentence::new, |n| say!("sleeve number {}; ", n));
        if !self.how.is_empty() {
            whole.push(say!("{}; ", self.how));
        }
        if !self.once.is_empty() {
            whole.push(say!("{}: ", self.once));
        }
        whole.push(self.asks.clone());
        whole
    }
}

impl fmt::Display for Stop {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.whole().fmt(f)
    }
}

/// One of which no part is told apart.
impl<S: Into<Sentence>> From<S> for Stop {
    fn from(asks: S) -> Self {
        Self { asks: asks.into(), ..Self::default() }
    }
}

/// A stop is written as its text, lengths in mm.
impl Serialize for Stop {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        self.whole().serialize(serializer)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_stop_is_told_whole_and_in_its_parts() {
        let mut stop = Stop::from("0.02 feeler must not enter");
        assert_eq!(stop.to_string(), "0.02 feeler must not enter");
        stop.how = "hold down until gripped".into();
        assert_eq!(stop.to_string(), "hold down until gripped; 0.02 feeler must not enter");
        stop.once = "cold".into();
        stop.sleeve = Some("S-3".to_owned());
        let whole = "sleeve number S-3; hold down until gripped; cold: 0.02 feeler must not enter";
        assert_eq!(stop.to_string(), whole);
        assert_eq!(serde_json::to_value(&stop).unwrap(), whole);
    }
}
