//! A bore gauged all over: depths down, clocks across, a grid for each bore.

use borewright_planner::plan::check::{Asked, Check};
use kurbo::{Point, Rect};

use super::area::{LEFT, RIGHT};
use super::deal::Deal;
use super::flow::{Block, ColumnHead};
use super::{asked, checks, told};
use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::text::Weight;
use crate::said::units::Digits;
use crate::said::window::Window;
use crate::sheets::sheet::Sheet;

/// A cell: 20 mm, six figures of a pencil, and 9 mm high, what one in a glove needs.
const CELL: (f64, f64) = (56.0, 26.0);
/// Room of the depths, left of the cells, and of a grid: two stand beside each other.
const DEPTHS: f64 = 33.0;
const WIDE: f64 = DEPTHS + 4.0 * CELL.0;
/// Above the cells: the bore, what is expected, which way; a second line of it, and what is free below them.
const ABOVE: f64 = 24.0;
const LINE: f64 = 11.0;
const BELOW: f64 = 8.0;
/// Where what is expected stands, from a grid's left edge.
const EXPECT: f64 = 34.0;
/// Its size.
const SIZE: f64 = 9.5;

/// A check of bores gauged all over, laid out once: how much room it takes is asked before it is drawn.
pub(super) struct Gauged<'a> {
    /// The check.
    pub(super) check: &'a Check,
    title: String,
    words: String,
    grids: Vec<Grid>,
    /// What its words take with the grids that stay with them, pt.
    pub(super) room: f64,
}

/// A bore's grid.
struct Grid {
    bore: String,
    /// In one line, or in two where a second unit makes it long.
    expect: Vec<String>,
    depths: Vec<String>,
    ways: Vec<String>,
}

impl<'a> Gauged<'a> {
    /// Lays out a check.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn laid(
        deal: &Deal<'_>,
        sheet: &Sheet<'_>,
        check: &'a Check,
        words: &str,
    ) -> Result<Self, OutputError> {
        let title = format!("CHECK {}: {}", check.check, check.what.words());
        let grids: Vec<Grid> = check
            .cylinders
            .iter()
            .map(|at| Grid::of(deal, sheet, at.cylinder, &at.readings))
            .collect::<Result<_, _>>()?;
        // All of them stay together where a page has room for them.
        let all: f64 = grids.chunks(2).map(high).sum();
        let head = checks::head_height(deal, words);
        let one = grids.first().map_or(0.0, Grid::high);
        let room = head + if head + all <= deal.full() { all } else { one };
        Ok(Self { check, title, words: words.to_owned(), grids, room })
    }

    /// Draws it.
    pub(super) fn draw(self, deal: &mut Deal<'_>) {
        let Self { check, title, words, grids, .. } = self;
        checks::head(deal, &title, &words);
        for row in grids.chunks(2) {
            let high = high(row);
            deal.need(high);
            if deal.is_fresh() {
                told::goes_on(deal, &title);
            }
            deal.has_check();
            for (grid, left) in row.iter().zip([LEFT, RIGHT - WIDE]) {
                grid.draw(deal, left);
            }
            deal.y += high;
        }
        deal.note(Block::Table {
            caption: title,
            heads: vec![
                ColumnHead::plain("cyl"),
                ColumnHead::plain("found diameter"),
                ColumnHead::plain("depths"),
                ColumnHead::plain("clock"),
            ],
            rows: grids.iter().map(Grid::told).collect(),
        });
        deal.note(Block::Why(checks::figures(check)));
    }
}

/// What grids beside each other take, pt.
fn high(row: &[Grid]) -> f64 {
    row.iter().map(Grid::high).fold(0.0, f64::max)
}

