//! Which measured sleeve goes where, and the pocket and ledge that each then asks for.

use super::Chosen;
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::{one_line, shorten};
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Draws them.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn assigned(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let assigned = &chosen.choice.fit.assigned;
        if assigned.is_empty() {
            return Ok(());
        }
        pages.heading(&format!("Sleeves by number, each with its own pocket, {}", self.units.name()), 110.0);
        pages.paragraph(
            "Write the cylinder on each sleeve before the first pocket is cut. Ledges count from the deck as it is.",
            Weight::Plain,
            BODY,
        );
        let columns = [
            Column::figures("cyl", 36.0).bold().size(12.0),
            Column::words("sleeve\nnumber", 90.0).bold().size(11.0),
            Column::words("feature", 130.0),
            Column::figures("sleeve\nas measured", 90.0),
            Column::figures("cut in the block", 110.0).bold().size(11.5),
            Column::words("is", 60.0),
        ];
        let mut rows = Vec::new();
        for own in assigned {
            let number = one_line(&own.number, 30);
            let row = |feature: String, sleeve: String, cut: String, what: String| {
                Row::Cells(vec![own.cylinder.to_string(), number.clone(), feature, sleeve, cut, what])
            };
            if let (Some(ledge), Some(thickness)) = (own.ledge, own.thickness) {
                let spread = own.thickness_spread.unwrap_or(0.0);
                let spread = format!("{} round", self.fine(spread)?.replace('\n', " "));
                rows.push(row(
                    "flange, its ledge".to_owned(),
                    format!("{}\n{spread}", self.fine(thickness)?),
                    self.fine(ledge)?,
                    "deep".to_owned(),
                ));
            }
            for pocket in &own.pockets {
                rows.push(row(
                    shorten(&pocket.feature),
                    self.fine(pocket.outside)?,
                    self.fine(pocket.diameter)?,
                    "diameter".to_owned(),
                ));
            }
        }
        draw(pages, &columns, &rows);
        Ok(())
    }
}
