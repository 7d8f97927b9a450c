//! What was planned, for what finish, from which axis.

use borewright_planner::job::{Aim, Finish};
use kurbo::Point;

use crate::OutputError;
use crate::paper::canvas::Align;
use crate::paper::pages::{BODY, INNER, LEADING, LEFT, Pages};
use crate::paper::polished::polished;
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::{one_line, shorten};
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

/// Width of the labels on the left.
const LABEL: f64 = 86.0;

impl Sheet<'_> {
    /// Draws what the plan rests on, a line each.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn basis(&self, pages: &mut Pages) -> Result<(), OutputError> {
        let job = &self.planning.job;
        if let Some(release) = &self.plan.release {
            field(
                pages,
                "released",
                &format!("by {}: {}", one_line(&release.who, 60), one_line(&release.why, 240)),
            );
        }
        let aim = match job.aim {
            Aim::Journal => "true position from the journal axis",
            Aim::Parent => "the bore that is there; position is reported, not enforced",
        };
        field(pages, "bores follow", aim);
        field(pages, "finished bore", &self.finish_words(&job.finish)?);
        field(pages, "machine", &one_line(&job.machine.name, 80));
        for axis in &self.plan.journal_axis {
            let words = format!(
                "{}: straight within {}, largest step {}; the bank leans from the spindle {} along, {} across over the bore's \
                 length",
                shorten(&axis.set_up),
                self.units.length(axis.straightness, Digits::Fine)?.spoken(),
                self.units.length(axis.largest_step, Digits::Fine)?.spoken(),
                self.units.length(axis.squareness.x, Digits::Fine)?.spoken(),
                self.units.length(axis.squareness.y, Digits::Fine)?.spoken(),
            );
            field(pages, "journal axis", &words);
        }
        for bank in &self.plan.banks {
            let Some(index) = job.block.banks.iter().position(|b| b.name == bank.bank) else { continue };
            let [x, y] = [
                self.units.length(bank.shift.x, Digits::Middling)?,
                self.units.length(bank.shift.y, Digits::Middling)?,
            ];
            let words = format!(
                "{}: together {} off true on the mean of all circles read, turned {}°; what is left is {} rms",
                shorten(&bank.bank),
                self.sides(index).displacement(x, y),
                Fixed::new(bank.rotation, 3)?,
                self.units.length(bank.residual_rms, Digits::Fine)?.spoken(),
            );
            field(pages, "old bores", &words);
        }
        Ok(())
    }

    fn finish_words(&self, finish: &Finish) -> Result<String, OutputError> {
        Ok(format!(
            "{} within {}; {} on diameter is left for the hone",
            self.units.length(finish.bore_mm, Digits::Fine)?.spoken(),
            self.units.length(finish.tolerance_mm, Digits::Fine)?.spoken(),
            self.units.length(finish.hone_stock_mm, Digits::Middling)?.spoken(),
        ))
    }
}

/// A label and its value; the value wraps beside it.
fn field(pages: &mut Pages, label: &str, value: &str) {
    let lines = pages.fonts.wrap(&polished(value), Weight::Plain, BODY, INNER - LABEL, 3);
    let height = lines.iter().map(|_| BODY * LEADING).sum::<f64>() + 2.0;
    pages.need(height);
    let top = pages.y;
    let at = Point::new(LEFT, top + BODY);
    pages.canvas.text(pages.fonts, at, Align::Left, (Weight::Bold, BODY), label);
    pages.lines(&lines, LEFT + LABEL, Weight::Plain, BODY);
    pages.y = top + height;
}