impl Grid {
    fn of(
        deal: &Deal<'_>,
        sheet: &Sheet<'_>,
        cylinder: Option<u32>,
        readings: &[Asked],
    ) -> Result<Self, OutputError> {
        let gauged: Vec<(f64, f64)> = readings.iter().filter_map(|r| r.depth.zip(r.clock)).collect();
        let each = |mut figures: Vec<f64>| {
            figures.sort_by(f64::total_cmp);
            figures.dedup();
            figures
        };
        let depths = each(gauged.iter().map(|(depth, _)| *depth).collect());
        let clocks = each(gauged.iter().map(|(_, clock)| *clock).collect());
        let first = readings.iter().find(|r| r.depth.is_some() && r.clock.is_some());
        let mut expect = first.map(|asked| expect(sheet, asked)).transpose()?.unwrap_or_default();
        let whole = expect.join(", ");
        if deal.fonts.width(&whole, Weight::Plain, SIZE) <= WIDE - EXPECT {
            expect = vec![whole];
        }
        Ok(Self {
            bore: cylinder.map_or_else(String::new, |c| c.to_string()),
            expect,
            depths: depths.iter().map(|depth| asked::deep(sheet.units, *depth)).collect(),
            ways: clocks.iter().map(|clock| asked::way(*clock)).collect::<Result<_, _>>()?,
        })
    }

    /// What it says, as the cells of a table on a screen.
    fn told(&self) -> Vec<String> {
        vec![self.bore.clone(), self.expect.join(", "), self.depths.join(" · "), self.ways.join(" · ")]
    }

    fn above(&self) -> f64 {
        ABOVE + self.expect.iter().skip(1).map(|_| LINE).sum::<f64>()
    }

    /// What it takes, pt.
    fn high(&self) -> f64 {
        self.above() + self.depths.iter().map(|_| CELL.1).sum::<f64>() + BELOW
    }

    /// Draws it from its left edge, at the present height.
    fn draw(&self, deal: &mut Deal<'_>, left: f64) {
        let top = deal.y + self.above();
        let cells = left + DEPTHS;
        let mut y = deal.y + ABOVE - 13.0;
        deal.put(Point::new(left + 24.0, y + 2.0), Align::Right, Weight::Bold, 16.0, &self.bore);
        for line in &self.expect {
            deal.squeeze(
                Point::new(left + EXPECT, y),
                Align::Left,
                (Weight::Plain, SIZE),
                WIDE - EXPECT,
                line,
            );
            y += LINE;
        }
        deal.put(Point::new(cells - 4.0, top - 2.0), Align::Right, Weight::Plain, 8.5, "deep");
        let mut y = top;
        for depth in &self.depths {
            // A second unit goes below the first.
            let (first, second) = depth.split_once(' ').unwrap_or((depth.as_str(), ""));
            let up = if second.is_empty() { 0.0 } else { 5.0 };
            let at = Point::new(cells - 4.0, y + 17.0 - up);
            deal.squeeze(at, Align::Right, (Weight::Plain, 10.0), DEPTHS - 5.0, first);
            deal.squeeze(
                Point::new(at.x, at.y + 10.0),
                Align::Right,
                (Weight::Plain, 8.0),
                DEPTHS - 5.0,
                second,
            );
            let mut left = cells;
            for _ in &self.ways {
                deal.canvas.frame(Rect::new(left, y, left + CELL.0, y + CELL.1), 0.8);
                left += CELL.0;
            }
            y += CELL.1;
        }
        let mut middle = cells + CELL.0 / 2.0;
        for way in &self.ways {
            deal.put(Point::new(middle, top - 2.0), Align::Middle, Weight::Plain, 8.5, way);
            middle += CELL.0;
        }
    }
}

/// What is expected of a bore, and within what.
fn expect(sheet: &Sheet<'_>, asked: &Asked) -> Result<Vec<String>, OutputError> {
    let fine = |mm: f64| -> Result<String, OutputError> {
        Ok(sheet.units.length(mm, Digits::Fine)?.stacked().replace('\n', " "))
    };
    let expected = asked.expected.map(fine).transpose()?.unwrap_or_default();
    let Asked { least, most, .. } = *asked;
    let window = sheet.units.window(Window { expected: None, least, most })?;
    Ok(vec![format!("expected Ø {expected}"), format!("window {window}")])
}
