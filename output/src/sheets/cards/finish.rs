//! Finish bore and hone: plate and zero first, the stones, a grid for each bore.

use borewright_planner::plan::check::{Check, Of, What};
use borewright_planner::plan::{Pass, Stage};

use super::flow::Block;
use super::grid::Gauged;
use super::leaf::{BODY, Deal, INDENT, RIGHT};
use super::order::Kind;
use super::{checks, lines};
use crate::OutputError;
use crate::paper::text::Weight;
use crate::said::short::{self, shorten};
use crate::said::sides::front_words;
use crate::said::units::Digits;
use crate::sheets::sheet::{Sheet, numbers};

impl Sheet<'_> {
    /// Deals the card of finish bore and hone.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn finish_card(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        deal.card("Finish bore and hone".to_owned(), "finish-and-hone".to_owned());
        let plated = self.planning.job.finish.plate_mm.is_some();
        let mut caution = "No plate is named in the job (finish.plate): the bore is cut on a bare deck. Zero from the mains, the deck's \
                           corners read again."
            .to_owned();
        if let Some(plate) = self.planning.job.finish.plate_mm {
            let plate = self.units.length(plate, Digits::Depth)?.spoken();
            // Below the plate no corner of the deck is reached.
            let touches =
                self.plan.checks.iter().filter(|c| c.what == What::Touch && c.stage == Stage::Finish);
            let touches: Vec<String> = touches.map(|c| c.check.to_string()).collect();
            let touches =
                if touches.is_empty() { String::new() } else { format!(" (CHECK {})", touches.join(", ")) };
            caution = format!(
                "The plate, {plate} thick, is on and tightened in the head's order and steps, before anything is zeroed. Zero from \
                 the mains, Z on top of the plate{touches}."
            );
        }
        deal.boxed(
            "Safety: spindle off before a hand or a gauge goes into the bore; iron dust and oil.",
            &caution,
            2.0,
            11.0,
        );
        self.note_time(deal, None, &[Stage::Finish, Stage::Hone]);
        self.warm(deal)?;
        self.unit_of_lists(deal);
        for bank in 0..self.planning.job.block.banks.len() {
            let name = &self.planning.job.bank(bank).name;
            let own = |stage: Stage| -> Vec<&Pass> {
                self.plan.passes.iter().filter(|p| p.bank == *name && p.stage == stage).collect()
            };
            let (bores, hones) = (own(Stage::Finish), own(Stage::Hone));
            if bores.is_empty() && hones.is_empty() {
                continue;
            }
            // With the plate below it, where one is drawn.
            let drawn = plated && self.planning.job.block.studs.iter().any(|s| s.bank == bank);
            deal.heading(&short::bank_first(name), if drawn { 200.0 } else { 120.0 });
            self.plate(deal, bank)?;
            if let Some(plate) = self.planning.job.finish.plate_mm {
                let plate = self.units.length(plate, Digits::Fine)?.spoken();
                let words = format!(
                    "Bolt the plate on: its gasket, its bolts in their order and steps; main caps torqued. Plate with gasket, tightened, \
                     above the deck: {plate}, found ____________. Another height: tell the lead before Z is set (finish.plate)."
                );
                deal.step(&words, Weight::Bold);
            }
            let set_up = self.card_number(deal.fonts, Kind::SetUp(bank));
            let as_there = set_up.map_or_else(String::new, |n| format!(" as on card {n}"));
            let load = format!(
                "Load the block: {}, {} up{as_there}; main caps torqued. Zero from the mains, never from a sleeve.",
                front_words(self.front(bank)),
                short::bank(name)
            );
            deal.step(&load, Weight::Bold);
            self.load_step(deal, name, Stage::Finish)?;
            if let Some(plate) = self.planning.job.finish.plate_mm {
                let plate = self.units.length(plate, Digits::Depth)?.spoken();
                let words = format!(
                    "Depths here are below the deck, which lies under the plate: a gauge set on the plate's top reads {plate} more."
                );
                deal.say(&words, Weight::Plain, 10.0);
            }
            let touch = |c: &&Check| c.what == What::Touch && c.bank == *name && c.stage == Stage::Finish;
            if let Some(check) = self.plan.checks.iter().find(touch) {
                let words =
                    format!("Each must read right before the finish cut. {}", self.touched(Stage::Finish));
                let touch = checks::laid(deal, self, check, &words)?;
                checks::draw(deal, touch);
            }
            self.pass_lines(deal, &bores)?;
            self.hone(deal, &hones)?;
            if let Some(check) = self.plan.checks.iter().find(|c| c.bank == *name && c.what == What::Bore) {
                self.readings_found(deal, check, Of::Off)?;
            }
        }
        let next = self.next(deal.fonts, Kind::Finish);
        let off = if plated { "plate off, " } else { "" };
        deal.stop(&format!("Done: {off}bores washed and oiled, chips out of every oil way. {next}"));
        Ok(())
    }

    /// One line a step of stones, and the grids at the end.
    fn hone(&self, deal: &mut Deal<'_>, passes: &[&Pass]) -> Result<(), OutputError> {
        let mut steps: Vec<u32> = passes.iter().map(|p| p.step).collect();
        steps.dedup();
        for step in steps {
            let own: Vec<&&Pass> = passes.iter().filter(|p| p.step == step).collect();
            let Some(first) = own.first() else { continue };
            let cylinders: Vec<u32> = own.iter().map(|p| p.cylinder).collect();
            let to = self.units.length(first.diameter, Digits::Fine)?.spoken();
            let stop = first.stop.clone().unwrap_or_default();
            let check = first.stop_number.and_then(|n| self.plan.checks.iter().find(|c| c.check == n));
            // One gauged all over has a grid of its own; the others have their words beside their boxes.
            let (boxed, gauged) =
                (check.filter(|c| c.what != What::Bore), check.filter(|c| c.what == What::Bore));
            let number = match (first.stop_number, check) {
                (Some(n), None) => format!("CHECK {n}: "),
                _ => String::new(),
            };
            // How a stone is run stands on its line, and what is then asked with its check.
            let said = match check {
                Some(_) if stop.how.is_empty() => String::new(),
                Some(_) => format!("{}.", self.units.say(&stop.how)),
                None => self.units.say(&stop.whole()),
            };
            let text = format!(
                "{number}cylinder {}: {} to Ø {to}. {}",
                numbers(&cylinders),
                // "hone" itself is the last of the stones: "hone to Ø 82.000 mm".
                shorten(&first.feature),
                short::first_large(&said)
            );
            let words = self.units.say(&stop.asks);
            let words = gauged.map_or_else(|| words.clone(), |check| checks::with_rule(self, check, &words));
            let gauged = gauged.map(|check| Gauged::laid(deal, self, check, &words)).transpose()?;
            if let Some(gauged) = &gauged {
                deal.need(deal.step_height(text.trim_end(), Weight::Plain) + gauged.room);
            }
            let boxed = boxed.map(|check| checks::laid(deal, self, check, &words)).transpose()?;
            if let Some(laid) = &boxed {
                // A stone stays with its boxes.
                let own = deal.height(&text, Weight::Plain, BODY + 0.5, RIGHT - INDENT) + 6.0;
                deal.need(own + laid.room);
            }
            deal.step(text.trim_end(), Weight::Plain);
            deal.note(Block::Why(lines::asked(first, first.cylinder)));
            if let Some(laid) = boxed {
                checks::draw(deal, laid);
            }
            if let Some(gauged) = gauged {
                let seen = seen(gauged.check);
                gauged.draw(deal);
                if let Some(seen) = seen {
                    let laid = checks::laid(deal, self, &seen, "Looked at, behind the last stone.")?;
                    checks::draw(deal, laid);
                }
            }
        }
        Ok(())
    }
}

/// What a check asks beside the boxes of its grids.
fn seen(check: &Check) -> Option<Check> {
    let mut rest = Check { what: What::Look, ..check.clone() };
    for at in &mut rest.cylinders {
        at.readings.retain(|r| r.waits && (r.depth.is_none() || r.clock.is_none()));
    }
    rest.cylinders.iter().any(|at| !at.readings.is_empty()).then_some(rest)
}
