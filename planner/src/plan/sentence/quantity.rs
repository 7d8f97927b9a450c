//! A figure in a sentence, with what it is a figure of.

use super::window::{Grid, Window};
use crate::plan::rounding::plan;
use crate::read::inch::MM_PER_INCH;

use std::fmt;
use std::fmt::Display;

use serde::Serialize;

/// What a sentence is rendered in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Units {
    /// Millimetres, degrees Celsius.
    Metric,
    /// Inches, degrees Fahrenheit.
    Inch,
    /// Metric units first, those of the inch in brackets.
    Both,
    /// Those of the inch first, metric units in brackets.
    InchFirst,
}

/// What a quantity measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Kind {
    /// A length, mm.
    Length,
    /// A length whose unit stands behind a later figure, mm: the first of "0.02 to 0.05 mm".
    LengthBefore,
    /// A temperature, degrees Celsius.
    Temperature,
    /// A difference of temperatures, K.
    Warming,
}

/// A figure with its unit and the decimals that mean something in it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Quantity {
    pub(super) kind: Kind,
    pub(super) value: f64,
    pub(super) decimals: usize,
    pub(super) signed: bool,
    pub(super) of: Of,
}

/// What a length is of a window, mm: in inches, where it is rounded, it is then told as the window is printed.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Of {
    /// Of none.
    Itself,
    /// How far it reaches to either side of this.
    About(f64),
    /// Its least, beside this most.
    Least(f64),
    /// Its most, beside this least.
    Most(f64),
}

impl Of {
    /// As marked text.
    pub(super) fn mark(self) -> String {
        match self {
            Self::Itself => "i".to_owned(),
            Self::About(mm) => format!("a{:x}", mm.to_bits()),
            Self::Least(mm) => format!("l{:x}", mm.to_bits()),
            Self::Most(mm) => format!("m{:x}", mm.to_bits()),
        }
    }

    fn of_mark(mark: &str) -> Option<Self> {
        let mm = |bits: &str| u64::from_str_radix(bits, 16).ok().map(f64::from_bits);
        match mark.split_at_checked(1)? {
            ("a", bits) => mm(bits).map(Self::About),
            ("l", bits) => mm(bits).map(Self::Least),
            ("m", bits) => mm(bits).map(Self::Most),
            _ => Some(Self::Itself),
        }
    }
}

/// A length, mm, with so many decimals of a millimetre.
#[must_use]
pub fn mm(value: f64, decimals: usize) -> Quantity {
    Quantity { kind: Kind::Length, value, decimals, signed: false, of: Of::Itself }
}

/// How far a window reaches to either side of what is expected, mm, with so many decimals of a millimetre. In inches it is the window
/// that the box of its check prints: "0.0002 in", or "3.2280 to 3.2287 in" where it is not as wide to both sides.
#[must_use]
pub fn within_mm(expected: f64, either: f64, decimals: usize) -> Quantity {
    Quantity { of: Of::About(expected), ..mm(either, decimals) }
}

/// A length, mm, with so many decimals of a millimetre and always a sign.
#[must_use]
pub fn signed_mm(value: f64, decimals: usize) -> Quantity {
    Quantity { kind: Kind::Length, value, decimals, signed: true, of: Of::Itself }
}

/// A length whose unit a later one carries, as in "0.02 to 0.05 mm".
#[must_use]
pub fn before_mm(value: f64, decimals: usize) -> Quantity {
    Quantity { kind: Kind::LengthBefore, value, decimals, signed: false, of: Of::Itself }
}

/// A length whose unit a later one carries, always with a sign, as in "-0.02 to +0.05 mm".
#[must_use]
pub fn signed_before_mm(value: f64, decimals: usize) -> Quantity {
    Quantity { kind: Kind::LengthBefore, value, decimals, signed: true, of: Of::Itself }
}

/// A temperature, degrees Celsius.
#[must_use]
pub fn celsius(value: f64, decimals: usize) -> Quantity {
    Quantity { kind: Kind::Temperature, value, decimals, signed: false, of: Of::Itself }
}

/// A difference of temperatures, K.
#[must_use]
pub fn kelvin(value: f64, decimals: usize) -> Quantity {
    Quantity { kind: Kind::Warming, value, decimals, signed: false, of: Of::Itself }
}

impl Quantity {
    /// The same as the least of a window: in inches rounded inwards.
    #[must_use]
    pub fn least(self, most: f64) -> Self {
        Self { of: Of::Least(most), ..self }
    }

    /// The same as the most of a window: in inches rounded inwards.
    #[must_use]
    pub fn most(self, least: f64) -> Self {
        Self { of: Of::Most(least), ..self }
    }

