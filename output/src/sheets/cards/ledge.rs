//! Before a ledge is cut: where Z 0 is, what a leaning deck does to its readings, and a first cut that stops short of it.

use borewright_planner::job::Front;
use borewright_planner::plan::Pass;
use borewright_planner::plan::check::{Asked, Of};
use borewright_planner::plan::sentence::{before_mm, mm};
use borewright_planner::say;

use super::leaf::Deal;
use crate::OutputError;
use crate::paper::text::Weight;
use crate::sheets::sheet::Sheet;

/// How far short of its depth the first ledge is stopped, mm: the last cut is then as thick as one that is meant to be. Common
/// practice, no source.
const SHORT_MM: f64 = 0.1;
/// A deck that leans less than this over the flange is not told of, mm: half of what the points of a ledge may differ by. Common
/// practice, no source.
const LEANS_MM: f64 = 0.0065;

impl Sheet<'_> {
    /// What is done before the ledge of a step; nothing before any other cut.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn ledge_first(
        &self,
        deal: &mut Deal<'_>,
        passes: &[&Pass],
        step: u32,
    ) -> Result<(), OutputError> {
        let own: Vec<&&Pass> = passes.iter().filter(|p| p.step == step).collect();
        let Some((first, floor)) = own.first().and_then(|pass| Some((**pass, self.floor_of(pass)?))) else {
            return Ok(());
        };
        let what = if first.flat_end { "step" } else { "ledge" };
        let blanks: Vec<String> = own.iter().map(|pass| format!("{}:________", pass.cylinder)).collect();
        let zero = format!(
            "Set the tip to Z 0 on the deck beside each bore, before its {what}: Z {}.",
            blanks.join(", ")
        );
        let short = SHORT_MM.min(self.planning.job.allowances.pocket_mm / 2.0);
        let depth = floor.expected.unwrap_or(first.to);
        let number = first.stop_number.map_or_else(String::new, |n| format!(" (CHECK {n})"));
        let trial = say!(
            "Trial of the depth, cylinder {} only, its Z 0 set {} higher: the {} comes {} deep. Gauge it at its 4 points{}: mean found \
             ____________. Lower Z 0 by {} less that mean, cut cylinder {} again; the same correction at every bore.",
            first.cylinder,
            mm(short, 3),
            what,
            mm(depth - short, 3),
            number,
            mm(depth, 3),
            first.cylinder
        );
        let trial = self.units.say(&trial);
        let leans = self.leans(first).unwrap_or_default();
        // Read as one: a zero on one page and its trial on the next are taken for two.
        let steps = [(zero, Weight::Bold), (leans, Weight::Plain), (trial, Weight::Bold)];
        let steps: Vec<(String, Weight)> = steps.into_iter().filter(|(words, _)| !words.is_empty()).collect();
        deal.need(steps.iter().map(|(words, weight)| deal.step_height(words, *weight)).sum());
        for (words, weight) in steps {
            deal.step(&words, weight);
        }
        Ok(())
    }

    /// The depth that is gauged of a pass that ends on what a sleeve stands on.
    fn floor_of(&self, pass: &Pass) -> Option<&Asked> {
        let check = self.plan.checks.iter().find(|c| Some(c.check) == pass.stop_number)?;
        check.at(Some(pass.cylinder))?.readings.iter().find(|r| r.of == Of::Depth)
    }

    /// What each point of a ledge is expected at under a deck that leans, as it was read; the tool cuts square to itself.
    fn leans(&self, pass: &Pass) -> Option<String> {
        let fit = &self.plan.sleeves.iter().find(|s| s.chosen)?.fit;
        let own = fit.protrusion.as_ref()?.decks.iter().filter(|deck| deck.bank == pass.bank);
        let deck = own.max_by(|a, b| a.spread.total_cmp(&b.spread)).filter(|deck| deck.spread > LEANS_MM)?;
        let bank = self.bank_of(&pass.bank);
        // Both axes of the machine are turned where the front is at the right.
        let turn = if self.front(bank) == Front::Left { 0.5 } else { -0.5 };
        let [along, across] = [turn * deck.along, turn * deck.across];
        let sides = self.sides(bank);
        let points = [(0.0, along), (90.0, across), (180.0, -along), (270.0, -across)];
        let told = points.map(|(clock, higher)| {
            let depth = self.units.say(&say!("{}", before_mm(pass.to + higher, 3)));
            format!("{} {depth}", sides.clock(clock))
        });
        let over = self.units.say(&say!("{}", mm(deck.spread, 3)));
        let number = pass.stop_number.map_or_else(|| "its check".to_owned(), |n| format!("CHECK {n}"));
        Some(format!(
            "The deck leans {over} over the flange, as read: the tool cuts level, so expect {}. {number} judges the points by their own \
             window and spread: what holds for the lean alone goes to the lead.",
            told.join(", ")
        ))
    }
}
