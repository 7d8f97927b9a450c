//! The summary that a record is found by: words and figures that the archive is handed and does not understand.

use std::collections::BTreeMap;

use serde::{Deserialize, Serialize};

use crate::sum::Sum;

/// A few words and ranges of figures under names of their own.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Summary {
    /// One line that says what was filed.
    pub title: String,
    /// Words by what they are: `"sleeve": ["W90"]`.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub words: BTreeMap<String, Vec<String>>,
    /// Least and most by what they are; the unit is whoever's who hands them in.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub ranges: BTreeMap<String, [f64; 2]>,
}

impl Summary {
    /// Adds one word under a name; an empty one, and one that is there, change nothing.
    pub fn word(&mut self, what: &str, word: &str) {
        if !word.is_empty() {
            let words = self.words.entry(what.to_owned()).or_default();
            if !words.iter().any(|w| w == word) {
                words.push(word.to_owned());
            }
        }
    }

    /// Takes a figure into a range; what is no number is left out.
    pub fn figure(&mut self, what: &str, figure: f64) {
        if figure.is_finite() {
            let range = self.ranges.entry(what.to_owned()).or_insert([figure, figure]);
            *range = [range[0].min(figure), range[1].max(figure)];
        }
    }

    /// Whether one of its words is a sum that begins with what somebody read off paper.
    #[must_use]
    pub(crate) fn has_sum(&self, typed: &str) -> bool {
        self.words.values().flatten().filter_map(|word| Sum::parse(word)).any(|sum| sum.begins_with(typed))
    }

    /// The words under a name, divided by commas; empty where there are none.
    #[must_use]
    pub fn told(&self, what: &str) -> String {
        self.words.get(what).map(|w| w.join(", ")).unwrap_or_default()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_stand_once_and_figures_make_a_range() {
        let mut summary = Summary::default();
        for word in ["W90", "W90", "", "W92"] {
            summary.word("sleeve", word);
        }
        for figure in [82.0, 81.5, f64::NAN, f64::INFINITY] {
            summary.figure("bore", figure);
        }
        assert_eq!(summary.told("sleeve"), "W90, W92");
        assert_eq!(summary.ranges["bore"], [81.5, 82.0]);
    }

    #[test]
    fn a_sum_among_the_words_is_known_by_its_printed_beginning() {
        let mut summary = Summary::default();
        summary.word("job", "ba7816bf");
        assert!(!summary.has_sum("ba78-16bf"));
        summary.word("plan", &Sum::of(b"abc").to_string());
        assert!(summary.has_sum("ba78-16bf-8f01") && summary.has_sum("BA7816BF"));
        assert!(!summary.has_sum("ba78-16be") && !summary.has_sum("ba78"));
    }
}
