//! The first millimetres of a cut, before it goes to depth: the list stops there, and the card says so before the depth.

use borewright_planner::TOUCH_DEPTH_MM;
use borewright_planner::passes::{TriedPart, smaller_head_mm, tried_part};
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::plan::{Pass, Stage, cylinder_words};
use borewright_planner::say;

use super::boxes::Asking;
use crate::paper::text::Weight;
use crate::sheets::sheet::Sheet;

/// A cut before the cut to depth.
pub(super) struct Tried {
    text: String,
    /// What is found there.
    boxes: Vec<String>,
}

impl Tried {
    /// As a line of the work.
    pub(super) fn asking(&self) -> Asking<'_> {
        Asking::of(&self.text, Weight::Bold, self.boxes.clone())
    }
}

impl Sheet<'_> {
    /// What is cut first of a step, and where the machine then stops, as its list has it, with a box where its size is found; `None`
    /// where it goes to depth at once.
    pub(super) fn tried(&self, passes: &[&Pass], step: u32) -> Option<Tried> {
        let tried: Vec<&&Pass> = passes.iter().filter(|p| p.step == step && self.is_tried_first(p)).collect();
        let Some(first) = tried.first() else {
            let own: Vec<&&Pass> = passes.iter().filter(|p| p.step == step).collect();
            return self.tried_smaller(own.first()?);
        };
        let number = first.stop_number;
        let named = number.map_or_else(|| "look".to_owned(), |n| format!("CHECK {n}"));
        let cylinders: Vec<u32> = tried.iter().map(|p| p.cylinder).collect();
        let deep = self.machine.say(&say!("{}", mm(TOUCH_DEPTH_MM, 0)));
        let gauged = first.stage == Stage::Pocket;
        let text = if first.stage == Stage::Finish {
            format!(
                "First touch: {deep} deep, stop, look whether it cuts all round, gauge its size there ({named}). To depth only when \
                 both are right; then the next bore."
            )
        } else if first.stage == Stage::Pocket {
            let check = self.plan.checks.iter().find(|c| Some(c.check) == number);
            let TriedPart { from_mm, to_mm, gauged_mm } = tried_part(first, check);
            let place = match gauged_mm {
                Some(depth) => say!("at {} deep", before_mm(depth, 1)),
                None => say!("between {} and {} deep", before_mm(from_mm, 1), before_mm(to_mm, 1)),
            };
            format!(
                "Trial: {} only, down to {} deep, stop; gauge the size {} ({named}). To depth only when it is right.",
                cylinder_words(&cylinders),
                self.machine.say(&say!("{}", mm(to_mm, 1))),
                self.units.say(&place)
            )
        } else {
            format!(
                "First touch: {deep} deep, stop, {named} of that bore. To depth only when it is right; then the next bore. Both \
                 sides smaller alike: worn up there, tell the lead."
            )
        };
        Some(Tried { text, boxes: if gauged { self.found_box() } else { Vec::new() } })
    }

    /// A box for a size found.
    fn found_box(&self) -> Vec<String> {
        vec![format!("found{}", self.boxed_in(self.units))]
    }

    /// A register that is tried with the head set smaller.
    fn tried_smaller(&self, pass: &Pass) -> Option<Tried> {
        let check = self.plan.checks.iter().find(|c| Some(c.check) == pass.stop_number)?;
        let set_mm = smaller_head_mm(pass, check)?;
        let words = say!(
            "Trial: cylinder {} only, the head set to Ø {}, half of the stock; to depth, gauge it (CHECK {}). Then \
             the head wider by {} less what was found, cylinder {} again{}; the others when it is right.",
            pass.cylinder,
            mm(set_mm, 3),
            check.check,
            mm(pass.diameter, 3),
            pass.cylinder,
            self.again_from(pass)
        );
        Some(Tried { text: self.units.say(&words), boxes: self.found_box() })
    }

    /// Whether the list stops for a look at a pass before it goes to depth.
    fn is_tried_first(&self, pass: &Pass) -> bool {
        let mut lists = self.planning.lists.iter().filter(|l| l.bank == pass.bank && l.stage == pass.stage);
        lists.any(|list| list.is_tried_first(pass.step, pass.cylinder))
    }
}
