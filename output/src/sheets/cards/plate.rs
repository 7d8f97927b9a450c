//! The torque plate: its bolts in the order and the steps of tightening, as far as block and job say.

use borewright_planner::job::{Front, SheetUnits};
use kurbo::{Affine, Circle, Point, Rect, Shape as _, Vec2};

use super::area::{INNER, LEFT, RIGHT};
use super::boxes;
use super::deal::Deal;
use crate::OutputError;
use crate::drawings::PT_PER_MM;
use crate::paper::canvas::{Align, CURVE_TOLERANCE, Dash, Ink};
use crate::paper::text::Weight;
use crate::said::number::Fixed;
use crate::said::short::{self, one_line, shorten};
use crate::sheets::sheet::Sheet;

/// Tallest drawing, pt.
const TALLEST: f64 = 120.0;
/// A bolt is drawn no smaller, so that its number stands in it, pt; where the order is still to be said, so that a pencil can write it
/// there: 8 mm across.
const BOLT: f64 = 9.0;
const TO_WRITE: f64 = 11.4;
/// Steps of tightening that there is room for.
const STEPS: [&str; 5] = ["step 1", "step 2", "step 3", "step 4", "step 5"];
/// Width of a step's box, pt.
const BOX: f64 = 90.0;
/// Where there are no bolts to write in.
const LINE: &str = "______________________________";
/// Newton metres in a pound-force foot: exact by their definitions, rounded.
const NM_PER_LBF_FT: f64 = 1.355_817_948;

