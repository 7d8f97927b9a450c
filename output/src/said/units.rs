//! Lengths as the sheets print them: millimetres, inches, or both.

use borewright_planner::job::SheetUnits;
use borewright_planner::plan::ListUnits;
use borewright_planner::plan::sentence::{self, Sentence};
use borewright_planner::read::inch::MM_PER_INCH;

use crate::said::number::{Fixed, NotPrintable};

/// What kind of length: how many digits mean anything.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Digits {
    /// A coordinate, a diameter, a margin: 0.001 mm or 0.0001 in.
    Fine,
    /// A stock, or a displacement in words: 0.01 mm or 0.0005 in told to a tenth.
    Middling,
    /// A depth: 0.01 mm or 0.001 in.
    Depth,
}

impl Digits {
    pub(super) fn mm(self) -> usize {
        match self {
            Self::Fine => 3,
            Self::Middling | Self::Depth => 2,
        }
    }

    pub(super) fn inch(self) -> usize {
        match self {
            Self::Fine | Self::Middling => 4,
            Self::Depth => 3,
        }
    }
}

/// A length in each unit printed, rounded: what is added up on paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Printed {
    mm: Option<Fixed>,
    inch: Option<Fixed>,
    inch_first: bool,
}

impl Printed {
    /// The sum of what is printed.
    pub(crate) fn plus(self, other: Self) -> Self {
        Self {
            mm: self.mm.zip(other.mm).map(|(a, b)| a.plus(b)),
            inch: self.inch.zip(other.inch).map(|(a, b)| a.plus(b)),
            ..self
        }
    }

    /// Whether nothing but noughts is printed.
    pub(crate) fn is_zero(self) -> bool {
        self.mm.is_none_or(Fixed::is_zero) && self.inch.is_none_or(Fixed::is_zero)
    }

    /// Whether it lies on the negative side.
    pub(crate) fn is_negative(self) -> bool {
        self.mm.or(self.inch).is_some_and(Fixed::is_negative)
    }

    /// The size without the sign.
    pub(crate) fn size(self) -> Self {
        Self { mm: self.mm.map(Fixed::size), inch: self.inch.map(Fixed::size), ..self }
    }

    /// For a table: the second unit on a line of its own, in brackets.
    pub(crate) fn stacked(self) -> String {
        self.cell(|f| f.to_string())
    }

    /// For a table, always with signs: the second unit on a line of its own, in brackets.
    pub(crate) fn stacked_signed(self) -> String {
        self.cell(Fixed::signed)
    }

    fn cell(self, text: fn(Fixed) -> String) -> String {
        match (self.mm, self.inch) {
            (Some(mm), Some(inch)) if self.inch_first => format!("{}\n({})", text(inch), text(mm)),
            (Some(mm), Some(inch)) => format!("{}\n({})", text(mm), text(inch)),
            (Some(one), None) | (None, Some(one)) => text(one),
            (None, None) => String::new(),
        }
    }

    /// For a sentence, with the unit.
    pub(crate) fn spoken(self) -> String {
        match (self.mm, self.inch) {
            (Some(mm), Some(inch)) if self.inch_first => format!("{inch} in ({mm} mm)"),
            (Some(mm), Some(inch)) => format!("{mm} mm ({inch} in)"),
            (Some(mm), None) => format!("{mm} mm"),
            (None, Some(inch)) => format!("{inch} in"),
            (None, None) => String::new(),
        }
    }
}

/// The units of a sheet, or of what it tells to dial.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) struct Units {
    /// Which are told.
    pub(crate) sheet: SheetUnits,
    /// Whether the inch stands first where both are told.
    inch_first: bool,
}

impl Units {
    /// Those of a sheet.
    pub(crate) fn of(sheet: SheetUnits) -> Self {
        Self { sheet, inch_first: false }
    }

    /// For what is keyed at the machine or held against its display: the unit of the lists first, whatever else the sheet is in behind
    /// it.
    pub(crate) fn dialled(self, lists: ListUnits) -> Self {
        let inch_first = matches!(lists, ListUnits::In(_));
        let of_lists = if inch_first { SheetUnits::In } else { SheetUnits::Mm };
        if self.sheet == of_lists { self } else { Self { sheet: SheetUnits::Both, inch_first } }
    }

