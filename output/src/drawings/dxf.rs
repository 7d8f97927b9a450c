//! Each bank's deck as DXF, the open exchange form of drawing programs, in the oldest text variant that all read (R12).
//!
//! Millimetres, bank coordinates: x rearwards from the along datum, y across; seen from outside the deck. Nothing but
//! lines, circles and texts, each on a layer named for what it is.

use std::fmt::Write;

use borewright_planner::Planning;
use borewright_planner::plan::Plan;

use crate::OutputError;
use crate::said::number::Fixed;

/// Height of a text, mm.
const TEXT_MM: f64 = 6.0;
/// Half a centre cross, mm.
const CROSS_MM: f64 = 4.0;
/// Longest text.
const LONGEST: usize = 40;

/// Entities being written.
#[derive(Debug, Default)]
struct Drawing {
    text: String,
}

impl Drawing {
    fn pair(&mut self, code: u32, value: &str) {
        let _ = writeln!(self.text, "{code:>3}\n{value}");
    }

    fn number(&mut self, code: u32, value: f64) -> Result<(), OutputError> {
        let digits = Fixed::new(value, 3)?.to_string();
        self.pair(code, &digits);
        Ok(())
    }

    fn entity(&mut self, kind: &str, layer: &str) {
        self.pair(0, kind);
        self.pair(8, layer);
    }

    fn circle(&mut self, layer: &str, [x, y]: [f64; 2], radius: f64) -> Result<(), OutputError> {
        self.entity("CIRCLE", layer);
        self.number(10, x)?;
        self.number(20, y)?;
        self.number(40, radius)
    }

    fn line(&mut self, layer: &str, from: [f64; 2], to: [f64; 2]) -> Result<(), OutputError> {
        self.entity("LINE", layer);
        for (code, value) in [(10, from[0]), (20, from[1]), (11, to[0]), (21, to[1])] {
            self.number(code, value)?;
        }
        Ok(())
    }

    fn cross(&mut self, layer: &str, [x, y]: [f64; 2]) -> Result<(), OutputError> {
        self.line(layer, [x - CROSS_MM, y], [x + CROSS_MM, y])?;
        self.line(layer, [x, y - CROSS_MM], [x, y + CROSS_MM])
    }

    fn words(&mut self, layer: &str, [x, y]: [f64; 2], words: &str) -> Result<(), OutputError> {
        self.entity("TEXT", layer);
        self.number(10, x)?;
        self.number(20, y)?;
        self.number(40, TEXT_MM)?;
        self.pair(1, &harmless(words));
        Ok(())
    }
}

/// Letters, digits and the plainest signs: what is left of a text cannot be a code of the format or a control of its
/// readers.
fn harmless(text: &str) -> String {
    let kept = |c: char| if c.is_ascii_alphanumeric() || " .,:()-+/".contains(c) { c } else { ' ' };
    let text: String = text.chars().take(LONGEST).map(kept).collect();
    text.trim().to_owned()
}

/// One bank's deck: the old bores, the planned pockets and bores, studs, coolant holes and the fire ring.
///
/// # Errors
/// A figure that cannot be printed.
pub(crate) fn deck(planning: &Planning, plan: &Plan, bank: usize) -> Result<Vec<u8>, OutputError> {
    let job = &planning.job;
    let layout = job.bank(bank);
    let mut drawing = Drawing::default();
    drawing.pair(0, "SECTION");
    drawing.pair(2, "ENTITIES");
    let mut lowest = f64::INFINITY;
    for site in &layout.sites {
        let truly = [site.x_mm, layout.axis_offset_mm];
        drawing.cross("TRUE_POSITION", truly)?;
        lowest = lowest.min(truly[1]);
        let Some(cylinder) = plan.cylinders.iter().find(|c| c.cylinder == site.cylinder) else { continue };
        let planned = [cylinder.planned.x, cylinder.planned.y];
        let m = &cylinder.measured;
        drawing.circle("OLD_BORE", [m.x, m.y], m.diameter / 2.0)?;
        drawing.cross("PLANNED", planned)?;
        drawing.circle("FINISHED_BORE", planned, job.finish.bore_mm / 2.0)?;
        if let Some(sleeve) = job.sleeves.iter().find(|s| s.name == cylinder.sleeve) {
            let pocket = borewright_planner::job::pocket::Pocket::of(sleeve, job.engine.deck.cut_mm);
            drawing.circle("FLANGE_RECESS", planned, pocket.flange.radius_mm)?;
            for step in &pocket.steps {
                drawing.circle("POCKET", planned, step.radius_mm)?;
            }
        }
        if let Some(ring) = job.block.fire_ring {
            let shift = job.gasket_shift_mm[bank];
            let at = [truly[0] + shift[0], truly[1] + shift[1]];
            drawing.circle("FIRE_RING", at, ring.inside_mm / 2.0)?;
            drawing.circle("FIRE_RING", at, ring.outside_mm / 2.0)?;
        }
        let number = site.cylinder.to_string();
        drawing.words("NUMBER", [planned[0] - TEXT_MM / 2.0, planned[1] + TEXT_MM], &number)?;
    }
    for stud in job.block.studs.iter().filter(|s| s.bank == bank) {
        drawing.circle("STUD", stud.centre_mm, stud.diameter_mm / 2.0)?;
        lowest = lowest.min(stud.centre_mm[1]);
    }
    for hole in job.block.coolant_holes.iter().filter(|h| h.bank == bank) {
        let [from, to] = [hole.start_mm, hole.end_mm].map(|[x, y, _]| [x, y]);
        drawing.line("COOLANT_HOLE", from, to)?;
        drawing.circle("COOLANT_HOLE", from, hole.diameter_mm / 2.0)?;
    }
    // The journal axis seen from the deck, and what the sheet says of itself.
    if let [first, .., last] = layout.sites.as_slice() {
        drawing.line("JOURNAL_AXIS", [first.x_mm - 60.0, 0.0], [last.x_mm + 60.0, 0.0])?;
    }
    let foot = if lowest.is_finite() { lowest - 80.0 } else { -80.0 };
    let said = [
        format!("JOB {}  BANK {}  VERDICT {}", plan.job, layout.name, plan.verdict.word()),
        format!("FINGERPRINT {}", plan.fingerprint.chars().take(12).collect::<String>()),
        "MM, X REARWARDS, SEEN FROM OUTSIDE THE DECK".to_owned(),
    ];
    let mut y = foot;
    for words in said {
        drawing.words("TITLE", [0.0, y], &words)?;
        y -= 2.0 * TEXT_MM;
    }
    drawing.pair(0, "ENDSEC");
    drawing.pair(0, "EOF");
    Ok(drawing.text.into_bytes())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn text_of_a_job_can_be_no_code_of_the_format() {
        assert_eq!(harmless("%%c 12\n  0\nEOF\u{7}^J"), "c 12   0 EOF  J");
        assert_eq!(harmless("ŗ \\P{x}"), "P x");
        assert!(harmless(&"x".repeat(400)).len() <= LONGEST);
    }
}
