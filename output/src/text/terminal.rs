//! How a page is told on a terminal: its width, its units, and whether notes are told too.

use borewright_planner::job::SheetUnits;
use borewright_planner::plan::ListUnits;
use borewright_planner::plan::check::Of;
use borewright_planner::plan::sentence::Sentence;

use crate::said::units::{Digits, Printed, Units};

/// How a page is told.
#[derive(Debug, Clone, Copy)]
pub struct Terminal {
    pub(super) units: Units,
    pub(super) columns: usize,
    pub(super) notes: bool,
    /// What the machine's display is in, where it is known.
    display: Option<ListUnits>,
}

/// A terminal's width where nothing says another.
pub(super) const COLUMNS: usize = 80;
/// Narrower and wider than these a page is not set.
const LEAST: usize = 60;
const MOST: usize = 120;

impl Terminal {
    /// Lengths in `units`, lines of at most `columns` (60 to 120), with notes or without.
    #[must_use]
    pub fn new(units: SheetUnits, columns: usize, notes: bool) -> Self {
        Self { units: Units::of(units), columns: columns.clamp(LEAST, MOST), notes, display: None }
    }

    /// The same, of a machine whose lists and display are in a unit.
    #[must_use]
    pub fn with_display(self, display: Option<ListUnits>) -> Self {
        Self { display, ..self }
    }

    /// The same with lengths in other units.
    #[must_use]
    pub fn told_in(self, units: SheetUnits) -> Self {
        Self { units: Units::of(units), ..self }
    }

    /// As a reading is told: what is read off the machine's display in its unit first.
    pub(super) fn of_reading(&self, of: Of) -> Self {
        let display = self.display.filter(|_| of.is_on_display());
        Self { units: display.map_or(self.units, |lists| self.units.dialled(lists)), ..*self }
    }

    /// How many columns its lines have at most.
    #[must_use]
    pub const fn columns(&self) -> usize {
        self.columns
    }

    /// Text in lines of at most the terminal's width, all but the first indented.
    #[must_use]
    pub fn wrapped(&self, first: &str, text: &str, indent: usize) -> String {
        super::wrapped_to(self.columns, first, text, indent)
    }

    /// A sentence in the terminal's units.
    pub(super) fn say(&self, sentence: &Sentence) -> String {
        self.units.say(sentence)
    }

    /// A length in a cell, without its unit: `0.112`, or `0.112 (0.0044)`; `-` where it is no number.
    pub(super) fn cell(&self, mm: f64, digits: Digits) -> String {
        self.length(mm, digits, Printed::stacked)
    }

    /// A length in a cell, without its unit and always with its sign: `+0.112`, or `+0.112 (+0.0044)`.
    pub(super) fn signed(&self, mm: f64, digits: Digits) -> String {
        self.length(mm, digits, Printed::stacked_signed)
    }

    /// A length in a sentence, with its unit.
    pub(super) fn spoken(&self, mm: f64, digits: Digits) -> String {
        self.length(mm, digits, Printed::spoken)
    }

    fn length(&self, mm: f64, digits: Digits, told: fn(Printed) -> String) -> String {
        self.units.length(mm, digits).map_or_else(|_| "-".to_owned(), |p| told(p).replace('\n', " "))
    }

    /// The line at a page's head that says what its figures are.
    pub(super) fn figures(&self) -> String {
        format!("all figures {}", self.units.name())
    }

    /// The line that stands for notes which are not told; nothing where they are, or where there are none.
    pub(super) fn untold(&self, notes: usize) -> String {
        match notes {
            0 => String::new(),
            _ if self.notes => String::new(),
            1 => "\n1 note not shown: --notes shows it\n".to_owned(),
            n => format!("\n{n} notes not shown: --notes shows them\n"),
        }
    }
}
