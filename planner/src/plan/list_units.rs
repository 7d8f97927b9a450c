//! The units of coordinate lists, and the step that a machine is told in each.

use crate::read::inch::MM_PER_INCH;

use super::rounding::decimals;
use super::sentence::{Units, half_away};

/// The preparatory word that sets inches; one of the two that controls know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum InchesWord {
    /// The widespread one.
    G20,
    /// The one of ISO 6983-1.
    G70,
}

impl InchesWord {
    /// The word as written in a list.
    #[must_use]
    pub fn word(self) -> &'static str {
        match self {
            Self::G20 => "G20",
            Self::G70 => "G70",
        }
    }
}

/// What coordinate lists are in.
///
/// Lengths stay in mm throughout; one rounded for a list in inches is a whole number of 0.0001 in, told in mm.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum ListUnits {
    /// Millimetres: 0.001 mm and 0.1 mm/min.
    #[default]
    Mm,
    /// Inches: 0.0001 in and 0.001 in/min. A list in inches has a word for them.
    In(InchesWord),
}

impl ListUnits {
    /// Decimals of a length in a list.
    #[must_use]
    pub fn decimals(self) -> usize {
        match self {
            Self::Mm => 3,
            Self::In(_) => 4,
        }
    }

    /// Decimals of a feed in a list.
    #[must_use]
    pub fn feed_decimals(self) -> usize {
        match self {
            Self::Mm => 1,
            Self::In(_) => 3,
        }
    }

    /// The step of a coordinate, mm.
    #[must_use]
    pub fn step_mm(self) -> f64 {
        match self {
            Self::Mm => 0.001,
            Self::In(_) => 0.0001 * MM_PER_INCH,
        }
    }

    /// The step of a feed, which is the slowest that a list can tell, mm/min.
    #[must_use]
    pub fn feed_step_mm(self) -> f64 {
        match self {
            Self::Mm => 0.1,
            Self::In(_) => 0.001 * MM_PER_INCH,
        }
    }

    /// A length or a feed, mm or mm/min, as the figure of a list with so many decimals: half away from zero, no minus
    /// before nothing.
    #[must_use]
    pub fn told(self, mm: f64, places: usize) -> f64 {
        match self {
            Self::Mm => decimals(mm, i32::try_from(places).unwrap_or(9)),
            Self::In(_) if mm.is_finite() => half_away(mm / MM_PER_INCH, places) + 0.0,
            Self::In(_) => mm,
        }
    }

    /// A coordinate as a machine is told it, mm.
    #[must_use]
    pub fn coordinate(self, mm: f64) -> f64 {
        self.told(mm, self.decimals()) * self.mm()
    }

    /// A feed as a machine is told it, mm/min.
    #[must_use]
    pub fn feed(self, mm_per_min: f64) -> f64 {
        self.told(mm_per_min, self.feed_decimals()) * self.mm()
    }

    /// The unit, mm.
    #[must_use]
    pub fn mm(self) -> f64 {
        match self {
            Self::Mm => 1.0,
            Self::In(_) => MM_PER_INCH,
        }
    }

    /// What sentences of a list are told in.
    #[must_use]
    pub fn of_sentences(self) -> Units {
        match self {
            Self::Mm => Units::Metric,
            Self::In(_) => Units::Inch,
        }
    }

    /// The unit as it ends the name of a column, and as a figure is followed by it.
    #[must_use]
    pub fn short(self) -> &'static str {
        match self {
            Self::Mm => "mm",
            Self::In(_) => "in",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_inch_is_told_to_its_ten_thousandth_half_away_from_zero() {
        let inch = ListUnits::In(InchesWord::G20);
        // 1 in = 25.4 mm exactly (NIST SP 811): 46 mm are 1.811024 in, told 1.8110, which are 45.9994 mm.
        assert!((inch.coordinate(46.0) - 45.999_4).abs() < 1e-12);
        // 6.31825 mm are 0.24875 in, told 0.2488, which are 6.31952 mm.
        assert!((inch.coordinate(6.318_25) - 6.319_52).abs() < 1e-12);
        assert!((inch.coordinate(-6.318_25) + 6.319_52).abs() < 1e-12);
        // 48.6 mm/min are 1.913386 in/min, told 1.913.
        assert!((inch.feed(48.6) - 48.590_2).abs() < 1e-9);
        // 0.0005 mm are 0.0000197 in: nothing, and no minus before it.
        assert!(inch.coordinate(-0.000_5).is_sign_positive());
        for k in -5000..5000 {
            let mm = f64::from(k) * 0.0373;
            let once = inch.coordinate(mm);
            assert_eq!(once.to_bits(), inch.coordinate(once).to_bits(), "rounded once is rounded");
            assert!((once - mm).abs() <= 0.001_27 + 1e-9);
        }
    }

    #[test]
    fn a_millimetre_is_told_as_ever() {
        assert_eq!(ListUnits::Mm.coordinate(1.234_5), decimals(1.234_5, 3));
        assert_eq!(ListUnits::Mm.feed(48.64), 48.6);
    }
}