    /// Whether the figure that stands first is in inches.
    pub(crate) fn is_inch_first(self) -> bool {
        self.inch_first || self.sheet == SheetUnits::In
    }

    pub(super) fn has_mm(self) -> bool {
        self.sheet != SheetUnits::In
    }

    pub(crate) fn has_inch(self) -> bool {
        self.sheet != SheetUnits::Mm
    }

    fn printed(self, mm: Option<Fixed>, inch: Option<Fixed>) -> Printed {
        Printed { mm, inch, inch_first: self.inch_first }
    }

    /// A length rounded for printing.
    ///
    /// # Errors
    /// Where it is no printable number.
    pub(crate) fn length(self, mm: f64, digits: Digits) -> Result<Printed, NotPrintable> {
        let inch = self.has_inch().then(|| inches(mm, digits.inch())).transpose()?;
        let mm = self.has_mm().then(|| millimetres(mm, digits.mm())).transpose()?;
        Ok(self.printed(mm, inch))
    }

    /// A margin or its uncertainty, told no finer than the uncertainty warrants.
    ///
    /// # Errors
    /// Where it is no printable number.
    pub(crate) fn uncertain(self, mm: f64, u_mm: f64) -> Result<Printed, NotPrintable> {
        // From about 0.02 mm of uncertainty on, a third decimal says nothing.
        let coarse = u_mm >= 0.02;
        let (mm_decimals, inch_decimals) = if coarse { (2, 3) } else { (3, 4) };
        let inch = self.has_inch().then(|| inches(mm, inch_decimals)).transpose()?;
        let mm = self.has_mm().then(|| millimetres(mm, mm_decimals)).transpose()?;
        Ok(self.printed(mm, inch))
    }

    /// A sentence with its quantities in these units.
    pub(crate) fn say(self, sentence: &Sentence) -> String {
        sentence.in_units(self.of_sentences())
    }

    /// The same, with room to write in where the sentence leaves a blank.
    pub(crate) fn say_with_blanks(self, sentence: &Sentence) -> String {
        // Where both are told, what is written says in which.
        let blank = match (self.sheet, self.inch_first) {
            (SheetUnits::Both, true) => " (in) ________",
            (SheetUnits::Both, false) => " (mm) ________",
            (SheetUnits::Mm | SheetUnits::In, _) => " ________",
        };
        sentence.with_blanks(self.of_sentences(), blank)
    }

    /// The units that sentences are told in.
    pub(crate) fn of_sentences(self) -> sentence::Units {
        match self.sheet {
            SheetUnits::Mm => sentence::Units::Metric,
            SheetUnits::In => sentence::Units::Inch,
            SheetUnits::Both if self.inch_first => sentence::Units::InchFirst,
            SheetUnits::Both => sentence::Units::Both,
        }
    }

    /// A feed, mm/min or in/min.
    ///
    /// # Errors
    /// Where it is no printable number.
    pub(crate) fn feed(self, mm_per_min: f64) -> Result<Printed, NotPrintable> {
        let inch = self.has_inch().then(|| Fixed::new(mm_per_min / MM_PER_INCH, 2)).transpose()?;
        let mm = self.has_mm().then(|| Fixed::new(mm_per_min, 0)).transpose()?;
        Ok(self.printed(mm, inch))
    }

    /// An area, with its unit.
    ///
    /// # Errors
    /// Where it is no printable number.
    pub(crate) fn area(self, mm2: f64) -> Result<String, NotPrintable> {
        let (mm, inch) = (Fixed::new(mm2, 0)?, Fixed::new(mm2 / (MM_PER_INCH * MM_PER_INCH), 3)?);
        Ok(match self.sheet {
            SheetUnits::Mm => format!("{mm} mm²"),
            SheetUnits::In => format!("{inch} in²"),
            SheetUnits::Both => format!("{mm} mm² ({inch} in²)"),
        })
    }

