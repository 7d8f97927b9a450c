//! The list files on card 1: which bores each cuts, its rows, and the sums by which it is known to be whole.

use borewright_planner::plan::ListUnits;
use kurbo::Point;

use super::area::{BODY, LEFT, RIGHT};
use super::deal::Deal;
use super::flow::{Block, ColumnHead};
use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::sheets::sheet::{Sheet, numbers};

/// Where the table of lists has its cylinders, from the left; its rows and sums end here.
const LIST_CYLINDERS: f64 = 218.0;
const LIST_ROWS: f64 = 385.0;
const LIST_SUMS: [f64; 2] = [RIGHT - 76.0, RIGHT];

impl Sheet<'_> {
    /// The lists with their sums, in the lists' own metric.
    pub(super) fn lists_named(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        if self.plan.lists.is_empty() {
            return Ok(());
        }
        let units = self.planning.job.machine.list_units;
        let caption = format!(
            "List files, sums as the file has them, {}",
            if units == ListUnits::Mm { "mm" } else { "inches" }
        );
        deal.heading(&caption, 44.0);
        list_heads(deal);
        let mut told = Vec::new();
        for (list, entry) in self.planning.lists.iter().zip(&self.plan.lists) {
            let [x, y] = list.sums_mm();
            deal.need(15.0);
            if deal.is_fresh() {
                list_heads(deal);
            }
            let top = deal.y + 11.0;
            let file = entry.file.trim_start_matches("lists/");
            deal.squeeze(Point::new(LEFT, top), Align::Left, (Weight::Bold, 10.0), 210.0, file);
            let cylinders = numbers(&list.cylinders);
            deal.squeeze(
                Point::new(LEFT + LIST_CYLINDERS, top),
                Align::Left,
                (Weight::Plain, 10.0),
                110.0,
                &cylinders,
            );
            let rows = list.moves.len().to_string();
            deal.put(Point::new(LEFT + LIST_ROWS, top), Align::Right, Weight::Plain, 10.0, &rows);
            // As the foot has them: the sum of what is printed.
            let places = list.units.decimals();
            let sum = |mm: f64| Fixed::new(list.units.told(mm, places), places).map(|sum| sum.to_string());
            let sums = [sum(x)?, sum(y)?];
            for (right, sum) in LIST_SUMS.into_iter().zip(&sums) {
                deal.put(Point::new(right, top), Align::Right, Weight::Plain, 10.0, sum);
            }
            deal.y += 14.0;
            let [x, y] = sums;
            told.push(vec![file.to_owned(), cylinders, rows, x, y]);
        }
        deal.y += 4.0;
        if let Some(other) = self.lists_in_other_units() {
            deal.say(&other, Weight::Bold, BODY);
        }
        deal.note(Block::Table {
            caption,
            heads: vec![
                ColumnHead::plain("file"),
                ColumnHead::plain("cylinders"),
                ColumnHead::plain("rows"),
                ColumnHead::plain("sum of X"),
                ColumnHead::plain("sum of Y"),
            ],
            rows: told,
        });
        Ok(())
    }
}

/// Heads of the table of lists.
fn list_heads(deal: &mut Deal<'_>) {
    let y = deal.y + 9.0;
    deal.put(Point::new(LEFT, y), Align::Left, Weight::Bold, 9.5, "file");
    deal.put(Point::new(LEFT + LIST_CYLINDERS, y), Align::Left, Weight::Bold, 9.5, "cylinders");
    deal.put(Point::new(LEFT + LIST_ROWS, y), Align::Right, Weight::Bold, 9.5, "rows");
    for (right, name) in LIST_SUMS.into_iter().zip(["sum of X", "sum of Y"]) {
        deal.put(Point::new(right, y), Align::Right, Weight::Bold, 9.5, name);
    }
    deal.y += 11.0;
}
