//! The schedule of one bank: what to cut, with what, how deep, how fast, and where to stop.

use borewright_planner::plan::{Pass, Stage};

use super::stops::{Stop, stops};
use super::{Sheet, numbers};
use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::shorten;
use crate::said::units::{Digits, Printed};

/// Passes that print alike, on one row.
#[derive(Debug)]
struct Line {
    stage: Stage,
    first_step: u32,
    steps: Vec<u32>,
    cylinders: Vec<u32>,
    /// Everything printed but steps and cylinders.
    cells: Vec<String>,
    stop: Option<usize>,
}

impl Sheet<'_> {
    /// Draws it.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn passes(&self, pages: &mut Pages, bank: usize) -> Result<(), OutputError> {
        let name = &self.planning.job.bank(bank).name;
        let passes: Vec<&Pass> = self.plan.passes.iter().filter(|pass| pass.bank == *name).collect();
        if passes.is_empty() {
            return Ok(());
        }
        let stops = stops(self.plan);
        let lines = self.lines(&passes, &stops)?;
        let total: f64 = passes.iter().map(|pass| pass.minutes).sum();
        pages.heading(&format!("{}: passes, {}", self.bank_title(bank), self.units.name()), 120.0);
        let cut_mm = self.planning.job.engine.deck.cut_mm;
        let depths = if cut_mm > 0.0 {
            let cut = self.units.length(cut_mm, Digits::Fine)?.spoken();
            format!(
                "Depths are below the deck as it is, before {cut} is cut off it; lists made for after that count from the new deck."
            )
        } else {
            "Depths are below the deck.".to_owned()
        };
        let words = format!(
            "{depths} Stock is per side. Cutting and handwork come to {} min for the bank.",
            Fixed::new(total, 0)?
        );
        pages.paragraph(&words, Weight::Plain, BODY);
        if let Some(t) = self.planning.job.temperature.filter(|t| t.size_at_cutting(1.0, 0.0).is_some()) {
            let words = format!(
                "Diameters are at 20 °C. The block is cut at {} °C: stops tell its sizes at both.",
                Fixed::new(t.cutting.block_c, 1)?
            );
            pages.paragraph(&words, Weight::Bold, BODY);
        }
        let withheld: Vec<u32> =
            self.cylinders(bank).iter().filter(|c| c.withheld).map(|c| c.cylinder).collect();
        if !withheld.is_empty() {
            let words = format!("NOT IN THIS TABLE, and not to be cut: cylinder {}.", numbers(&withheld));
            pages.paragraph(&words, Weight::Bold, 12.0);
        }
        let mut rows = Vec::new();
        let mut stage = None;
        for (index, line) in lines.iter().enumerate() {
            if stage != Some(line.stage) {
                stage = Some(line.stage);
                rows.push(Row::Band(stage_title(line.stage, &passes)?));
            }
            let mut cells = vec![steps(&line.steps), numbers(&line.cylinders)];
            cells.extend(line.cells.iter().cloned());
            rows.push(Row::Cells(cells));
            // Where several lines end in the same stop it stands once, below the last of them.
            let again = lines.get(index + 1).is_some_and(|next| next.stop == line.stop);
            if let Some(stop) = line.stop.filter(|_| !again) {
                let text = stops.get(stop).map(|s| self.units.say(s.text())).unwrap_or_default();
                let several = stops.get(stop).is_some_and(|stop| stop.cylinders().len() > 1);
                let each = if several { ", after each" } else { "" };
                let number = stops.get(stop).map_or(0, Stop::number);
                rows.push(Row::Order(format!("STOP {number}{each}: {text}")));
            }
        }
        draw(pages, &self.pass_columns(), &rows);
        Ok(())
    }

    fn pass_columns(&self) -> [Column; 10] {
        [
            Column::words("step", 34.0).bold(),
            Column::words("cyl", 40.0).bold(),
            Column::words("cut, tool", 98.0),
            Column::figures("to dia.", 54.0).bold().size(10.5),
            Column::figures("depth\nfrom, to", 52.0),
            Column::figures("stock\nleast, most", 56.0),
            Column::figures("in cut\n%", 36.0),
            Column::figures("rpm", 38.0),
            Column::figures("feed\nper min", 46.0),
            Column::figures("min\neach", 36.0),
        ]
    }

    /// One line for all passes of a stage that print alike.
    fn lines(&self, passes: &[&Pass], stops: &[Stop]) -> Result<Vec<Line>, OutputError> {
        let mut lines: Vec<Line> = Vec::new();
        // Two decimals are enough for a depth unless one of them says more; never both in one column.
        let fine = passes.iter().flat_map(|pass| [pass.from, pass.to]).any(needs_third_decimal);
        let depth = if fine { Digits::Fine } else { Digits::Depth };
        for pass in passes {
            let cells = self.pass_cells(pass, depth)?;
            let stop = stops.iter().position(|stop| stop.is_of(pass));
            let alike = |line: &&mut Line| {
                line.stage == pass.stage
                    && line.cells == cells
                    && line.stop == stop
                    && !line.cylinders.contains(&pass.cylinder)
            };
            if let Some(line) = lines.iter_mut().find(alike) {
                line.cylinders.push(pass.cylinder);
                if !line.steps.contains(&pass.step) {
                    line.steps.push(pass.step);
                }
                line.first_step = line.first_step.min(pass.step);
            } else {
                lines.push(Line {
                    stage: pass.stage,
                    first_step: pass.step,
                    steps: vec![pass.step],
                    cylinders: vec![pass.cylinder],
                    cells,
                    stop,
                });
            }
        }
        // In the order of work: a deck is cut before the sleeves go in, or after.
        lines.sort_by_key(|line| line.first_step);
        Ok(lines)
    }

    fn pass_cells(&self, pass: &Pass, depth: Digits) -> Result<Vec<String>, OutputError> {
        let none = || "–".to_owned();
        let feature = shorten(&pass.feature);
        let what = match &pass.tool {
            Some(tool) => format!("{feature}\n{}", shorten(tool)),
            None => feature,
        };
        let diameter = match pass.diameter > 0.0 {
            true => self.units.length(pass.diameter, Digits::Fine)?.stacked(),
            false => none(),
        };
        let depths = match pass.to > pass.from {
            true => pair(self.units.length(pass.from, depth)?, self.units.length(pass.to, depth)?),
            false => none(),
        };
        // A stone takes thousandths.
        let stock_digits = if pass.stage == Stage::Hone { Digits::Fine } else { Digits::Middling };
        let stock = match pass.stock.max > 0.0 {
            true => pair(
                self.units.length(pass.stock.min, stock_digits)?,
                self.units.length(pass.stock.max, stock_digits)?,
            ),
            false => none(),
        };
        let in_cut = match pass.in_cut > 0.0 {
            true => Fixed::new(pass.in_cut * 100.0, 0)?.to_string(),
            false => none(),
        };
        let rpm = match pass.rpm > 0.0 {
            true => Fixed::new(pass.rpm, 0)?.to_string(),
            false => none(),
        };
        let feed = match pass.feed > 0.0 {
            true => self.units.feed(pass.feed)?.stacked(),
            false => none(),
        };
        let minutes = Fixed::new(pass.minutes, 1)?.to_string();
        Ok(vec![what, diameter, depths, stock, in_cut, rpm, feed, minutes])
    }
}

/// Whether 0.01 mm would lose part of a depth, as of a ledge cut to the middle of a protrusion.
fn needs_third_decimal(depth_mm: f64) -> bool {
    let hundredths = depth_mm * 100.0;
    (hundredths - hundredths.round()).abs() > 0.05
}

/// Two figures, one above the other.
fn pair(first: Printed, second: Printed) -> String {
    format!("{}\n{}", first.stacked(), second.stacked())
}

/// "Rough: 12.4 min", for all of a bank.
fn stage_title(stage: Stage, passes: &[&Pass]) -> Result<String, OutputError> {
    let minutes: f64 = passes.iter().filter(|pass| pass.stage == stage).map(|pass| pass.minutes).sum();
    Ok(format!("{}: {} min in all", stage.word().to_uppercase(), Fixed::new(minutes, 1)?))
}

/// One number where all share it, else the first and the last.
fn steps(steps: &[u32]) -> String {
    match (steps.iter().min(), steps.iter().max()) {
        (Some(first), Some(last)) if first != last => format!("{first}–{last}"),
        (Some(only), _) => only.to_string(),
        (None, _) => String::new(),
    }
}
