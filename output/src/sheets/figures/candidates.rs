//! The other candidates, and why not.

use borewright_planner::job::words;

use crate::OutputError;
use crate::paper::pages::Pages;
use crate::paper::table::{Column, Row, draw};
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Draws them, the chosen one first.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn candidates(&self, pages: &mut Pages) -> Result<(), OutputError> {
        if self.plan.sleeves.is_empty() {
            return Ok(());
        }
        pages.heading(&format!("Sleeves looked at, {}", self.units.name()), 70.0);
        let columns = [
            Column::words("sleeve", 78.0).bold(),
            Column::words("verdict", 44.0).bold(),
            Column::figures("largest\npocket Ø", 56.0),
            Column::words("stands worst", 130.0),
            Column::figures("margin", 50.0),
            Column::words("why, or why not", 180.0),
        ];
        let withheld = self.plan.cylinders.iter().all(|c| c.withheld);
        let mut sleeves: Vec<_> = self.plan.sleeves.iter().collect();
        sleeves.sort_by_key(|s| !s.chosen);
        let mut rows = Vec::new();
        for sleeve in sleeves {
            let worst = sleeve.worst.as_ref();
            rows.push(Row::Cells(vec![
                format!("{}{}", shorten(&sleeve.sleeve), if sleeve.chosen { "\nchosen" } else { "" }),
                sleeve.verdict.word().to_uppercase(),
                // What may not be cut is told no size.
                if withheld {
                    "withheld".to_owned()
                } else {
                    self.units.length(sleeve.largest_pocket, Digits::Fine)?.stacked()
                },
                worst.map_or_else(
                    || "–".to_owned(),
                    |w| format!("{}, cylinder {}", words::limit(w.limit), w.cylinder),
                ),
                match worst {
                    Some(w) => self.units.uncertain(w.margin, w.u)?.stacked_signed(),
                    None => "–".to_owned(),
                },
                one_line(&self.units.say(&sleeve.why), 300),
            ]));
        }
        draw(pages, &columns, &rows);
        Ok(())
    }
}
