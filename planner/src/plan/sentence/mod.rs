//! A sentence with its quantities in it: put together where a fact is known, rendered where it is printed.
//!
//! ```
//! use borewright_planner::{plan::sentence::{Units, mm}, say};
//! let sentence = say!("the ledge is {} too deep at cylinder {}", mm(0.05, 2), 3);
//! assert_eq!(sentence.to_string(), "the ledge is 0.05 mm too deep at cylinder 3");
//! assert_eq!(sentence.in_units(Units::Inch), "the ledge is 0.0020 in too deep at cylinder 3");
//! ```

mod quantity;
mod tell;
mod window;

pub use quantity::{
    Kind, Quantity, Units, before_mm, celsius, half_away, kelvin, mm, signed_before_mm, signed_mm, within_mm,
};
pub use tell::{Blank, Tell};
pub use window::{Grid, WIDE_DIGITS, Window};

use std::fmt::{self, Display};

use serde::ser::{SerializeSeq as _, Serializer};
use serde::{Deserialize, Serialize};

/// A part of a sentence.
#[derive(Debug, Clone, PartialEq)]
enum Part {
    Words(String),
    Figure(Quantity),
    Blank,
}

/// A sentence: words and quantities.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Sentence(Vec<Part>);

/// Before a quantity's mark; of a private plane, so that no typed text carries it (it is taken out where it does).
const OPEN: char = '\u{F5B00}';
/// Behind it.
const CLOSE: char = '\u{F5B01}';
/// Behind a feed: it stays with each of its units.
const PER_MIN: &str = "/min";
/// A blank between the two.
const BLANK: &str = "_";

impl Sentence {
    /// An empty sentence.
    #[must_use]
    pub fn new() -> Self {
        Self::default()
    }

    /// Whether nothing is said.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// The sentence as printed, its quantities in these units.
    #[must_use]
    pub fn in_units(&self, units: Units) -> String {
        self.with_blanks(units, "")
    }

    /// The same, with room to write in where the sentence leaves a blank.
    #[must_use]
    pub fn with_blanks(&self, units: Units, blank: &str) -> String {
        let mut text = String::new();
        let mut rest = self.0.as_slice();
        while let [part, after @ ..] = rest {
            rest = after;
            match (part, after) {
                (Part::Figure(from), [Part::Words(to), Part::Figure(upto), behind @ ..]) if to == " to " => {
                    let (per, cut) = match behind {
                        [Part::Words(words), ..] if words.starts_with(PER_MIN) => (PER_MIN, 1),
                        _ => ("", 0),
                    };
                    let Some(range) = Quantity::range(*from, *upto, units, per) else {
                        text.push_str(&from.in_units(units));
                        continue;
                    };
                    text.push_str(&range);
                    rest = behind.get(cut..).unwrap_or_default();
                    if let (1, [Part::Words(words), ..]) = (cut, behind) {
                        text.push_str(words.strip_prefix(PER_MIN).unwrap_or(words));
                    }
                }
                (Part::Words(words), _) => text.push_str(words),
                (Part::Figure(quantity), _) => text.push_str(&quantity.in_units(units)),
                (Part::Blank, _) => text.push_str(blank),
            }
        }
        text
    }

    /// Adds what another says.
    pub fn push(&mut self, more: impl Into<Self>) {
        for part in more.into().0 {
            match (self.0.last_mut(), part) {
                (Some(Part::Words(words)), Part::Words(more)) => words.push_str(&more),
                (_, part) => self.0.push(part),
            }
        }
    }

    /// Several, with words between.
    #[must_use]
    pub fn join(sentences: impl IntoIterator<Item = Self>, between: &str) -> Self {
        let mut joined = Self::new();
        for (i, sentence) in sentences.into_iter().enumerate() {
            if i > 0 {
                joined.push(between);
            }
            joined.push(sentence);
        }
        joined
    }

    /// Whether the words hold these, quantities in metric.
    #[must_use]
    pub fn contains(&self, words: &str) -> bool {
        self.to_string().contains(words)
    }

    /// From text that [`say!`](crate::say) has put together, its quantities marked.
    #[doc(hidden)]
    #[must_use]
    pub fn of_marked(text: &str) -> Self {
        let mut sentence = Self::new();
        let mut rest = text;
        while let Some((words, marked)) = rest.split_once(OPEN) {
            let Some((mark, after)) = marked.split_once(CLOSE) else { break };
            sentence.push(words);
            if mark == BLANK {
                sentence.0.push(Part::Blank);
            } else if let Some(quantity) = Quantity::of_mark(mark) {
                sentence.0.push(Part::Figure(quantity));
            }
            rest = after;
        }
        sentence.push(rest);
        sentence
    }
}

