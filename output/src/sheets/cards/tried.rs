//! The first millimetres of a cut, before it goes to depth: the list stops there, and the card says so before the depth.

use borewright_planner::TOUCH_DEPTH_MM;
use borewright_planner::plan::check::{Of, What};
use borewright_planner::plan::moves::MoveKind;
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::plan::{Pass, Stage};
use borewright_planner::say;

use crate::sheets::sheet::{Sheet, numbers};

/// A finishing cut takes no less a side, mm: less rubs. Common practice, no source.
const LEAST_CUT_MM: f64 = 0.05;

impl Sheet<'_> {
    /// What is cut first of a step, and where the machine then stops, as its list has it; `None` where it goes to depth at once.
    pub(super) fn tried(&self, passes: &[&Pass], step: u32) -> Option<String> {
        let tried: Vec<&&Pass> = passes.iter().filter(|p| p.step == step && self.is_tried_first(p)).collect();
        let Some(first) = tried.first() else {
            let own: Vec<&&Pass> = passes.iter().filter(|p| p.step == step).collect();
            return self.tried_smaller(own.first()?);
        };
        let number = first.stop_number;
        let check = number.map_or_else(|| "look".to_owned(), |n| format!("CHECK {n}"));
        let cylinders: Vec<u32> = tried.iter().map(|p| p.cylinder).collect();
        let deep = self.units.say(&say!("{}", mm(TOUCH_DEPTH_MM, 0)));
        Some(if first.stage == Stage::Finish {
            format!(
                "First touch: {deep} deep, stop, look whether it cuts all round, gauge its size there ({check}). To depth only when \
                 both are right; then the next bore."
            )
        } else if first.stage == Stage::Pocket {
            // A length that begins deep down is tried deep down.
            let [from, to] = [first.from, first.from + TOUCH_DEPTH_MM];
            let own =
                number.and_then(|n| self.plan.checks.iter().find(|c| c.check == n)?.at(Some(first.cylinder)));
            let depths = own.into_iter().flat_map(|at| &at.readings).filter(|r| r.of == Of::Diameter);
            let gauged = depths.filter_map(|r| r.depth).find(|depth| (from..to).contains(depth));
            let place = match gauged {
                Some(depth) => say!("at {} deep", before_mm(depth, 1)),
                None => say!("between {} and {} deep", before_mm(from, 1), before_mm(to, 1)),
            };
            format!(
                "Trial: cylinder {} only, down to {} deep, stop; gauge the size {} ({check}). To depth only when it is right. Found \
                 ____________",
                numbers(&cylinders),
                self.units.say(&say!("{}", mm(to, 1))),
                self.units.say(&place)
            )
        } else {
            format!(
                "First touch: {deep} deep, stop, {check} of that bore. To depth only when it is right; then the next bore. Both \
                 sides smaller alike: worn up there, tell the lead."
            )
        })
    }

    /// A register too short to be tried over a part of it: the first bore is cut whole with the head set smaller by half of the stock,
    /// so that the cut that is judged is as thick as the one that ends it. Its rows are the same.
    fn tried_smaller(&self, pass: &Pass) -> Option<String> {
        let check = self.plan.checks.iter().find(|c| Some(c.check) == pass.stop_number)?;
        let sizes =
            check.at(Some(pass.cylinder))?.readings.iter().filter(|r| r.of == Of::Diameter && r.waits);
        // A length in coolant locates nothing, and is gauged at one depth.
        let mut depths: Vec<f64> = sizes.filter_map(|r| r.depth).collect();
        depths.dedup();
        let is_register = pass.stage == Stage::Pocket && check.what == What::Size && depths.len() > 1;
        let half = pass.stock.min;
        if !is_register || pass.mill.is_some() || half / 2.0 < LEAST_CUT_MM {
            return None;
        }
        let words = say!(
            "Trial: cylinder {} only, the head set to Ø {}, half of the stock; to depth, gauge it (CHECK {}): found ____________. Then \
             the head wider by {} less what was found, cylinder {} again; the others when it is right.",
            pass.cylinder,
            mm(pass.diameter - half, 3),
            check.check,
            mm(pass.diameter, 3),
            pass.cylinder
        );
        Some(self.units.say(&words))
    }

    /// Whether the list stops for a look at a pass before it goes to depth.
    fn is_tried_first(&self, pass: &Pass) -> bool {
        let lists = self.planning.lists.iter().filter(|l| l.bank == pass.bank && l.stage == pass.stage);
        let own = lists
            .flat_map(|l| &l.moves)
            .filter(|m| m.pass == Some(pass.step) && m.cylinder == Some(pass.cylinder));
        let (mut lowest, mut stopped_at) = (f64::INFINITY, None);
        for row in own {
            if row.kind == MoveKind::Stop && lowest.is_finite() {
                stopped_at.get_or_insert(lowest);
            }
            lowest = lowest.min(row.z_mm.filter(|_| row.kind == MoveKind::Feed).unwrap_or(lowest));
        }
        stopped_at.is_some_and(|at| lowest < at - 1.0)
    }
}
