//! Where the bores of a bank go: X and Y as its lists have them, each bore's move in words, and their sum.

use borewright_planner::explain::{Axis, Question};
use borewright_planner::job::Front;
use borewright_planner::plan::Cylinder;
use kurbo::Point;

use super::area::{LEFT, RIGHT};
use super::deal::Deal;
use super::flow::{Block, ColumnHead};
use super::told::two;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::units::{Digits, Printed};
use crate::sheets::sheet::Sheet;

/// A row, pt.
const ROW: f64 = 23.0;
/// The sum, which may have a second unit below it, pt.
const SUM: f64 = 24.0;
/// Where X and Y end, and the words begin.
const COLUMNS: [f64; 2] = [LEFT + 128.0, LEFT + 220.0];
const WORDS: f64 = LEFT + 240.0;

/// The rows so far.
#[derive(Default)]
struct Going {
    /// As a screen has them.
    told: Vec<Vec<String>>,
    /// The cylinders that have figures.
    placed: Vec<u32>,
    /// The sums of X and Y.
    sums: Option<[Printed; 2]>,
    /// Whether a bore has no figures: a sum of the rest says nothing.
    lacks: bool,
}

impl Sheet<'_> {
    /// What [`Self::going_to`] takes, pt: heading, heads, rows, sum.
    pub(super) fn going_room(&self, deal: &Deal<'_>, bank: usize) -> f64 {
        deal.heading_height() + 12.0 + self.cylinders(bank).iter().map(|_| ROW).sum::<f64>() + SUM
    }

    /// Draws the rows of a bank with their heads and their sum.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn going_to(&self, deal: &mut Deal<'_>, bank: usize) -> Result<(), OutputError> {
        let caption = format!("Where the bores go, {}", self.machine.name());
        deal.heading(&caption, 2.0 * ROW + 14.0);
        if let Some(text) = self.lists_in_other_units() {
            // Beside its heading: a bank's set-up is one page.
            let at = Point::new(RIGHT, deal.y - 6.5);
            deal.put(at, Align::Right, Weight::Bold, 9.0, &text);
            deal.note(Block::Say { text, bold: true });
        }
        heads(deal);
        let mut going = Going::default();
        for cylinder in self.cylinders(bank) {
            deal.need(ROW);
            if deal.is_fresh() {
                heads(deal);
            }
            self.going_row(deal, bank, cylinder, &mut going)?;
        }
        let along = self.along(bank, &going.placed)?;
        match going.sums.filter(|_| !going.lacks) {
            Some(sums) => going.told.push(sum_row(deal, sums, along.as_deref().unwrap_or_default())),
            None => along.iter().for_each(|along| deal.say_on_paper(along, Weight::Plain, 9.0)),
        }
        deal.note(Block::Table {
            caption,
            heads: vec![
                ColumnHead::plain("cyl"),
                ColumnHead::dialled("X"),
                ColumnHead::dialled("Y"),
                ColumnHead::plain("moves, from the old bore"),
            ],
            rows: going.told,
        });
        if let Some(text) = along {
            deal.note(Block::Say { text, bold: false });
        }
        let asked = going.placed.into_iter().flat_map(|n| {
            let of = |axis| Question::Cylinder { cylinder: n, axis: Some(axis) };
            Axis::OF_BORE.map(|axis| (format!("{n} {}", axis.letter()), of(axis)))
        });
        deal.note(Block::Why(asked.collect()));
        Ok(())
    }

    /// Draws the row of a bore: its number, and what it is told, or that it is held.
    fn going_row(
        &self,
        deal: &mut Deal<'_>,
        bank: usize,
        cylinder: &Cylinder,
        going: &mut Going,
    ) -> Result<(), OutputError> {
        let number = cylinder.cylinder.to_string();
        let top = deal.y;
        let base = top + 16.0;
        deal.put(Point::new(LEFT + 20.0, base), Align::Right, Weight::Bold, 16.0, &number);
        deal.canvas.line(Point::new(LEFT, top + ROW), Point::new(RIGHT, top + ROW), 0.4, Dash::Solid);
        deal.y = top + ROW;
        let Some(place) = self.on_list(cylinder)?.filter(|_| !cylinder.withheld) else {
            going.lacks = true;
            let text = format!("{}: held, no figures. Do not cut.", cylinder.verdict.word().to_uppercase());
            deal.put(Point::new(LEFT + 40.0, base), Align::Left, Weight::Bold, 12.0, &text);
            going.told.push(vec![number, String::new(), String::new(), text]);
            return Ok(());
        };
        for (right, value) in COLUMNS.into_iter().zip(place) {
            two(deal, Point::new(right, base), &value.stacked_signed());
        }
        going.sums = Some(going.sums.map_or(place, |s| [s[0].plus(place[0]), s[1].plus(place[1])]));
        let off = self.moves_words(bank, cylinder)?;
        let lines: Vec<&str> = off.split('\n').collect();
        let up = if lines.len() > 1 { 7.0 } else { 0.0 };
        for (line, down) in lines.into_iter().zip([-up, 11.0 - up]) {
            let at = Point::new(WORDS, base + down);
            deal.squeeze(at, Align::Left, (Weight::Plain, 10.0), RIGHT - WORDS, line);
        }
        let [x, y] = place.map(Printed::stacked_signed);
        going.told.push(vec![number, x, y, off.replace('\n', "; ")]);
        going.placed.push(cylinder.cylinder);
        Ok(())
    }

    /// Why X and Y are not the round figures of the true place, where a bank was read in the machine.
    fn along(&self, bank: usize, placed: &[u32]) -> Result<Option<String>, OutputError> {
        let own = self.cylinders(bank).into_iter().find(|c| placed.first() == Some(&c.cylinder));
        let Some((own, _)) = own.zip(self.placed(bank)) else { return Ok(None) };
        // As the machine counts, both signs turned where the front is at the right.
        let turn = if self.front(bank) == Front::Left { 1.0 } else { -1.0 };
        let figure = |mm: f64| -> Result<String, OutputError> {
            Ok(self.machine.length(turn * mm, Digits::Fine)?.stacked().replace('\n', " "))
        };
        Ok(Some(format!(
            "Along the machine's axes at the deck; lean and turn as read are in them. True place of cylinder {}: {} / {}.",
            own.cylinder,
            figure(own.true_position.x)?,
            figure(own.true_position.y)?
        )))
    }
}

