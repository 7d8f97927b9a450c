//! A value as a person gives it, heard against what is expected there.

use crate::plan::Measure;
use crate::plan::check::Asked;
use crate::plan::sentence::WIDE_DIGITS;
use crate::plan::sentence::{Sentence, mm as told_mm};
use crate::read::given::{Scalar, Units};
use crate::read::inch::MM_PER_INCH;
use crate::read::measure::{Unreadable, length_mm};
use crate::say;

/// How what was said was taken.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum As {
    /// The figure itself.
    Figure,
    /// So much off what is expected.
    Off,
    /// The last digits of the figure: what stands before them is as expected.
    LastDigits,
}

/// What was heard.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Heard {
    /// A figure, in the reading's own unit (mm, degrees, µm).
    Figure {
        /// The figure.
        value: f64,
        /// How it was taken.
        taken: As,
    },
    /// What was looked at is as asked (`true`) or is not.
    Look(bool),
    /// No reading could be had.
    None,
}

/// What was said and is no value.
#[derive(Debug, Clone, PartialEq)]
pub struct Unheard {
    /// What is expected instead.
    pub expected: Sentence,
    /// What may help.
    pub help: Option<Sentence>,
}

impl Unheard {
    fn new(expected: &str) -> Self {
        Self { expected: expected.into(), help: None }
    }

    /// What is expected, and what may help in brackets.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        match &self.help {
            Some(help) => say!("{} ({})", self.expected, help),
            None => self.expected.clone(),
        }
    }
}

impl From<Unreadable> for Unheard {
    fn from(text: Unreadable) -> Self {
        Self { expected: text.expected.into(), help: text.help.map(Into::into) }
    }
}

/// A reading farther than this from what is expected is another reading, or in another unit, mm: above any error of a
/// tool or a person that is still worth a figure. Common practice, no source.
const FAR_MM: f64 = 1.0;
/// So near must what is typed be, taken as thou, to be asked about as thou, mm: twice the widest window of a first touch.
const THOU_NEAR_MM: f64 = 0.1;

/// The last digit of an inch that a shop reads, in.
const LAST_IN: f64 = 0.0001;

/// The most that a direction or an arc can be, degrees: twice round.
const FAR_DEG: f64 = 720.0;

/// The most that a mean roughness of a bore can be, µm.
const MOST_UM: f64 = 50.0;

const A_LOOK: &str = "`ok` (or 1), `no` (or 0), or `nr` for not looked at";

/// Hears a value: `+2 thou`, `0.05`, `89.781`, `0,05`, `781`, `1.2 tenths` of an inch job, `nr`.
///
/// With a sign it says how far off the expected figure it is, where the reading has no sign of its own. Without one
/// it is the figure itself, where that is near what is expected, else how far above that it is, else its last
/// digits.
///
/// # Errors
/// Text that is no value, or is none near what is expected; a length that says its unit is believed.
pub fn hear(text: &str, units: Units, asked: &Asked) -> Result<Heard, Unheard> {
    let text = text.trim();
    let word = text.to_ascii_lowercase();
    if matches!(word.as_str(), "nr" | "no reading") {
        return Ok(Heard::None);
    }
    if asked.of.is_look() {
        return match word.as_str() {
            "ok" | "yes" | "y" | "1" => Ok(Heard::Look(true)),
            "no" | "n" | "0" => Ok(Heard::Look(false)),
            _ => Err(Unheard::new(A_LOOK)),
        };
    }
    let text = decimal_comma(text);
    match asked.of.measure() {
        Measure::Length => length(&text, units, asked).map(|heard| match heard {
            Heard::Figure { value, taken } if in_inches(&text, units) => {
                Heard::Figure { value: limit_as_printed(value, asked), taken }
            }
            heard => heard,
        }),
        measure => plain(&text, measure),
    }
}

/// In which unit a figure without one is meant, and in which it was asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Hearing {
    /// The job's.
    pub units: Units,
    /// The one that the question was told in.
    pub shown: Units,
    /// The one of the machine's display.
    pub display: Units,
    /// The one that figures are said to be in, once for all that follow; `None` where nothing was said.
    pub said: Option<Units>,
}