impl Sheet<'_> {
    /// Draws the bolts of a bank where the job has a plate; what nobody said is asked for by name.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn plate(&self, deal: &mut Deal<'_>, bank: usize) -> Result<(), OutputError> {
        let job = &self.planning.job;
        if job.finish.plate_mm.is_none() {
            return Ok(());
        }
        let said = &job.engine.tightening;
        let bolts = job.block.studs.iter().filter(|s| s.bank == bank).count();
        let ordered = bolts > 0 && said.order.len() == bolts;
        if bolts > 0 {
            self.bolts(deal, bank, ordered)?;
        } else {
            let text = "Bolts not drawn: the block's description gives none of this bank. Whoever describes the block has to say \
                        where they are (studs).";
            deal.say(text, Weight::Plain, 10.0);
        }
        if said.order.is_empty() {
            ask(deal, "Order", "order", if bolts > 0 { "write each bolt's number in it" } else { LINE });
        } else if !ordered {
            let text = format!(
                "Order not drawn: the job orders {} bolts, the block's description has {bolts} at this bank. The shop lead \
                 has to say which is right.",
                said.order.len()
            );
            deal.say(&text, Weight::Bold, 10.0);
        }
        if said.steps.is_empty() {
            ask(deal, "Steps", "steps", "torque or angle of each");
            boxes::strip(deal, &STEPS.map(str::to_owned), BOX);
        } else {
            let steps: Vec<String> = said
                .steps
                .iter()
                .zip(1_u32..)
                .map(|(step, n)| format!("{n}: {}", one_line(step, 60)))
                .collect();
            let text = format!("Steps, each over all bolts in their order: {}.", steps.join("; "));
            deal.say(&text, Weight::Bold, 11.0);
        }
        if let Some(torque) = said.torque_nm {
            let metric = format!("{} N·m", Fixed::new(torque, 0)?);
            let pounds = format!("{} lbf·ft", Fixed::new(torque / NM_PER_LBF_FT, 0)?);
            let told = match self.units.sheet {
                SheetUnits::Mm => metric,
                SheetUnits::In => pounds,
                SheetUnits::Both => format!("{metric} ({pounds})"),
            };
            deal.say(&format!("The head's torque in the job: {told}."), Weight::Plain, 10.0);
        }
        Ok(())
    }

    /// Draws the plate of a bank with its bolts at a scale that fits, numbered by the order of tightening where it is
    /// given.
    fn bolts(&self, deal: &mut Deal<'_>, bank: usize, ordered: bool) -> Result<(), OutputError> {
        let job = &self.planning.job;
        let cylinders = self.cylinders(bank);
        let studs: Vec<_> = job.block.studs.iter().filter(|s| s.bank == bank).collect();
        let extent = self.deck_extent(bank, &cylinders);
        if !(extent.width().is_finite() && extent.height().is_finite()) || extent.area() <= 0.0 {
            return Err(OutputError::Drawing);
        }
        let scale = (0.72 * INNER / extent.width()).min(TALLEST / extent.height()).min(PT_PER_MM);
        let [wide, high] = [extent.width() * scale, extent.height() * scale];
        deal.need(high + 60.0);
        let (since, above) = (deal.marks(), deal.y);
        let front = self.front(bank);
        let turn = if front == Front::Left { 1.0 } else { -1.0 };
        let centre = Point::new(LEFT + INNER / 2.0, deal.y + 16.0 + high / 2.0);
        let to_page = Affine::translate(centre.to_vec2())
            * Affine::scale_non_uniform(scale * turn, -scale * turn)
            * Affine::translate(-extent.center().to_vec2());
        let frame = Rect::from_center_size(centre, (wide, high));
        deal.canvas.frame(frame, 0.8);
        // Beside it: bolts at the edge reach beyond the frame.
        let (front_x, word_x, align) = match front {
            Front::Left => (frame.x0, frame.x0 - 16.0, Align::Right),
            Front::Right => (frame.x1, frame.x1 + 16.0, Align::Left),
        };
        deal.canvas.line(Point::new(front_x, frame.y0), Point::new(front_x, frame.y1), 4.0, Dash::Solid);
        deal.put(Point::new(word_x, centre.y + 4.0), align, Weight::Bold, 11.0, "FRONT");
        for cylinder in &cylinders {
            let at = to_page * Point::new(cylinder.true_position.x, cylinder.true_position.y);
            let bore = Circle::new(at, job.finish.bore_mm / 2.0 * scale);
            deal.canvas.circle(bore, 0.8, Dash::Dashed);
            let number = format!("cyl {}", cylinder.cylinder);
            deal.put(at + Vec2::new(0.0, 4.0), Align::Middle, Weight::Plain, 10.0, &number);
        }
        let least = if ordered { BOLT } else { TO_WRITE };
        for (stud, number) in studs.iter().zip(1_u32..) {
            let at = to_page * Point::new(stud.centre_mm[0], stud.centre_mm[1]);
            let bolt = Circle::new(at, (stud.diameter_mm / 2.0 * scale).max(least));
            deal.canvas.fill(bolt.to_path(CURVE_TOLERANCE), Ink::White);
            deal.canvas.circle(bolt, 1.4, Dash::Solid);
            let turn = job.engine.tightening.order.iter().position(|n| *n == number);
            if let Some(turn) = turn.filter(|_| ordered) {
                let text = (turn + 1).to_string();
                deal.put(at + Vec2::new(0.0, 3.8), Align::Middle, Weight::Bold, 10.5, &text);
            }
        }
        deal.y = frame.y1 + 8.0;
        let name = shorten(&job.bank(bank).name);
        let about = if ordered {
            let row: Vec<String> = job.engine.tightening.order.iter().map(u32::to_string).collect();
            format!(
                "The plate from the spindle; bolts, as the block lists them, tightened in the order {}",
                row.join(", ")
            )
        } else {
            format!("The plate from the spindle; {} bolts, their order not given", studs.len())
        };
        let area = Rect::new(LEFT, above, RIGHT, deal.y);
        // Bolts at the edge reach beyond it.
        let reach = frame.inflate(60.0, 0.0);
        deal.may_grow(since, Rect::new(reach.x0, above, reach.x1, deal.y));
        deal.picture(since, area, &format!("Torque plate of {}", short::bank(&name)), &about)?;
        let key = if ordered {
            "Numbers in the bolts: the order of tightening. Not to scale."
        } else {
            "Bolts where the block's description has its studs, room for their order in them. Not to scale."
        };
        deal.say(key, Weight::Plain, 9.5);
        Ok(())
    }
}

/// What the job does not say, by whom it is to be said, and room to write it.
fn ask(deal: &mut Deal<'_>, what: &str, key: &str, room: &str) {
    let text = format!(
        "{what}: not given. The shop lead has to say it before the plate goes on (head_bolts.{key} in the job): {room}"
    );
    deal.say(&text, Weight::Bold, 10.0);
}