/// Heads of the columns.
fn heads(deal: &mut Deal<'_>) {
    let y = deal.y + 9.0;
    for (right, name) in COLUMNS.into_iter().zip(["X", "Y"]) {
        deal.put(Point::new(right, y), Align::Right, Weight::Bold, 10.0, name);
    }
    deal.put(Point::new(WORDS, y), Align::Left, Weight::Bold, 10.0, "moves, from the old bore");
    deal.put(Point::new(LEFT, y), Align::Left, Weight::Bold, 10.0, "cyl");
    deal.y += 12.0;
}

/// Draws the sum, and where the words of a row would stand what the figures run `along`; the row as a screen has it.
fn sum_row(deal: &mut Deal<'_>, sums: [Printed; 2], along: &str) -> Vec<String> {
    let base = deal.y + 14.0;
    deal.put(Point::new(LEFT, base), Align::Left, Weight::Bold, 10.0, "sum");
    for (right, value) in COLUMNS.into_iter().zip(sums) {
        let text = value.stacked_signed();
        let (first, second) = text.split_once('\n').unwrap_or((text.as_str(), ""));
        deal.put(Point::new(right, base), Align::Right, Weight::Plain, 10.0, first);
        deal.put(Point::new(right, base + 9.0), Align::Right, Weight::Plain, 8.5, second);
    }
    let mut below = deal.y;
    for line in deal.fonts.wrap(along, Weight::Plain, 8.5, RIGHT - WORDS, 3) {
        below += 9.5;
        deal.put(Point::new(WORDS, below), Align::Left, Weight::Plain, 8.5, &line);
    }
    deal.y = (deal.y + SUM).max(below + 4.0);
    let [x, y] = sums.map(Printed::stacked_signed);
    vec!["sum".to_owned(), x, y, String::new()]
}
