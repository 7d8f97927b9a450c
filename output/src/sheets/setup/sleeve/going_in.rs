//! Going in: temperatures, the gap as the block cools, and what burns.

use super::Chosen;
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::sheets::setup::Sheet;

impl Sheet<'_> {
    /// Draws it.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn going_in(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let going = &chosen.choice.fit.going_in;
        // The table is read at the oven: it stays in one piece.
        let rows = f64::from(u32::try_from(going.gaps.len()).unwrap_or(0));
        pages.heading("Going in", 90.0 + 24.0 * rows);
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
        let columns = [
            Column::figures("block at", 130.0).bold().size(12.0),
            Column::figures(self.gap_head(), 130.0).size(12.0),
            Column::words("then", 255.0),
        ];
        let mut rows = Vec::new();
        for gap in &going.gaps {
            let word = match going.reheat_below {
                Some(least) if gap.block < least && gap.gap <= 0.0 => "it sticks: heat again",
                Some(least) if gap.block < least => "less than asked for: heat again",
                _ => "go on",
            };
            rows.push(Row::Cells(vec![self.celsius(gap.block)?, self.signed(gap.gap)?, word.to_owned()]));
        }
        draw(pages, &columns, &rows);
        let chilled = if going.chilled.is_some() || going.sleeve < 10.0 {
            " Chilled sleeve: dry cold-proof gloves and a face shield, doors open; wipe frost off before it goes in."
        } else {
            ""
        };
        let text = format!(
            "Heat-proof gloves and face shield; mark the block HOT. Read the block beside the pocket, not the oven. Drop \
             it square, flats clocked, in one go, and hold it down until it is gripped.{chilled}"
        );
        pages.boxed("Hot block", &text, 2.0, 12.0);
        Ok(())
    }

    fn gap_head(&self) -> &'static str {
        match self.units.0 {
            borewright_planner::job::SheetUnits::Mm => "gap on diameter, mm",
            borewright_planner::job::SheetUnits::In => "gap on diameter, in",
            borewright_planner::job::SheetUnits::Both => "gap on diameter, mm (in)",
        }
    }
}
