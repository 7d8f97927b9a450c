//! Registers: the fit of each, cold and at work, and what it does to both parts.

use borewright_planner::plan::fit::{Interference, Register};

use super::{Chosen, decimal, maybe, percent};
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::shorten;
use crate::sheets::sheet::Sheet;

/// A row of the table, and its head with the key below it, pt.
const ROW: f64 = 46.0;
const KEYED: f64 = 126.0;

impl Sheet<'_> {
    /// Draws them.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn fits(&self, pages: &mut Pages, chosen: Chosen<'_>) -> Result<(), OutputError> {
        let registers = &chosen.choice.fit.registers;
        // With its rows and the key below them, where half a page holds them: a key overleaf explains nothing.
        let whole = KEYED + registers.iter().map(|_| ROW).sum::<f64>();
        let following = if whole < Pages::full_height() / 2.0 { whole } else { 110.0 };
        pages.heading(&format!("Fits, {}", self.units.name()), following);
        let columns = [
            Column::words("register", 68.0).bold(),
            Column::figures("sleeve\noutside", 54.0),
            Column::figures("pocket\nat 20 °C", 60.0).bold().size(11.0),
            Column::figures("tight\nleast\nmost", 48.0),
            Column::figures("at work\nleast\nmost", 50.0),
            Column::figures("grip MPa\ncold; at\nwork least\nand most", 50.0),
            Column::figures("hoop MPa\nblock\nsleeve", 56.0),
            Column::figures("of yield\n%", 46.0),
            Column::figures("bore\ncloses", 46.0),
            Column::figures("gone\nat °C", 37.0),
        ];
        let mut rows = Vec::new();
        for register in registers {
            rows.push(Row::Cells(self.fit_cells(chosen, register)?));
        }
        draw(pages, &columns, &rows);
        let at = self.planning.job.engine.running;
        pages.paragraph(
            &format!(
                "Tight is interference on diameter with both tolerances at their ends; minus is a gap. At work: block {}, \
                 sleeve {}. Grip and hoop cold, and how much the bore closes, are those of the middle of the tolerances; grip \
                 at work is that of the loosest and of the tightest, and of yield the worst of all. Gone is the temperature of both at \
                 which the middle interference is nothing.",
                self.celsius(at.block_c)?,
                self.celsius(at.sleeve_c)?
            ),
            Weight::Plain,
            BODY,
        );
        Ok(())
    }

    fn fit_cells(&self, chosen: Chosen<'_>, register: &Register) -> Result<Vec<String>, OutputError> {
        let step = chosen.sleeve.body.iter().find(|s| s.name == register.feature);
        let size = step.and_then(|s| s.pocket_tolerance_mm);
        let either = size.unwrap_or(self.planning.job.allowances.pocket_size_mm);
        let code = register.code.as_deref().map_or_else(String::new, |c| format!("\n{}", shorten(c)));
        let ends = |i: Interference| -> Result<String, OutputError> {
            Ok(format!("{}\n{}", self.signed(i.least)?, self.signed(i.most)?))
        };
        let pressure = maybe(register.pressure, |p| decimal(p, 1))?;
        let least = maybe(register.running, |r| decimal(r.pressure_least, 1))?;
        let most = maybe(register.running, |r| decimal(r.pressure, 1))?;
        Ok(vec![
            format!("{}{code}", shorten(&register.feature)),
            self.fine(register.diameter)?,
            match self.plan.cylinders.iter().all(|c| c.withheld) {
                true => "withheld".to_owned(),
                false => format!("{}\n±{}", self.fine(register.pocket)?, self.fine(either)?),
            },
            ends(register.interference)?,
            maybe(register.running, |r| ends(r.interference))?,
            format!("{pressure}\n{least}\n{most}"),
            maybe(register.hoop, |h| Ok(format!("{}\n{}", decimal(h.block, 0)?, decimal(h.sleeve, 0)?)))?,
            maybe(register.hoop_ratio, percent)?,
            maybe(register.closure, |mm| self.fine(mm))?,
            maybe(register.gone_at, |c| decimal(c, 0))?,
        ])
    }
}