/// A quantity as marked text, its exact value by its bits.
struct Mark(Quantity);

impl Display for Mark {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Quantity { kind, value, decimals, signed, of } = self.0;
        let kind = match kind {
            Kind::Length => 'l',
            Kind::LengthBefore => 'b',
            Kind::Temperature => 't',
            Kind::Warming => 'w',
        };
        let sign = if signed { '+' } else { '-' };
        write!(f, "{OPEN}{kind},{:x},{decimals},{sign},{}{CLOSE}", value.to_bits(), of.mark())
    }
}

impl Display for Sentence {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&self.in_units(Units::Metric))
    }
}

impl From<&str> for Sentence {
    fn from(text: &str) -> Self {
        let words: String = text.chars().filter(|c| *c != OPEN && *c != CLOSE).collect();
        Self(if words.is_empty() { Vec::new() } else { vec![Part::Words(words)] })
    }
}

impl From<String> for Sentence {
    fn from(text: String) -> Self {
        text.as_str().into()
    }
}

impl From<&String> for Sentence {
    fn from(text: &String) -> Self {
        text.as_str().into()
    }
}

impl PartialEq<str> for Sentence {
    fn eq(&self, other: &str) -> bool {
        self.in_units(Units::Metric) == other
    }
}

impl PartialEq<&str> for Sentence {
    fn eq(&self, other: &&str) -> bool {
        self.in_units(Units::Metric) == *other
    }
}

/// A sentence is written as its text, lengths in mm.
impl Serialize for Sentence {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.to_string())
    }
}

impl<'de> Deserialize<'de> for Sentence {
    fn deserialize<D: serde::Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        Ok(String::deserialize(deserializer)?.into())
    }
}

/// A sentence's quantities alone, in their order, for the plan: `{ "kind": "length", "value": 0.05 }`, mm, °C, K.
pub struct Parts<'a>(pub &'a Sentence);

#[derive(Serialize)]
struct Told {
    kind: Kind,
    value: f64,
}

impl Parts<'_> {
    /// Whether the sentence has none.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        !self.0.0.iter().any(|part| matches!(part, Part::Figure(_)))
    }
}

impl Serialize for Parts<'_> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let figures = self.0.0.iter().filter_map(|part| match part {
            Part::Figure(quantity) => Some(quantity),
            Part::Words(_) | Part::Blank => None,
        });
        let mut parts = serializer.serialize_seq(None)?;
        for quantity in figures {
            let kind = if quantity.kind == Kind::LengthBefore { Kind::Length } else { quantity.kind };
            parts.serialize_element(&Told { kind, value: super::rounding::plan(quantity.value) })?;
        }
        parts.end()
    }
}

