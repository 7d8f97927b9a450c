//! A line of the record as a reading: of which check, what was heard, how the line stands.

use super::elsewhere::of_hand;
use super::value::{As, Heard, hear};
use crate::log::{Entry, Fields, Kept};
use crate::plan::check::Check;
use crate::plan::sentence::Sentence;
use crate::read::fault::plain;
use crate::read::given::Units;
use crate::say;

/// A reading that was recorded.
#[derive(Debug, Clone, PartialEq)]
pub struct Reading {
    /// Its line in the file.
    pub line: usize,
    /// Number of the check in this plan.
    pub check: u32,
    /// The cylinder; `None` of a whole bank.
    pub cylinder: Option<u32>,
    /// Which reading of the check.
    pub reading: u32,
    /// What was typed.
    pub typed: String,
    /// What was heard.
    pub heard: Heard,
    /// Its cells, for who, when, with what.
    pub fields: Fields,
    /// How the line stands.
    pub kept: Kept,
    /// Why it does not count, where it is struck.
    pub struck: Option<String>,
}

impl Reading {
    /// The reading's figure, where it counts and has one.
    #[must_use]
    pub fn value(&self) -> Option<f64> {
        match self.heard {
            Heard::Figure { value, .. } if self.struck.is_none() => Some(value),
            _ => None,
        }
    }
}

/// A line as a reading, and what must be told of it; or why it is no reading.
pub(super) fn reading(
    entry: &Entry,
    checks: &[Check],
    units: Units,
) -> Result<(Reading, Option<Sentence>), Sentence> {
    let fields = &entry.fields;
    let number: u32 = fields
        .get("check")
        .parse()
        .map_err(|_| say!("`{}` is no check's number", plain(fields.get("check"), 30)))?;
    let cylinder: Option<u32> = match fields.get("cylinder") {
        "" => None,
        text => Some(text.parse().map_err(|_| say!("`{}` is no cylinder", plain(text, 30)))?),
    };
    let check = known(checks, number, fields.get("of"), cylinder)?;
    let told = (check.check != number)
        .then(|| say!("recorded as CHECK {}, which is CHECK {} of this plan", number, check.check));
    let at = check.at(cylinder).ok_or_else(|| match cylinder {
        Some(n) => say!("CHECK {} asks nothing of cylinder {}", number, n),
        None => say!("CHECK {} is of single cylinders, and none is named", number),
    })?;
    let nth: u32 = fields
        .get("reading")
        .parse()
        .map_err(|_| say!("`{}` is no reading's number and no event", plain(fields.get("reading"), 30)))?;
    let asked = at
        .readings
        .iter()
        .find(|a| a.reading == nth)
        .ok_or_else(|| say!("CHECK {} has readings 1 to {}, not {}", number, at.readings.len(), nth))?;
    // What was recorded was held against its place then.
    if entry.kept == Kept::ByHand
        && let Some(why) = of_hand(asked, [fields.get("depth"), fields.get("clock")], units)
    {
        return Err(why);
    }
    let typed = fields.get("value").to_owned();
    // An answer like "+0.02" refers to what was expected when it was given.
    let mut then = asked.clone();
    if let Ok(expected) = fields.get("expected").parse::<f64>() {
        then.expected = Some(expected).filter(|e| e.is_finite()).or(asked.expected);
    }
    let heard = hear(&typed, units, &then)
        .map_err(|e| say!("found `{}`, expected {}", plain(&typed, 40), e.expected))?;
    let recorded = fields.get("figure").parse::<f64>().ok().filter(|v| v.is_finite());
    let heard = match (heard, recorded) {
        (Heard::Figure { value, taken }, Some(mm)) if entry.kept == Kept::AsRecorded => {
            // The digits that the record keeps are the figure; the words show how it was given.
            Heard::Figure { value: mm, taken: if (value - mm).abs() < 1e-6 { taken } else { As::Figure } }
        }
        (heard, _) => heard,
    };
    let reading = Reading {
        line: entry.line,
        check: check.check,
        cylinder,
        reading: nth,
        typed,
        heard,
        fields: fields.clone(),
        kept: entry.kept,
        struck: None,
    };
    Ok((reading, told))
}

/// The check that a line belongs to: by its name where the line has it, else by its number.
fn known<'a>(
    checks: &'a [Check],
    number: u32,
    of: &str,
    cylinder: Option<u32>,
) -> Result<&'a Check, Sentence> {
    let by_number = checks.iter().find(|c| c.check == number);
    if of.is_empty() || by_number.is_some_and(|c| c.name() == of) {
        return by_number.ok_or_else(|| say!("this plan has no CHECK {}", number));
    }
    let mut named = checks.iter().filter(|c| c.name() == of && c.at(cylinder).is_some());
    match (named.next(), named.next()) {
        (Some(only), None) => Ok(only),
        _ => Err(say!("recorded as CHECK {} ({}), which this plan does not have", number, plain(of, 80))),
    }
}