/// What a figure without a unit is, where it is asked.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bare {
    /// In this unit.
    In(Units),
    /// An offset and a small length in nothing: it may have been read in either of two units.
    Either,
}

impl Hearing {
    /// Hears a value as [`hear`] does. Where it was asked for in another unit than the job's, an offset, a figure's last digits and
    /// a small length say theirs: a tenth of a thou and a tenth of a millimetre look alike, while a size tells its unit itself.
    ///
    /// # Errors
    /// As [`hear`]; a figure that says no unit and might be meant in either, and one in a unit that cannot be. A line that was recorded
    /// is neither any more, so that [`hear`] takes it.
    pub fn hear(self, text: &str, asked: &Asked) -> Result<Heard, Unheard> {
        let own = self.own(asked);
        let heard = hear(text, own, asked)?;
        let Heard::Figure { value, taken } = heard else { return Ok(heard) };
        let doubts = [other_unit(text, value, asked), too_fine(text, own, taken)];
        if let Some(question) = doubts.into_iter().flatten().next() {
            return Err(question);
        }
        let small = asked.expected.is_none_or(|expected| expected.abs() < FAR_MM);
        let shown = self.told(asked);
        if shown == own
            || !asked.of.measure().is_length()
            || says_unit(text)
            || (taken == As::Figure && !small)
        {
            return Ok(heard);
        }
        let [own, shown] = [own, shown].map(|units| (units.word(), units.name()));
        let help = match self.said {
            Some(_) => say!("the machine's display is in {}, and {} were said", own.1, shown.1),
            None => {
                say!("it is asked for in {}, and without a unit it would be the job's {}", shown.1, own.1)
            }
        };
        Err(Unheard {
            expected: say!("a figure with its unit behind it, `{}` or `{}`", shown.0, own.0),
            help: Some(help),
        })
    }

    /// In which unit a figure without one is meant: the one that was said, off the machine's display its own; the job's where nothing
    /// was.
    fn own(self, asked: &Asked) -> Units {
        match self.said {
            Some(_) if asked.of.is_on_display() => self.display,
            Some(said) => said,
            None => self.units,
        }
    }

    /// In which unit a reading may have been taken: where one of them is not that of a figure without a unit, that one.
    fn told(self, asked: &Asked) -> Units {
        let own = self.own(asked);
        if let Some(said) = self.said {
            return said;
        }
        let display = asked.of.is_on_display().then_some(self.display);
        let mut all = display.into_iter().chain([self.shown]);
        all.find(|units| *units != own).unwrap_or(own)
    }

    /// What a figure without a unit is at a place; `None` where it is no length.
    #[must_use]
    pub fn bare(self, asked: &Asked) -> Option<Bare> {
        let own = self.own(asked);
        let is_one = self.told(asked) == own;
        asked.of.measure().is_length().then_some(if is_one { Bare::In(own) } else { Bare::Either })
    }

    /// What was typed, as the record keeps it: with its unit where that was said before and is not the job's, so that the line says
    /// the same by itself. Last digits stay what they are: with a unit they would be the figure.
    #[must_use]
    pub fn written(self, text: &str, asked: &Asked, heard: Heard) -> String {
        let own = self.own(asked);
        let is_whole = matches!(heard, Heard::Figure { taken: As::Figure | As::Off, .. });
        if own == self.units || !is_whole || !asked.of.measure().is_length() || says_unit(text) {
            return text.to_owned();
        }
        format!("{} {}", text.trim(), own.word())
    }

    /// Hears what is typed for one place alone. Beside others on a card a `0` is nothing off; alone at a diameter it may answer a look.
    ///
    /// # Errors
    /// As [`Hearing::hear`], and a lone `0` or `1` at a diameter.
    pub fn hear_alone(self, text: &str, asked: &Asked) -> Result<Heard, Unheard> {
        if asked.of.is_diameter() { self.hear_at_prompt(text, asked) } else { self.hear(text, asked) }
    }

