//! The figures of a line in their columns: what stands in each, under which head, and how it is asked for.

use borewright_planner::explain::Question;
use borewright_planner::plan::{Pass, Stage, Stock};
use kurbo::Point;

use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::units::Digits;
use crate::sheets::cards::flow::Ask;
use crate::sheets::cards::leaf::{Deal, RIGHT};
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
    /// Which figure of a pass stands in it, as it is asked for.
    pub(super) about: &'static str,
    /// What a line prints in it.
    pub(super) cell: fn(&Cells) -> &str,
}

/// As a stock is asked for: its column has smaller figures, from the least to the most.
pub(super) const STOCK: &str = "stock";

/// The figures of a line: what each is called, where it stands and what it is asked for by.
pub(super) const COLUMNS: [Column; 5] = [
    Column { right: RIGHT - 232.0, head: "to Ø", about: "size", cell: |cells| &cells.size },
    Column { right: RIGHT - 166.0, head: "to depth", about: "depth", cell: |cells| &cells.depth },
    Column { right: RIGHT - 98.0, head: "stock a side", about: STOCK, cell: |cells| &cells.stock },
    Column { right: RIGHT - 54.0, head: "rpm", about: "speed", cell: |cells| &cells.speed },
    Column { right: RIGHT, head: "feed/min", about: "feed", cell: |cells| &cells.feed },
];
/// What stands in words beside a line, or on its ring, and can be asked for too. What a cut asks of the machine stands on the figures'
/// sheet.
const IN_WORDS: [&str; 5] = ["strokes", "stroke", "over", "crosshatch", "iron"];
/// A figure that a pass does not have.
pub(in crate::sheets::cards) const NOTHING: &str = "–";

/// What the heads of the columns take, pt.
pub(super) const HEADS: f64 = 12.0;

/// Heads of the columns.
pub(super) fn column_heads(deal: &mut Deal<'_>) {
    let y = deal.y + 9.0;
    for Column { right, head, .. } in COLUMNS {
        deal.put(Point::new(right, y), Align::Right, Weight::Bold, 9.5, head);
    }
    deal.y += HEADS;
}

impl Sheet<'_> {
    /// What is dialled for a pass; its stock is told of its line, with [`Sheet::stock`].
    pub(super) fn dialled(&self, pass: &Pass) -> Result<Cells, OutputError> {
        let length = |mm: f64, digits: Digits, there: bool| -> Result<String, OutputError> {
            if there { Ok(self.units.length(mm, digits)?.stacked()) } else { Ok(NOTHING.to_owned()) }
        };
        let turns = pass.rpm > 0.0;
        Ok(Cells {
            size: length(pass.diameter, Digits::Fine, pass.diameter > 0.0)?,
            depth: length(pass.to, Digits::Fine, pass.to > pass.from)?,
            stock: String::new(),
            speed: if turns { Fixed::new(pass.rpm, 0)?.to_string() } else { NOTHING.to_owned() },
            feed: if pass.feed > 0.0 { self.units.feed(pass.feed)?.stacked() } else { NOTHING.to_owned() },
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
