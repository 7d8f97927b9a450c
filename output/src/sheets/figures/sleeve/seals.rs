//! O-rings in their grooves, beside what is usual.

use borewright_planner::plan::sentence::Sentence;
use borewright_planner::sleeve::{FILL, FILL_MOST, SQUEEZE, STRETCH};

use super::{Chosen, decimal, maybe, percent};
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Draws them.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn o_rings(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let rings = &chosen.choice.fit.o_rings;
        if rings.is_empty() {
            return Ok(());
        }
        pages.heading(&format!("O-rings, {} and %", self.units.name()), 110.0);
        let columns = [
            Column::words("in", 84.0).bold(),
            Column::figures("depth", 56.0).bold(),
            Column::figures("cord\nstretched", 62.0),
            Column::figures("stretch", 48.0),
            Column::figures("squeeze\nleast, most", 68.0),
            Column::figures("pushed\naside", 48.0),
            Column::figures("fill\nleast, most", 60.0),
            Column::figures("at work\nsqueeze\nfill", 50.0),
            Column::figures("from the\njacket", 52.0),
        ];
        let range = |[least, most]: [f64; 2]| -> Result<String, OutputError> {
            Ok(format!("{} to {} %", percent(least)?, percent(most)?))
        };
        let mut rows = vec![Row::Band(format!(
            "usual: stretch {}, squeeze {}, fill {} and never over {} %",
            range(STRETCH)?,
            range(SQUEEZE)?,
            range(FILL)?,
            percent(FILL_MOST)?
        ))];
        for ring in rings {
            rows.push(Row::Cells(vec![
                shorten(&ring.feature),
                self.units.length(ring.depth, Digits::Depth)?.stacked(),
                self.fine(ring.cord_stretched)?,
                decimal(ring.stretch * 100.0, 1)?,
                format!(
                    "{}\n{}, {}",
                    percent(ring.squeeze)?,
                    percent(ring.least.squeeze)?,
                    percent(ring.most.squeeze)?
                ),
                format!("{}\n{}", percent(ring.aside[0])?, percent(ring.aside[1])?),
                format!(
                    "{}\n{}, {}",
                    percent(ring.fill)?,
                    percent(ring.least.fill)?,
                    percent(ring.most.fill)?
                ),
                format!("{}\n{}", percent(ring.hot.squeeze)?, percent(ring.hot.fill)?),
                maybe(ring.from_jacket, |mm| Ok(self.units.length(mm, Digits::Depth)?.stacked()))?,
            ]));
            if !ring.remarks.is_empty() {
                rows.push(Row::Order(crate::said::short::one_line(
                    &self.units.say(&Sentence::join(ring.remarks.iter().cloned(), "; ")),
                    300,
                )));
            }
        }
        draw(pages, &columns, &rows);
        pages.paragraph(
            "Depths count from the deck that the sleeve ends at. Grooves clean and unburred, rings lubricated and not \
             twisted; break the pocket's edge above them so that no ring is cut.",
            Weight::Plain,
            BODY,
        );
        Ok(())
    }
}