    /// Hears what is typed at the prompt, where a `0` or `1` alone answers a look and is no size.
    ///
    /// # Errors
    /// As [`Hearing::hear`], and such a digit at a figure.
    pub fn hear_at_prompt(self, text: &str, asked: &Asked) -> Result<Heard, Unheard> {
        let heard = self.hear(text, asked)?;
        match heard {
            Heard::Figure { taken, .. } => lone(text, taken).map_or(Ok(heard), Err),
            _ => Ok(heard),
        }
    }
}

/// Whether what was typed says its unit.
fn says_unit(text: &str) -> bool {
    text.chars().any(|c| c.is_alphabetic() || c == '"')
}

/// The unit that is said for what follows: its word alone.
#[must_use]
pub fn unit_said(text: &str) -> Option<Units> {
    match text.trim().to_ascii_lowercase().as_str() {
        "in" | "inch" | "inches" => Some(Units::In),
        "mm" | "millimetres" => Some(Units::Mm),
        _ => None,
    }
}

/// What is asked about a lone `0` or `1` where it would be so much off what is expected: of a look they say whether it is as asked,
/// and at a size nobody means that the gauge reads 0 or 1.
fn lone(text: &str, taken: As) -> Option<Unheard> {
    let text = text.trim();
    (taken == As::Off && matches!(text, "0" | "1")).then(|| Unheard {
        expected: "the figure that is read, or with a sign what it is off".into(),
        help: Some(say!("of a size `{}` says neither that it is as asked nor that it is not; `+0.000` is exactly as asked", text)),
    })
}

/// What is asked about a length in a unit that cannot be: in the other one the same digits are what is expected, nearly.
fn other_unit(text: &str, value_mm: f64, asked: &Asked) -> Option<Unheard> {
    let lower = text.to_ascii_lowercase();
    let (said, meant, number_mm) = if lower.trim_end().ends_with("mm") {
        ("mm", "in", value_mm * MM_PER_INCH)
    } else if lower.contains("in") || lower.contains('"') {
        ("in", "mm", value_mm / MM_PER_INCH)
    } else {
        return None;
    };
    let expected = asked.expected.filter(|e| *e > 2.0 * FAR_MM && !text.trim().starts_with(['+', '-']))?;
    // Another feature's size may be typed at the wrong check: half of what is expected is near enough.
    let is_near = |mm: f64| (mm - expected).abs() < expected / 2.0;
    (!is_near(value_mm) && is_near(number_mm)).then(|| Unheard {
        expected: say!("a reading near {}", told_mm(expected, 3)),
        help: Some(say!("it says `{}`, and in `{}` it would be near: which is it?", said, meant)),
    })
}

/// An offset below this is read by no gauge of a shop, mm. Common practice, no source.
const FINEST_MM: f64 = 0.001;
/// With four decimals of a millimetre and less than this a hand used to inches is heard, mm. Common practice, no source.
const INCHES_MM: f64 = 0.005;

/// What is asked about an offset without a unit that no gauge in mm reads.
fn too_fine(text: &str, units: Units, taken: As) -> Option<Unheard> {
    let text = text.trim();
    if units != Units::Mm || taken != As::Off || text.chars().any(|c| c.is_alphabetic() || c == '"') {
        return None;
    }
    let off = decimal_comma(text).parse::<f64>().ok()?.abs();
    let decimals = text.rsplit_once(['.', ',']).map_or(0, |(_, decimals)| decimals.len());
    // Gauges that step by half a micrometre show four.
    let by_halves = decimals == 4 && text.ends_with(['0', '5']);
    (off > 0.0 && (off < FINEST_MM || (decimals > 3 && !by_halves && off < INCHES_MM))).then(|| Unheard {
        expected: "a figure with its unit behind it, `mm` or `in`".into(),
        help: Some(say!(
            "{} mm is finer than a gauge reads: was it read in inches?",
            text.trim_start_matches(['+', '-'])
        )),
    })
}

