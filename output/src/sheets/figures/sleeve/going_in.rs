//! Going in: temperatures, the gap as the block cools, and what burns.

use kurbo::Point;

use super::Chosen;
use crate::OutputError;
use crate::paper::canvas::{Align, Dash};
use crate::paper::pages::{BODY, INNER, LEFT, Pages};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Draws how the chosen sleeve goes in.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn going_in(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let going = &chosen.choice.fit.going_in;
        pages.heading("Going in", 110.0);
        if going.gaps.is_empty() {
            let words =
                "It goes in cold: no register is tight. Oil the rings, press evenly, never hammer a rim.";
            pages.paragraph(words, Weight::Plain, BODY);
            return Ok(());
        }
        let cold = match going.chilled {
            Some(celsius) => format!("chill the sleeve to {}", self.celsius(celsius.floor())?),
            None => format!("sleeve at {}", self.celsius(going.sleeve)?),
        };
        pages.paragraph(
            &format!(
                "Soak the block at {}, {cold}: down to {} it drops with at least {} of gap on diameter at {}, the register \
                 that decides, with the most interference. Never hotter than {}.",
                self.celsius(going.soak.ceil())?,
                self.celsius(going.block.ceil())?,
                self.spoken(going.clearance)?,
                shorten(&going.decides),
                self.celsius(going.hottest)?
            ),
            Weight::Bold,
            11.5,
        );
        let mut rows = [Vec::new(), Vec::new(), Vec::new()];
        for gap in &going.gaps {
            let word = match going.reheat_below {
                Some(least) if gap.block < least && gap.gap <= 0.0 => "sticks",
                Some(least) if gap.block < least => "heat again",
                _ => "go on",
            };
            rows[0].push(self.celsius(gap.block)?.replace(" (", "\n("));
            rows[1].push(self.signed(gap.gap)?);
            rows[2].push(word.to_owned());
        }
        across(pages, ["block at", self.gap_head(), "then"], &rows);
        Ok(())
    }

    fn gap_head(&self) -> &'static str {
        match self.units.sheet {
            borewright_planner::job::SheetUnits::Mm => "gap, mm",
            borewright_planner::job::SheetUnits::In => "gap, in",
            borewright_planner::job::SheetUnits::Both => "gap, mm (in)",
        }
    }
}

/// Three rows of cells, a column a temperature.
fn across(pages: &mut Pages, names: [&str; 3], rows: &[Vec<String>; 3]) {
    const NAMES: f64 = 58.0;
    const HIGH: f64 = 27.0;
    let count: f64 = rows[0].iter().map(|_| 1.0).sum();
    let wide = ((INNER - NAMES) / count.max(1.0)).min(90.0);
    pages.need(3.0 * HIGH);
    let fonts = pages.fonts;
    let right = LEFT + NAMES + wide * count;
    for (row, (name, cells)) in names.iter().zip(rows).enumerate() {
        let top = pages.y;
        let weight = if row == 2 { Weight::Plain } else { Weight::Bold };
        let size = if row == 2 { 9.5 } else { 11.0 };
        pages.canvas.text(fonts, Point::new(LEFT, top + 16.0), Align::Left, (Weight::Plain, 10.0), name);
        let mut left = LEFT + NAMES;
        for cell in cells {
            for (part, text) in cell.split('\n').enumerate() {
                let size = if part == 0 { size } else { 8.5 };
                let wanted = fonts.width(text, weight, size);
                let size = if wanted > wide - 4.0 { (size * (wide - 4.0) / wanted).max(6.5) } else { size };
                let y = top + if part == 0 { 14.0 } else { 24.0 };
                let at = Point::new(left + wide / 2.0, y);
                pages.canvas.text(fonts, at, Align::Middle, (weight, size), text);
            }
            left += wide;
        }
        pages.y = top + HIGH;
        pages.canvas.line(Point::new(LEFT, pages.y), Point::new(right, pages.y), 0.5, Dash::Solid);
    }
    pages.y += 4.0;
}
