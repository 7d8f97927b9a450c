//! Before a ledge is cut: where Z 0 is, what a leaning deck does to its readings, and a first cut that stops short of it.

use borewright_planner::job::SheetUnits;
use borewright_planner::passes::{leaning_ledge, short_ledge};
use borewright_planner::plan::ListUnits;
use borewright_planner::plan::Pass;
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::say;

use super::boxes::Asking;
use super::deal::Deal;
use crate::OutputError;
use crate::paper::text::Weight;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// What is done before the ledge of a step, on the page of the cut where that needs `following` (pt) more; nothing before any other
    /// cut.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn ledge_first(
        &self,
        deal: &mut Deal<'_>,
        passes: &[&Pass],
        (step, following): (u32, f64),
    ) -> Result<(), OutputError> {
        let own: Vec<&&Pass> = passes.iter().filter(|p| p.step == step).collect();
        let Some(first) = own.first().map(|pass| **pass) else { return Ok(()) };
        let check = self.plan.checks.iter().find(|c| Some(c.check) == first.stop_number);
        let Some(short) = short_ledge(&self.planning.job, first, check) else { return Ok(()) };
        let what = if first.flat_end { "step" } else { "ledge" };
        let beside: Vec<String> = own
            .iter()
            .map(|pass| format!("cyl {}, Z{}", pass.cylinder, self.boxed_in(self.machine)))
            .collect();
        let zero = format!("Set the tip to Z 0 on the deck beside each bore, before its {what}.");
        let number = first.stop_number.map_or_else(String::new, |n| format!(" (CHECK {n})"));
        // Z 0 is keyed, the depth is gauged.
        let higher = self.machine.say(&say!("{}", mm(short.higher_mm, 3)));
        let deep = self.units.say(&say!("{}", mm(short.first_mm, 3)));
        let trial = format!(
            "Trial of the depth, cylinder {n} only, its Z 0 set {higher} higher: the {what} comes {deep} deep. Gauge it at its 4 \
             points{number}: mean found, less {deep}: error{} (minus: too shallow). Cylinder {n}: lower Z 0 by \
             {higher} less the error, cut it again{}. Every other bore, not raised: Z 0 higher by the error (minus: lower).",
            self.as_keyed(),
            self.again_from(first),
            n = first.cylinder,
        );
        let leans = self.leans(first).unwrap_or_default();
        // Read as one: a zero on one page and its trial on the next are taken for two.
        let found = self.found_and_keyed();
        let steps =
            [(zero, Weight::Bold, beside), (leans, Weight::Plain, Vec::new()), (trial, Weight::Bold, found)];
        let steps: Vec<Asking<'_>> = steps
            .iter()
            .filter(|(words, ..)| !words.is_empty())
            .map(|(words, weight, boxes)| Asking::of(words, *weight, boxes.clone()))
            .collect();
        let high: f64 = steps.iter().map(|step| step.height(deal)).sum();
        deal.need_with(high, following);
        for step in steps {
            step.draw(deal);
        }
        Ok(())
    }

    /// How what was gauged comes to the unit in which it is keyed, where that is another.
    fn as_keyed(&self) -> &'static str {
        match (self.units.sheet, self.planning.job.machine.list_units) {
            (SheetUnits::In, ListUnits::Mm) => ", inches × 25.4 = mm to key",
            (SheetUnits::Mm | SheetUnits::Both, ListUnits::In(_)) => ", mm / 25.4 = inches to key",
            // A gauge may be in either.
            (SheetUnits::Both, ListUnits::Mm) => ", in mm to key (inches × 25.4)",
            (SheetUnits::Mm, ListUnits::Mm) | (SheetUnits::In, ListUnits::In(_)) => "",
        }
    }

    /// Boxes for what a trial comes to, in the unit of the gauge and in that of the machine.
    fn found_and_keyed(&self) -> Vec<String> {
        let boxes: &[&str] = match (self.units.sheet, self.planning.job.machine.list_units) {
            (SheetUnits::In, ListUnits::Mm) => &["mean found,\nin", "error,\nin", "to key,\nmm"],
            (SheetUnits::Mm | SheetUnits::Both, ListUnits::In(_)) => {
                &["mean found,\nmm", "error,\nmm", "to key,\nin"]
            }
            (SheetUnits::Both, ListUnits::Mm) => &["mean found,\nmm", "error,\nmm"],
            (SheetUnits::Mm, ListUnits::Mm) | (SheetUnits::In, ListUnits::In(_)) => &["mean found", "error"],
        };
        boxes.iter().map(|&word| word.to_owned()).collect()
    }

    /// What each point of a ledge is expected at under a deck that leans, as it was read; the tool cuts square to itself.
    fn leans(&self, pass: &Pass) -> Option<String> {
        let fit = &self.plan.sleeves.iter().find(|s| s.chosen)?.fit;
        let leaning = leaning_ledge(&self.planning.job, fit, pass)?;
        let sides = self.sides(self.bank_of(&pass.bank));
        let told = leaning.points.map(|(depth, clock)| {
            let depth = self.units.say(&say!("{}", before_mm(depth, 3)));
            format!("{} {depth}", sides.clock(clock))
        });
        let over = self.units.say(&say!("{}", mm(leaning.over_mm, 3)));
        let number = pass.stop_number.map_or_else(|| "its check".to_owned(), |n| format!("CHECK {n}"));
        Some(format!(
            "The deck leans {over} over the flange, as read: the tool cuts level, so expect {}. {number} judges the points by their own \
             window and spread: what holds for the lean alone goes to the lead.",
            told.join(", ")
        ))
    }
}