/// Whether a length was typed in inches: it says so, or says no unit in a job that has them.
fn in_inches(text: &str, units: Units) -> bool {
    let text = text.to_ascii_lowercase();
    let says = |names: &[&str]| names.iter().any(|name| text.contains(name));
    says(&["in", "\"", "thou", "tenth"]) || (units == Units::In && !says(&["mm"]))
}

/// A figure in inches that is within a wide window as paper prints it, to 0.0001 in, is no farther out than its limit: 230.034 ± 0.050
/// mm is printed as 9.0565 ± 0.0020 in, and 9.0585 in are 230.086 mm. A narrower window is printed by limits that lie inside its own.
fn limit_as_printed(value_mm: f64, asked: &Asked) -> f64 {
    let (Some(expected), Some(least), Some(most)) = (asked.expected, asked.least, asked.most) else {
        return value_mm;
    };
    let digits = |mm: f64| mm / MM_PER_INCH / LAST_IN;
    let either = digits((most - least) / 2.0);
    if either < WIDE_DIGITS || ((most - expected) - (expected - least)).abs() > 1e-6 {
        return value_mm;
    }
    let off = digits(value_mm) - digits(expected).round();
    if off.abs() <= either.round() + 1e-6 { value_mm.clamp(least, most) } else { value_mm }
}

/// A comma for a decimal mark, as half the world has it, made a point: a reading is one figure, so nothing is split.
fn decimal_comma(text: &str) -> String {
    let one = text.matches(',').count() == 1 && !text.contains('.');
    if one { text.replacen(',', ".", 1) } else { text.to_owned() }
}

fn plain(text: &str, measure: Measure) -> Result<Heard, Unheard> {
    let (expected, names, most): (_, &[&str], f64) = match measure {
        Measure::Roughness => ("a roughness in micrometres", &["um", "µm", "μm"], MOST_UM),
        _ => ("an angle in degrees", &["deg", "degrees", "°"], FAR_DEG),
    };
    let end =
        text.find(|c: char| !(c.is_ascii_digit() || matches!(c, '+' | '-' | '.'))).unwrap_or(text.len());
    let (number, name) = text.split_at(end);
    let known = name.trim().is_empty() || names.contains(&name.trim());
    match number.parse::<f64>() {
        Ok(value) if known && value.is_finite() && value.abs() <= most => {
            Ok(Heard::Figure { value, taken: As::Figure })
        }
        _ => Err(Unheard::new(expected)),
    }
}

/// A tenth is 0.0001 in where inches are the job's unit; nowhere else is it one thing.
fn tenths(text: &str, units: Units) -> String {
    let word = ["tenths", "tenth"].into_iter().find_map(|w| text.to_ascii_lowercase().find(w));
    match (word, units) {
        (Some(at), Units::In) => {
            let number = text.get(..at).unwrap_or_default().trim();
            match length_mm(&Scalar::Text(format!("{number} thou")), units) {
                // A tenth of a thou, written with all the digits that a figure has.
                Ok(mm) => format!("{:.9} mm", mm / 10.0),
                Err(_) => text.to_owned(),
            }
        }
        _ => text.to_owned(),
    }
}

/// A length as typed, in mm: whole, as what it is off the expected figure, or as its last digits; refused where
/// none of these is near what is expected and no unit says it is meant.
fn length(text: &str, units: Units, asked: &Asked) -> Result<Heard, Unheard> {
    let signed = text.starts_with(['+', '-']);
    let said = tenths(text, units);
    let mm = length_mm(&Scalar::Text(said), units)?;
    let states_unit = text.chars().any(|c| c.is_alphabetic() || c == '"');
    let figure = |value, taken| Ok(Heard::Figure { value, taken });
    let Some(expected) = asked.expected else { return figure(mm, As::Figure) };
    if signed && !asked.of.is_signed() {
        if mm.abs() <= FAR_MM {
            return figure(expected + mm, As::Off);
        }
        let found = "so far off what is expected is another reading, or in another unit";
        return Err(far(asked, units, mm, Some(found)));
    }
    if (mm - expected).abs() <= FAR_MM {
        return figure(mm, As::Figure);
    }
    if asked.of.is_signed() {
        return if states_unit { figure(mm, As::Figure) } else { Err(far(asked, units, mm, None)) };
    }
    // A small figure means how far it is off: had the expected figure been near 0, it would have matched above.
    if mm.abs() <= FAR_MM {
        return figure(expected + mm, As::Off);
    }
    if states_unit {
        return figure(mm, As::Figure);
    }
    match last_digits(text, units, expected) {
        Some([value, short]) if (short - expected).abs() < (value - expected).abs() => {
            Err(two_ways([value, short]))
        }
        Some([value, _]) if (value - expected).abs() <= FAR_MM => figure(value, As::LastDigits),
        _ => Err(far(asked, units, mm, None)),
    }
}

