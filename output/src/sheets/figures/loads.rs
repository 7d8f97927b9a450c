//! What the cuts ask of spindle, bar and machine.

use borewright_planner::plan::Pass;

use crate::OutputError;
use crate::paper::pages::{BODY, Pages};
use crate::paper::table::{Column, Row, draw};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::shorten;
use crate::said::units::Digits;
use crate::sheets::sheet::{Sheet, numbers};

impl Sheet<'_> {
    /// Draws them, one row for the passes that print alike.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn loads(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let mut passes: Vec<&Pass> = self.plan.passes.iter().filter(|p| p.load.is_some()).collect();
        passes.sort_by_key(|p| p.step);
        if passes.is_empty() {
            return Ok(());
        }
        pages.bookmark("Loads of the passes");
        pages.heading(&format!("What the passes ask of the machine, {}", self.units.name()), 110.0);
        let columns = [
            Column::words("step", 52.0).bold(),
            Column::words("cyl", 56.0).bold(),
            Column::words("cut, tool", 116.0),
            Column::figures("to Ø", 52.0).bold(),
            Column::figures("in cut\n%", 34.0),
            Column::figures("force\nN", 40.0),
            Column::figures("power\nkW", 44.0),
            Column::figures("bar gives\nway", 48.0),
            Column::figures("tip marks\nµm", 44.0),
            Column::words("set by", 88.0),
            Column::figures("min\neach", 34.0),
        ];
        let mut lines: Vec<(Vec<u32>, Vec<u32>, Vec<String>)> = Vec::new();
        for pass in passes {
            let cells = self.load_cells(pass)?;
            match lines.iter_mut().find(|(_, at, own)| *own == cells && !at.contains(&pass.cylinder)) {
                Some((steps, at, _)) => {
                    at.push(pass.cylinder);
                    if !steps.contains(&pass.step) {
                        steps.push(pass.step);
                    }
                }
                None => lines.push((vec![pass.step], vec![pass.cylinder], cells)),
            }
        }
        let rows: Vec<Row> = lines
            .into_iter()
            .map(|(steps, at, own)| {
                let mut cells = vec![numbers(&steps), numbers(&at)];
                cells.extend(own);
                Row::Cells(cells)
            })
            .collect();
        draw(pages, &columns, &rows);
        pages.paragraph(
            "At the deepest side of each cut. Bar gives way: spindle and bar at the tip. Tip marks: from peak to valley, what \
             feed and nose radius leave; a mean roughness is about a quarter. Set by: what holds speed or feed down.",
            Weight::Plain,
            BODY - 1.0,
        );
        Ok(())
    }

    fn load_cells(&self, pass: &Pass) -> Result<Vec<String>, OutputError> {
        let Some(load) = pass.load else { return Ok(Vec::new()) };
        let tool = pass.tool.as_deref().map_or_else(|| "by hand".to_owned(), shorten);
        let plain = |value: f64, decimals: usize| -> Result<String, OutputError> {
            Ok(Fixed::new(value, decimals)?.to_string())
        };
        Ok(vec![
            format!("{}, {tool}", shorten(&pass.feature)),
            self.units.length(pass.diameter, Digits::Fine)?.stacked(),
            plain(pass.in_cut * 100.0, 0)?,
            plain(load.force, 0)?,
            plain(load.power, 2)?,
            self.units.length(load.deflection, Digits::Fine)?.stacked(),
            load.peak_to_valley.map_or_else(|| Ok("–".to_owned()), |um| plain(um, 1))?,
            load.binds.words().to_owned(),
            plain(pass.minutes, 1)?,
        ])
    }
}