    /// The unit's name, for heads of tables.
    pub(crate) fn name(self) -> &'static str {
        match self.sheet {
            SheetUnits::Mm => "mm",
            SheetUnits::In => "in",
            SheetUnits::Both if self.inch_first => "in (mm)",
            SheetUnits::Both => "mm (in)",
        }
    }
}

/// Millimetres; half away from zero, as machines are told them and sentences say them.
fn millimetres(mm: f64, decimals: usize) -> Result<Fixed, NotPrintable> {
    if !mm.is_finite() {
        return Err(NotPrintable(mm));
    }
    Fixed::new(sentence::half_away(mm, decimals), decimals)
}

/// Millimetres in inches; half away from zero, as a shop reads 0.24875 as 0.2488.
fn inches(mm: f64, decimals: usize) -> Result<Fixed, NotPrintable> {
    if !mm.is_finite() {
        return Err(NotPrintable(mm));
    }
    Fixed::new(sentence::half_away(mm / MM_PER_INCH, decimals), decimals)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn both_units_stand_one_above_the_other() {
        let both = Units::of(SheetUnits::Both);
        assert_eq!(both.length(46.0, Digits::Fine).unwrap().stacked_signed(), "+46.000\n(+1.8110)");
        assert_eq!(both.length(0.28, Digits::Middling).unwrap().spoken(), "0.28 mm (0.0110 in)");
        assert_eq!(Units::of(SheetUnits::In).length(138.0, Digits::Depth).unwrap().stacked(), "5.433");
        assert_eq!(Units::of(SheetUnits::Mm).uncertain(0.314, 0.051).unwrap().stacked(), "0.31");
    }

    #[test]
    fn what_is_dialled_has_the_lists_unit_first() {
        use borewright_planner::plan::InchesWord;
        let inch = ListUnits::In(InchesWord::G20);
        let told =
            |sheet, lists| Units::of(sheet).dialled(lists).length(46.0, Digits::Fine).unwrap().spoken();
        // 46 mm are 1.81102 in.
        assert_eq!(told(SheetUnits::Mm, ListUnits::Mm), "46.000 mm");
        assert_eq!(told(SheetUnits::In, inch), "1.8110 in");
        assert_eq!(told(SheetUnits::In, ListUnits::Mm), "46.000 mm (1.8110 in)");
        assert_eq!(told(SheetUnits::Mm, inch), "1.8110 in (46.000 mm)");
        assert_eq!(told(SheetUnits::Both, inch), "1.8110 in (46.000 mm)");
        let both = Units::of(SheetUnits::Both).dialled(inch);
        assert_eq!(both.length(46.0, Digits::Fine).unwrap().stacked_signed(), "+1.8110\n(+46.000)");
        assert_eq!(
            (both.feed(254.0).unwrap().stacked(), both.name()),
            ("10.00\n(254)".to_owned(), "in (mm)")
        );
    }

    #[test]
    fn an_area_has_the_sheets_own_unit() {
        // 645.16 mm² are one square inch.
        assert_eq!(Units::of(SheetUnits::In).area(645.16).unwrap(), "1.000 in²");
        assert_eq!(Units::of(SheetUnits::Both).area(645.16).unwrap(), "645 mm² (1.000 in²)");
    }

    #[test]
    fn half_of_the_last_digit_goes_away_from_nought() {
        // 0.24875 in is 6.31825 mm.
        let inch = |mm| Units::of(SheetUnits::In).length(mm, Digits::Fine).unwrap().stacked();
        assert_eq!([inch(6.318_25), inch(-6.318_25)], ["0.2488", "-0.2488"]);
        assert!(Units::of(SheetUnits::In).length(f64::NAN, Digits::Fine).is_err());
    }

    #[test]
    fn sums_are_those_of_what_is_printed() {
        let inch = Units::of(SheetUnits::In);
        // 1.81102 and 5.43307 in, as printed.
        let (a, b) = (inch.length(46.0, Digits::Fine).unwrap(), inch.length(138.0, Digits::Fine).unwrap());
        assert_eq!(a.plus(b).stacked_signed(), "+7.2441");
    }
}
