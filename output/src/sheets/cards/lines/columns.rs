//! The figures of a line in their columns: what stands in each, under which head, and how it is asked for.

use borewright_planner::explain::Question;
use borewright_planner::plan::{Pass, Stage, Stock};
use kurbo::Point;

use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::units::{Digits, Units};
use crate::sheets::cards::area::RIGHT;
use crate::sheets::cards::deal::Deal;
use crate::sheets::cards::flow::Ask;
use crate::sheets::sheet::Sheet;

/// What a line prints in its columns; a second unit, or the most of a stock, stands behind a line break.
#[derive(Debug, PartialEq, Eq)]
pub(super) struct Cells {
    pub(super) size: String,
    pub(super) depth: String,
    pub(super) stock: String,
    pub(super) speed: String,
    pub(super) feed: String,
}

/// A column of figures of a pass.
pub(super) struct Column {
    /// Its right edge, pt.
    pub(super) right: f64,
    pub(super) head: &'static str,
    /// The same with the unit behind it, where not all columns are in one.
    in_unit: &'static str,
    /// What it is told in then.
    told_in: ToldIn,
    /// Which figure of a pass stands in it, as it is asked for.
    pub(super) about: &'static str,
    /// What a line prints in it.
    pub(super) cell: fn(&Cells) -> &str,
}

/// What the figures of a column are told in, where the machine shows another unit than hands measure in.
#[derive(Clone, Copy, PartialEq, Eq)]
enum ToldIn {
    Hand,
    Machine,
    Neither,
}

/// As a stock is asked for: its column has smaller figures, from the least to the most.
pub(super) const STOCK: &str = "stock";

/// The figures of a line: what each is called, where it stands and what it is asked for by.
pub(super) const COLUMNS: [Column; 5] = [
    Column {
        right: RIGHT - 232.0,
        head: "to Ø",
        in_unit: "to Ø, ",
        told_in: ToldIn::Hand,
        about: "size",
        cell: |cells| &cells.size,
    },
    Column {
        right: RIGHT - 166.0,
        head: "to depth",
        in_unit: "depth, ",
        told_in: ToldIn::Machine,
        about: "depth",
        cell: |cells| &cells.depth,
    },
    Column {
        right: RIGHT - 98.0,
        head: "stock a side",
        in_unit: "stock, ",
        told_in: ToldIn::Hand,
        about: STOCK,
        cell: |cells| &cells.stock,
    },
    Column {
        right: RIGHT - 54.0,
        head: "rpm",
        in_unit: "rpm",
        told_in: ToldIn::Neither,
        about: "speed",
        cell: |cells| &cells.speed,
    },
    Column {
        right: RIGHT,
        head: "feed/min",
        in_unit: "/min",
        told_in: ToldIn::Machine,
        about: "feed",
        cell: |cells| &cells.feed,
    },
];
/// What stands in words beside a line, or on its ring, and can be asked for too. What a cut asks of the machine stands on the figures'
/// sheet.
const IN_WORDS: [&str; 5] = ["strokes", "stroke", "over", "crosshatch", "iron"];
/// A figure that a pass does not have.
pub(in crate::sheets::cards) const NOTHING: &str = "–";

/// What the heads of the columns take, pt.
pub(super) const HEADS: f64 = 12.0;

impl Sheet<'_> {
    /// Heads of the columns.
    pub(super) fn column_heads(&self, deal: &mut Deal<'_>) {
        let y = deal.y + 9.0;
        for column in &COLUMNS {
            let head = self.column_head(column);
            deal.put(Point::new(column.right, y), Align::Right, Weight::Bold, 9.5, &head);
        }
        deal.y += HEADS;
    }

    /// What stands above a column, with the unit that its larger figures are in where the columns differ in it.
    pub(super) fn column_head(&self, column: &Column) -> String {
        if self.machine == self.units {
            return column.head.to_owned();
        }
        let first = |units: Units| if units.is_inch_first() { "in" } else { "mm" };
        match (column.told_in, column.in_unit) {
            (ToldIn::Machine, "/min") => format!("{}/min", first(self.machine)),
            (ToldIn::Machine, head) => format!("{head}{}", first(self.machine)),
            (ToldIn::Hand, head) => format!("{head}{}", first(self.units)),
            (ToldIn::Neither, head) => head.to_owned(),
        }
    }

    /// What is dialled for a pass; its stock is told of its line, with [`Sheet::stock`].
    pub(super) fn dialled(&self, pass: &Pass) -> Result<Cells, OutputError> {
        let length = |units: Units, mm: f64, there: bool| -> Result<String, OutputError> {
            if there { Ok(units.length(mm, Digits::Fine)?.stacked()) } else { Ok(NOTHING.to_owned()) }
        };
        let turns = pass.rpm > 0.0;
        Ok(Cells {
            size: length(self.units, pass.diameter, pass.diameter > 0.0)?,
            depth: length(self.machine, pass.to, pass.to > pass.from)?,
            stock: String::new(),
            speed: if turns { Fixed::new(pass.rpm, 0)?.to_string() } else { NOTHING.to_owned() },
            feed: if pass.feed > 0.0 { self.machine.feed(pass.feed)?.stacked() } else { NOTHING.to_owned() },
        })
    }

    /// What a line takes off a side, from the least to the most of its bores.
    pub(super) fn stock(&self, stage: Stage, stock: Stock) -> Result<String, OutputError> {
        let even = (stock.max - stock.min).abs() < 0.005;
        let one = |mm: f64| -> Result<String, OutputError> {
            let digits = if stage == Stage::Hone { Digits::Fine } else { Digits::Middling };
            Ok(self.units.length(mm, digits)?.stacked().replace('\n', " "))
        };
        Ok(match (stock.max > 0.0, even) {
            (true, true) => one(stock.max)?,
            (true, false) => format!("{} to\n{}", one(stock.min)?, one(stock.max)?),
            (false, _) => NOTHING.to_owned(),
        })
    }
}

/// What can be asked of a line of a pass.
pub(in crate::sheets::cards) fn asked(pass: &Pass, cylinder: u32) -> Vec<Ask> {
    let known = askable().filter(|about| pass.worked.iter().any(|f| f.about == *about));
    known.map(|about| (about.to_owned(), of_pass(pass, cylinder, about))).collect()
}

/// Every figure of a pass that a card has, as it is asked for.
pub(in crate::sheets::cards) fn askable() -> impl Iterator<Item = &'static str> {
    COLUMNS.iter().map(|column| column.about).chain(IN_WORDS)
}

/// The question of a figure of a pass.
pub(super) fn of_pass(pass: &Pass, cylinder: u32, about: &str) -> Question {
    Question::Pass { step: pass.step, cylinder: Some(cylinder), about: Some(about.to_owned()) }
}
