//! Limits: in words what holds each cylinder, then every figure behind it.

use borewright_planner::job::SheetUnits;
use borewright_planner::limits::stated;
use borewright_planner::plan::{Cylinder, LimitResult, Verdict};

use super::Sheet;
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;

impl Sheet<'_> {
    /// Draws them.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn limits(&self, pages: &mut Pages) -> Result<(), OutputError> {
        if self.plan.cylinders.iter().all(|c| c.limits.is_empty()) {
            return Ok(());
        }
        pages.heading(&format!("Limits, {}", self.units.name()), 120.0);
        for (bank, cylinder) in self.by_bank() {
            let title =
                format!("Cylinder {}, {}: ", cylinder.cylinder, cylinder.verdict.word().to_uppercase());
            let weight = if cylinder.verdict == Verdict::Go { Weight::Plain } else { Weight::Bold };
            pages.paragraph(
                &format!("{title}{}", one_line(&self.units.say(&cylinder.why), 600)),
                weight,
                BODY,
            );
            // The plan's own words name the tightest limit in mm; said again only in another unit.
            if cylinder.why.is_empty() || self.units.0 != SheetUnits::Mm {
                pages.paragraph(&self.binding_words(bank, cylinder)?, Weight::Plain, BODY);
            }
            pages.gap(3.0);
        }
        pages.gap(6.0);
        let words = "Margin is what there is beyond the limit; u is its standard uncertainty. Go needs a margin of \
                     at least 1.65 u, and inside a small circle more. Not kept: how often, by the measuring alone; the \
                     errors of a set-up are shared by all bores of its bank, so these are not to be multiplied.";
        pages.paragraph(words, Weight::Plain, BODY);
        let columns = [
            Column::words("cyl", 30.0).bold().size(11.0),
            Column::words("limit", 106.0),
            Column::words("where", 150.0),
            Column::figures("least\n(prefer)", 58.0),
            Column::figures("margin", 52.0).bold().size(10.5),
            Column::figures("u", 34.0),
            Column::words("not kept", 40.0),
            Column::words("verdict", 45.0).bold(),
        ];
        let mut rows = Vec::new();
        for (bank, cylinder) in self.by_bank() {
            // The number on every row: a row read on its own, or at the head of a page, still says whose it is.
            for limit in &cylinder.limits {
                rows.push(Row::Cells(self.limit_cells(bank, cylinder.cylinder.to_string(), limit)?));
            }
        }
        draw(pages, &columns, &rows);
        Ok(())
    }

    fn by_bank(&self) -> Vec<(usize, &Cylinder)> {
        let banks = 0..self.planning.job.block.banks.len();
        banks.flat_map(|bank| self.cylinders(bank).into_iter().map(move |c| (bank, c))).collect()
    }

    fn binding_words(&self, bank: usize, cylinder: &Cylinder) -> Result<String, OutputError> {
        let Some(limit) = binding(&cylinder.limits) else { return Ok("No limit applies.".to_owned()) };
        let margin = self.units.uncertain(limit.margin, limit.u)?;
        let side = if margin.is_negative() { "short" } else { "to spare" };
        Ok(format!(
            "Tightest is {}, {}: {} {side}, u {}.",
            name(limit.limit),
            self.place(bank, limit)?,
            margin.size().spoken(),
            self.units.uncertain(limit.u, limit.u)?.spoken(),
        ))
    }

    fn limit_cells(
        &self,
        bank: usize,
        number: String,
        limit: &LimitResult,
    ) -> Result<Vec<String>, OutputError> {
        let mut least = self.units.length(limit.least, Digits::Depth)?.stacked();
        if let Some(prefer) = limit.prefer {
            let prefer = self.units.length(prefer, Digits::Depth)?.stacked().replace(['(', ')'], "");
            least = format!("{least}\n({})", prefer.replace('\n', " / "));
        }
        Ok(vec![
            number,
            name(limit.limit),
            self.place(bank, limit)?,
            least,
            self.units.uncertain(limit.margin, limit.u)?.stacked_signed(),
            self.units.uncertain(limit.u, limit.u)?.stacked(),
            borewright_planner::job::words::odds(limit.p),
            limit.verdict.word().to_uppercase(),
        ])
    }

    /// On which feature, how deep, towards which side.
    fn place(&self, bank: usize, limit: &LimitResult) -> Result<String, OutputError> {
        // A feature can name its neighbour as well; anything longer is no name.
        let mut words = one_line(&limit.feature, 80);
        if let Some(depth) = limit.depth {
            words.push_str(&format!(", {} deep", self.units.length(depth, Digits::Depth)?.spoken()));
        }
        if let Some(clock) = limit.clock {
            words.push_str(&format!(", {} side", self.sides(bank).clock(clock)));
        }
        Ok(words)
    }
}

/// The worst verdict, and of these the least margin.
fn binding(limits: &[LimitResult]) -> Option<&LimitResult> {
    limits.iter().min_by(|a, b| b.verdict.cmp(&a.verdict).then(a.margin.total_cmp(&b.margin)))
}

/// A limit's name as it is spoken.
fn name(limit: &str) -> String {
    stated(limit).map_or_else(|| shorten(&limit.replace('_', " ")), |stated| stated.words.to_owned())
}