    fn figure(self, value: f64, decimals: usize) -> String {
        let text = if self.signed { format!("{value:+.decimals$}") } else { format!("{value:.decimals$}") };
        // No minus before nothing.
        let nothing = text.chars().all(|c| !c.is_ascii_digit() || c == '0');
        match (nothing, self.signed) {
            (true, true) => text.replace('-', "+"),
            (true, false) => text.replace('-', ""),
            (false, _) => text,
        }
    }

    fn metric(self) -> String {
        let figure = self.figure(half_away(self.value, self.decimals), self.decimals);
        match self.kind {
            Kind::Length => format!("{figure} mm"),
            Kind::LengthBefore => figure,
            Kind::Temperature => format!("{figure} °C"),
            Kind::Warming => format!("{figure} K"),
        }
    }

    /// An inch has a digit more where a millimetre has one or none, and two less steps where it has many: 0.001 mm and
    /// 0.01 mm are told to 0.0001 in, 0.1 mm to 0.001 in, whole millimetres to 0.01 in.
    fn inch(self) -> String {
        let decimals = match self.decimals {
            0 => 2,
            1 => 3,
            _ => 4,
        };
        match self.kind {
            Kind::Length => format!("{} in", self.inches(decimals)),
            Kind::LengthBefore => self.inches(decimals),
            Kind::Temperature => format!("{} °F", self.figure(self.value * 1.8 + 32.0, self.decimals)),
            Kind::Warming => format!("{} °F", self.figure(self.value * 1.8, self.decimals)),
        }
    }

    fn inches(self, decimals: usize) -> String {
        let grid = Grid { unit_mm: MM_PER_INCH, decimals };
        let told = |digits: f64| self.figure(digits * grid.step(), decimals);
        // As a check has its limits.
        let limits = |expected: Option<f64>, limits: [f64; 2]| grid.window(expected, limits.map(plan));
        match self.of {
            Of::Itself => self.figure(half_away(self.value / MM_PER_INCH, decimals), decimals),
            Of::About(expected) => {
                match limits(Some(plan(expected)), [expected - self.value, expected + self.value]) {
                    Window::Either(digits) => told(digits),
                    Window::Limits([least, most]) => format!("{} to {}", told(least), told(most)),
                }
            }
            Of::Least(most) => match limits(None, [self.value, most]) {
                Window::Limits([digits, _]) | Window::Either(digits) => told(digits),
            },
            Of::Most(least) => match limits(None, [least, self.value]) {
                Window::Limits([_, digits]) | Window::Either(digits) => told(digits),
            },
        }
    }

    /// "0.02 to 0.05 mm (0.0008 to 0.0020 in)", `per` behind each unit: what brackets would cut up. `None` where one unit is told, or
    /// this is no range of lengths.
    pub(super) fn range(from: Self, upto: Self, units: Units, per: &str) -> Option<String> {
        if (from.kind, upto.kind) != (Kind::LengthBefore, Kind::Length) {
            return None;
        }
        let metric = format!("{} to {}{per}", from.metric(), upto.metric());
        let inch = format!("{} to {}{per}", from.inch(), upto.inch());
        match units {
            Units::Metric | Units::Inch => None,
            Units::Both => Some(format!("{metric} ({inch})")),
            Units::InchFirst => Some(format!("{inch} ({metric})")),
        }
    }

    pub(super) fn in_units(self, units: Units) -> String {
        match units {
            Units::Metric => self.metric(),
            Units::Inch => self.inch(),
            Units::Both => format!("{} ({})", self.metric(), self.inch()),
            Units::InchFirst => format!("{} ({})", self.inch(), self.metric()),
        }
    }
}

/// Rounds half away from zero, as a shop reads 0.24875 as 0.2488.
#[must_use]
pub fn half_away(value: f64, decimals: usize) -> f64 {
    let scale = 10_f64.powi(i32::try_from(decimals).unwrap_or(9));
    // What binary fractions lose of a half is far below this.
    const LOST: f64 = 1e-9;
    (value.abs() * scale + 0.5 + LOST).floor().copysign(value) / scale
}

impl Quantity {
    pub(super) fn of_mark(mark: &str) -> Option<Self> {
        let mut parts = mark.split(',');
        let kind = match parts.next()? {
            "l" => Kind::Length,
            "b" => Kind::LengthBefore,
            "t" => Kind::Temperature,
            "w" => Kind::Warming,
            _ => return None,
        };
        let bits = u64::from_str_radix(parts.next()?, 16).ok()?;
        let decimals = parts.next()?.parse().ok()?;
        let signed = parts.next()? == "+";
        let of = Of::of_mark(parts.next()?)?;
        Some(Self { kind, value: f64::from_bits(bits), decimals, signed, of })
    }
}

impl Display for Quantity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.metric())
    }
}