/// A [`Sentence`](crate::plan::sentence::Sentence): as `format!`, with quantities among its arguments kept as such.
///
/// What is named inside the braces becomes plain text; only arguments are kept as quantities.
#[macro_export]
macro_rules! say {
    ($format:literal $(, $part:expr)* $(,)?) => {
        $crate::plan::sentence::Sentence::of_marked(
            &::std::format!($format $(, $crate::plan::sentence::Tell::tell(&$part))*)
        )
    };
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_sentence_is_told_in_millimetres_inches_or_both() {
        let own = say!("cut {} to {} deep, at most {}", before_mm(0.02, 3), mm(0.05, 3), mm(6.32, 2));
        assert_eq!(own.to_string(), "cut 0.020 to 0.050 mm deep, at most 6.32 mm");
        // 0.02/25.4 = 0.00079, 0.05/25.4 = 0.00197, 6.32/25.4 = 0.24882.
        assert_eq!(own.in_units(Units::Inch), "cut 0.0008 to 0.0020 in deep, at most 0.2488 in");
        assert_eq!(say!("{}", mm(12.0, 1)).in_units(Units::Both), "12.0 mm (0.472 in)");
        assert_eq!(say!("{}", mm(12.0, 1)).in_units(Units::InchFirst), "0.472 in (12.0 mm)");
        // 0.24875 in is 6.31825 mm: half away from zero.
        assert_eq!(say!("{}", mm(6.318_25, 3)).in_units(Units::Inch), "0.2488 in");
        assert_eq!(say!("{}", mm(-6.318_25, 3)).in_units(Units::Inch), "-0.2488 in");
        assert_eq!(
            say!("{} and {}", celsius(20.0, 0), kelvin(10.0, 0)).in_units(Units::Inch),
            "68 °F and 18 °F"
        );
    }

    #[test]
    fn a_range_in_both_units_is_told_in_the_one_and_then_in_the_other() {
        // 17 / 25.4 = 0.669, 26 / 25.4 = 1.024.
        let own = say!(
            "{} to {} a turn, {} to {}/min",
            before_mm(0.05, 2),
            mm(0.08, 2),
            before_mm(17.0, 0),
            mm(26.0, 0)
        );
        assert_eq!(own.to_string(), "0.05 to 0.08 mm a turn, 17 to 26 mm/min");
        assert_eq!(
            own.in_units(Units::Both),
            "0.05 to 0.08 mm (0.0020 to 0.0031 in) a turn, 17 to 26 mm/min (0.67 to 1.02 in/min)"
        );
        assert_eq!(
            own.in_units(Units::InchFirst),
            "0.0020 to 0.0031 in (0.05 to 0.08 mm) a turn, 0.67 to 1.02 in/min (17 to 26 mm/min)"
        );
        // Two figures with their own units are no range.
        let two = say!("{} to {}", mm(1.0, 1), mm(2.0, 1));
        assert_eq!(two.in_units(Units::Both), "1.0 mm (0.039 in) to 2.0 mm (0.079 in)");
    }

    #[test]
    fn a_window_in_words_is_the_one_that_its_box_prints() {
        let size = |mm_: f64, either| say!("size {} within {}, at", mm(mm_, 3), within_mm(mm_, either, 3));
        // 81.990 and 82.010 mm are 3.227953 and 3.228740 in, 82.000 are 3.228346: no 0.0004 in to both sides of 3.2283.
        let bore = size(82.0, 0.01);
        assert_eq!(bore.to_string(), "size 82.000 mm within 0.010 mm, at");
        assert_eq!(bore.in_units(Units::Inch), "size 3.2283 in within 3.2280 to 3.2287 in, at");
        assert_eq!(
            bore.in_units(Units::Both),
            "size 82.000 mm (3.2283 in) within 0.010 mm (3.2280 to 3.2287 in), at"
        );
        assert_eq!(size(101.6, 0.01).in_units(Units::Inch), "size 4.0000 in within 0.0003 in, at");
        // 0.020 and 0.050 mm are 0.00079 and 0.00197 in.
        let [least, most] = [0.02, 0.05];
        let proud = say!("{} to {} proud", before_mm(least, 3).least(most), mm(most, 3).most(least));
        assert_eq!(proud.to_string(), "0.020 to 0.050 mm proud");
        assert_eq!(proud.in_units(Units::Inch), "0.0008 to 0.0019 in proud");
        assert_eq!(proud.in_units(Units::Both), "0.020 to 0.050 mm (0.0008 to 0.0019 in) proud");
        // As a figure it is the tolerance.
        assert_eq!(
            serde_json::to_string(&Parts(&size(82.0, 0.01))).unwrap(),
            r#"[{"kind":"length","value":82.0},{"kind":"length","value":0.01}]"#
        );
    }

    #[test]
    fn a_sentence_within_another_keeps_its_quantities() {
        let inner = say!("short by {}", mm(25.4, 3));
        let how = "fails";
        let mut outer = say!("clean up {how}: {}", inner);
        outer.push("; ");
        outer.push(say!("cylinder {}", 3));
        assert_eq!(outer.to_string(), "clean up fails: short by 25.400 mm; cylinder 3");
        assert_eq!(outer.in_units(Units::Inch), "clean up fails: short by 1.0000 in; cylinder 3");
        assert!(!Parts(&outer).is_empty() && Parts(&"none".into()).is_empty());
    }

    #[test]
    fn no_typed_text_becomes_a_quantity() {
        let hostile = format!("{OPEN}l,0,3,-{CLOSE}");
        assert_eq!(say!("a {} b", hostile).to_string(), "a l,0,3,- b");
        assert_eq!(Sentence::from(hostile).to_string(), "l,0,3,-");
    }

    #[test]
    fn a_blank_is_room_only_where_somebody_writes() {
        let own = say!("{}", say!("wall as measured{} stop", Blank));
        assert_eq!(own.to_string(), "wall as measured stop");
        assert_eq!(own.with_blanks(Units::Metric, " ____"), "wall as measured ____ stop");
    }

    #[test]
    fn nothing_has_no_minus() {
        assert_eq!(say!("{}", mm(-0.000_1, 3)).to_string(), "0.000 mm");
    }
}