/// `75` where 0.749 is expected may be 0.775 by its last digits, or 0.75 with a digit left out: refused, with both
/// named.
fn two_ways(ways_mm: [f64; 2]) -> Unheard {
    let [value, short] = ways_mm.map(|mm| told_mm(mm, 3));
    Unheard {
        expected: "a figure with its point".into(),
        help: Some(say!("it may be {} or {}: type all of it", value, short)),
    }
}

/// `781` for 89.781: the figure nearest to what is expected that ends in these digits, mm; and the nearest where
/// the last digit was left out.
fn last_digits(text: &str, units: Units, expected_mm: f64) -> Option<[f64; 2]> {
    let digits = (2..=3).contains(&text.len()) && text.bytes().all(|b| b.is_ascii_digit());
    let typed: f64 = text.parse().ok().filter(|_| digits)?;
    // The last decimal that a shop reads to: 0.001 mm, 0.0001 in.
    let (unit_mm, last) = match units {
        Units::Mm => (1.0, 0.001),
        Units::In => (MM_PER_INCH, 0.0001),
    };
    let places = i32::try_from(text.len()).ok()?;
    let expected = expected_mm / unit_mm;
    let nearest = |last: f64| {
        let turn = 10_f64.powi(places) * last;
        (((expected - typed * last) / turn).round() * turn + typed * last) * unit_mm
    };
    Some([nearest(last), nearest(10.0 * last)])
}

