//! What a job limits of a sleeve, and the piston against its length.

use borewright_planner::job::words;
use borewright_planner::plan::Verdict;
use borewright_planner::plan::fit::SleeveLimit;

use super::seat::figures_list;
use super::{Chosen, decimal, maybe};
use crate::OutputError;
use crate::paper::pages::Pages;
use crate::paper::table::{Column, Row, draw};
use crate::said::short::one_line;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// The limits with their verdicts.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn sleeve_limits(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let limits = &chosen.choice.fit.sleeve_limits;
        if limits.is_empty() {
            return Ok(());
        }
        pages.heading(&format!("Limits of the sleeve, {} or a share", self.units.name()), 80.0);
        let columns = [
            Column::words("limit", 130.0).bold(),
            Column::words("where", 165.0),
            Column::figures("is", 65.0).bold().size(10.5),
            Column::figures("limit", 60.0),
            Column::figures("prefer", 55.0),
            Column::words("verdict", 50.0).bold(),
        ];
        let mut rows = Vec::new();
        for limit in limits {
            rows.push(Row::Cells(vec![
                words::limit(limit.limit),
                one_line(&self.units.say(&limit.feature), 80),
                maybe(limit.value, |value| self.limit_value(limit, value))?,
                self.limit_value(limit, limit.least)?,
                maybe(limit.prefer, |value| self.limit_value(limit, value))?,
                match limit.verdict {
                    Verdict::Go => "GO",
                    Verdict::Hold => "HOLD",
                    Verdict::Stop => "STOP",
                }
                .to_owned(),
            ]));
        }
        draw(pages, &columns, &rows);
        Ok(())
    }

    /// Shares, MPa and degrees have no length's unit; the rest are lengths.
    fn limit_value(&self, limit: &SleeveLimit, value: f64) -> Result<String, OutputError> {
        if limit.is_length { self.fine(value) } else { decimal(value, 2) }
    }

    /// The piston at both ends of its stroke.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn stack(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let Some(stack) = &chosen.choice.fit.stack else { return Ok(()) };
        pages.heading("Piston and sleeve, below the final deck", 120.0);
        let depth =
            |mm: f64| -> Result<String, OutputError> { Ok(self.units.length(mm, Digits::Depth)?.spoken()) };
        let row = |what: &str, value: String| [what.to_owned(), value];
        let mut rows = vec![
            row("crown at top dead centre (minus: above the deck)", depth(stack.crown_top)?),
            row("crown at bottom dead centre", depth(stack.crown_bottom)?),
            row("lower edge of the oil ring at bottom dead centre", depth(stack.oil_ring_bottom)?),
            row("end of the skirt at bottom dead centre", depth(stack.skirt_bottom)?),
            row("sleeve below the oil ring (minus: the ring comes out)", depth(stack.ring_hold)?),
            row("skirt out of the sleeve (minus: inside)", depth(stack.skirt_out)?),
        ];
        if let Some(clearance) = stack.clearance {
            rows.push(row("skirt to bore, 20 °C", self.spoken(clearance.cold)?));
            rows.push(row("skirt to bore, at work", self.spoken(clearance.hot)?));
        }
        if let Some(today) = stack.bore_today {
            rows.push(row(
                "finished bore as a gauge reads it at the block's temperature",
                self.spoken(today)?,
            ));
        }
        figures_list(pages, rows);
        Ok(())
    }
}