/// A figure that is near nothing that is expected: perhaps of the other unit.
fn far(asked: &Asked, units: Units, mm: f64, said: Option<&str>) -> Unheard {
    let near = |value: f64| asked.expected.is_some_and(|e| (value - e).abs() <= FAR_MM);
    // A thou is small: nearer than a length that is only taken for one by chance.
    let thou = |value: f64| asked.expected.is_some_and(|e| (value - e).abs() <= THOU_NEAR_MM);
    let other = match units {
        Units::Mm if thou(mm * MM_PER_INCH / 1000.0) => {
            Some("times 0.0254 it is: if it is in thousandths of an inch write `thou` behind it")
        }
        Units::In if thou(mm / 1000.0) => {
            Some("a thousandth of it it is: if it is in thousandths of an inch write `thou` behind it")
        }
        Units::Mm if near(mm * MM_PER_INCH) => {
            Some("times 25.4 it is: if it is in inches write `in` behind it")
        }
        Units::In if near(mm / MM_PER_INCH) => {
            Some("divided by 25.4 it is: if it is in mm write `mm` behind it")
        }
        _ => said,
    };
    let other = other.unwrap_or("a reading that is really so far off says its unit");
    let expected = told_mm(asked.expected.unwrap_or_default(), 3);
    Unheard {
        expected: say!("a reading within {} of what is expected", told_mm(FAR_MM, 0)),
        help: Some(say!("what is expected there is {}; {}", expected, other)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::plan::check::Of;

    fn asked(of: Of, expected: f64) -> Asked {
        Asked {
            reading: 1,
            of,
            depth: None,
            clock: None,
            expected: Some(expected),
            least: None,
            most: None,
            unit: of.measure(),
            waits: true,
            worked: Vec::new(),
        }
    }

    fn mm(text: &str, units: Units, asked: &Asked) -> (f64, As) {
        match hear(text, units, asked).unwrap() {
            Heard::Figure { value, taken } => (value, taken),
            other => panic!("{other:?}"),
        }
    }

    #[test]
    fn a_size_is_heard_as_people_say_it() {
        let size = asked(Of::Diameter, 89.78);
        let cases = [
            ("89.781", 89.781, As::Figure),
            ("89,781", 89.781, As::Figure),
            ("+2 thou", 89.78 + 0.0508, As::Off),
            ("+0.8 thou", 89.78 + 0.020_32, As::Off),
            ("-0.004", 89.776, As::Off),
            ("0.05", 89.83, As::Off),
            ("0", 89.78, As::Off),
            ("781", 89.781, As::LastDigits),
            ("81", 89.781, As::LastDigits),
            // The nearest that ends so: 90.002, not 89.002.
            ("002", 90.002, As::LastDigits),
            ("3.5345 in", 89.7763, As::Figure),
        ];
        for (text, expected, taken) in cases {
            let (value, how) = mm(text, Units::Mm, &size);
            assert!((value - expected).abs() < 1e-9, "{text}: {value}");
            assert_eq!(how, taken, "{text}");
        }
        assert_eq!(hear("NR", Units::Mm, &size), Ok(Heard::None));
    }

    #[test]
    fn a_tenth_is_one_in_an_inch_job_and_asked_about_elsewhere() {
        // 3.5350 in = 89.789 mm; 1.2 tenths = 0.00012 in = 0.003048 mm.
        let size = asked(Of::Diameter, 89.789);
        assert!((mm("+1.2 tenths", Units::In, &size).0 - 89.792_048).abs() < 1e-9);
        assert!((mm("3.5351", Units::In, &size).0 - 89.791_54).abs() < 1e-9);
        assert!((mm("51", Units::In, &size).0 - 89.791_54).abs() < 1e-9);
        assert!(hear("+1.2 tenths", Units::Mm, &size).unwrap_err().help.unwrap().contains("0.0001 in"));
    }

    #[test]
    fn a_limit_as_it_is_printed_in_inches_is_the_limit() {
        // 230.034 ± 0.050 mm is printed as 9.0565 ± 0.0020 in: 9.0585 in are 230.0859 mm.
        let touch = Asked { least: Some(229.984), most: Some(230.084), ..asked(Of::X, 230.034) };
        assert_eq!(mm("9.0585", Units::In, &touch).0, 230.084);
        assert_eq!(mm("9.0585 in", Units::Mm, &touch).0, 230.084);
        assert!((mm("9.0586", Units::In, &touch).0 - 230.088_44).abs() < 1e-9);
        assert_eq!(mm("230.0859 mm", Units::In, &touch).0, 230.0859);
        // 0.020 to 0.050 mm is printed as 0.0008 to 0.0019 in: 0.0020 in are 0.0508 mm, and outside.
        let proud = Asked { least: Some(0.020), most: Some(0.050), ..asked(Of::Height, 0.035) };
        assert!((mm("0.0020", Units::In, &proud).0 - 0.0508).abs() < 1e-9);
        assert!((mm("0.0019", Units::In, &proud).0 - 0.048_26).abs() < 1e-9);
    }

    #[test]
    fn digits_that_fit_better_with_one_left_out_are_asked_for() {
        let told = |text: &str, units: Units, expected: f64| {
            hear(text, units, &asked(Of::Diameter, expected)).unwrap_err().help.unwrap().to_string()
        };
        // 0.749 expected: 0.775 ends in 75, and 0.75 is what a gauge of hundredths shows.
        let help = told("75", Units::Mm, 80.749);
        assert!(help.contains("80.775") && help.contains("80.750"), "{help}");
        // 0.0260 in above two inches, in thousandths: 0.026, and not 0.0226.
        assert!(told("26", Units::In, 2.0260 * MM_PER_INCH).contains("type all of it"));
    }

    #[test]
    fn a_height_has_its_own_sign_and_a_shallow_depth_is_no_deviation() {
        let proud = asked(Of::Height, 0.035);
        assert!((mm("+0.03", Units::Mm, &proud).0 - 0.03).abs() < 1e-12);
        assert!((mm("-.01", Units::Mm, &proud).0 + 0.01).abs() < 1e-12);
        let cut = asked(Of::Cut, 0.75);
        assert_eq!(mm("0.05", Units::Mm, &cut), (0.05, As::Figure));
    }

    #[test]
    fn what_is_near_nothing_expected_is_asked_about() {
        let size = asked(Of::Diameter, 89.78);
        let told = |text: &str| hear(text, Units::Mm, &size).unwrap_err().help.unwrap();
        assert!(told("3.5346").contains("times 25.4"), "{}", told("3.5346"));
        assert!(told("80.78").contains("says its unit"));
        // 29.5 · 0.0254 = 0.7493.
        let step = asked(Of::Cut, 0.749);
        let told_of = |text: &str| hear(text, Units::Mm, &step).unwrap_err().help.unwrap();
        assert!(told_of("29.5").contains("write `thou`"), "{}", told_of("29.5"));
        assert!(!told_of("46.035").contains("thou"), "{}", told_of("46.035"));
        // Said with its unit it is believed, however far off.
        assert!((mm("80.78 mm", Units::Mm, &size).0 - 80.78).abs() < 1e-12);
        assert!(hear("+3", Units::Mm, &size).is_err());
        for text in ["", "abc", "1e3", "--1", "89.7.8", "inf", "nan"] {
            assert!(hear(text, Units::Mm, &size).is_err(), "{text}");
        }
    }

    #[test]
    fn a_look_is_yes_or_no_with_digits_alone() {
        let look = asked(Of::Look, 0.0);
        assert_eq!(hear("1", Units::Mm, &look), Ok(Heard::Look(true)));
        assert_eq!(hear("no", Units::Mm, &look), Ok(Heard::Look(false)));
        assert!(hear("2", Units::Mm, &look).is_err());
    }

    #[test]
    fn an_offset_asked_for_in_another_unit_than_the_jobs_says_its_own() {
        let hearing = Hearing { units: Units::Mm, shown: Units::In, display: Units::Mm, said: None };
        let size = asked(Of::Diameter, 89.78);
        let off = hearing.hear("+.001", &size).unwrap_err();
        assert!(off.expected.contains("`in` or `mm`"), "{off:?}");
        assert!(hearing.hear("781", &size).is_err() && hearing.hear(".010", &asked(Of::Z, 0.0)).is_err());
        for (text, figure) in
            [("+.001 in", 89.8054), ("+0.001 mm", 89.781), ("+1 thou", 89.8054), ("89.781", 89.781)]
        {
            let Ok(Heard::Figure { value, .. }) = hearing.hear(text, &size) else { panic!("{text}") };
            assert!((value - figure).abs() < 1e-9, "{text}: {value}");
        }
        assert!(hearing.hear("nr", &size).is_ok());
        let alike = Hearing { units: Units::Mm, shown: Units::Mm, display: Units::Mm, said: None };
        assert!(alike.hear("+.001", &size).is_ok());
    }

    #[test]
    fn a_unit_that_was_said_is_that_of_every_figure_a_hand_reads() {
        // A job in mm whose sheets are in inches, lists in either.
        let job = |display| Hearing { units: Units::Mm, shown: Units::In, display, said: None };
        let size = asked(Of::Diameter, 89.78);
        let figure = |hearing: Hearing, text: &str, asked: &Asked| match hearing.hear(text, asked) {
            Ok(Heard::Figure { value, .. }) => Some((value * 1e4).round() / 1e4),
            _ => None,
        };
        for display in [Units::Mm, Units::In] {
            assert_eq!(job(display).bare(&size), Some(Bare::Either));
            let said = Hearing { said: Some(Units::In), ..job(display) };
            assert_eq!(said.bare(&size), Some(Bare::In(Units::In)));
            // 0.0004 in are 0.01016 mm; 3.5346 in 89.77884.
            assert_eq!(figure(said, "+.0004", &size), Some(89.7902));
            assert_eq!(figure(said, "3.5346", &size), Some(89.7788));
            assert_eq!(figure(said, "0.0014", &asked(Of::Height, 0.035)), Some(0.0356));
            assert_eq!(figure(said, "+0.010 mm", &size), Some(89.79));
            // In mm it was not asked.
            assert_eq!(figure(said, "89.781", &size), None);
            let heard = said.hear("+.0004", &size).unwrap();
            assert_eq!(said.written("+.0004", &size, heard), "+.0004 in");
            let digits = said.hear("46", &size).unwrap();
            assert_eq!(said.written("46", &size, digits), "46");
        }
        // Off a display in mm a small figure says its unit all the same, off one in inches it need not.
        let y = asked(Of::Y, 0.039);
        let said = |display| Hearing { said: Some(Units::In), ..job(display) };
        assert_eq!(said(Units::Mm).bare(&y), Some(Bare::Either));
        assert_eq!(figure(said(Units::Mm), "0.0015", &y), None);
        assert_eq!(figure(said(Units::Mm), "0.039 mm", &y), Some(0.039));
        assert_eq!(figure(said(Units::In), "0.0015", &y), Some(0.0381));
        assert_eq!(unit_said(" IN \n"), Some(Units::In));
        assert_eq!(unit_said("0.1 in"), None);
    }

    #[test]
    fn what_a_display_in_another_unit_shows_says_its_own() {
        let (y, size) = (asked(Of::Y, 0.039), asked(Of::Diameter, 89.78));
        for (units, display) in [(Units::Mm, Units::In), (Units::In, Units::Mm)] {
            let hearing = Hearing { units, shown: units, display, said: None };
            assert!(hearing.hear("0.0300", &y).is_err(), "{units:?}");
            let heard = hearing.hear("0.0015 in", &y).unwrap();
            assert!(
                matches!(heard, Heard::Figure { value, .. } if (value - 0.0381).abs() < 1e-9),
                "{heard:?}"
            );
            // What hands measure is in the job's.
            assert!(hearing.hear("+0.001", &size).is_ok(), "{units:?}");
        }
    }

    #[test]
    fn a_lone_digit_a_unit_that_cannot_be_and_an_offset_too_fine_are_asked_about() {
        let alike = |units| Hearing { units, shown: units, display: units, said: None };
        let (mm, inch) = (alike(Units::Mm), alike(Units::In));
        let size = asked(Of::Diameter, 89.78);
        for text in ["0", "1", " 1 "] {
            assert!(mm.hear_at_prompt(text, &size).is_err() && mm.hear(text, &size).is_ok(), "{text}");
        }
        for text in ["89.78 in", "89.5\"", "95.1 in", "3.5346 mm", "+.0006", "-0,0004", "+0.0012"] {
            assert!(mm.hear(text, &size).is_err(), "{text}");
        }
        for text in [
            "+0",
            "0.0",
            "+0.001",
            "89.7806",
            "+0.0125",
            "+.0006 in",
            "+0.0006 mm",
            "80.78 mm",
            "3.5346 in",
            "781",
        ] {
            assert!(mm.hear(text, &size).is_ok(), "{text}");
        }
        for text in ["89.781", "89.78 in", "3.5346 mm"] {
            assert!(inch.hear(text, &size).is_err(), "{text}");
        }
        for text in ["+.0006", "3.5346", "89.781 mm", "+0.0003"] {
            assert!(inch.hear(text, &size).is_ok(), "{text}");
        }
        // Where 0 is a figure that may be read it is one.
        for near in [asked(Of::Height, 0.035), asked(Of::Y, 0.04)] {
            assert!(mm.hear_at_prompt("0", &near).is_ok());
        }
        // A recorded line stays what it was.
        assert!(hear("0", Units::Mm, &size).is_ok() && hear("89.78 in", Units::Mm, &size).is_ok());
    }
}
