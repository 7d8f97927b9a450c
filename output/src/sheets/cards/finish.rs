//! Finish bore and hone: plate and zero first, the stones, a grid for each bore.

use borewright_planner::plan::check::{Check, Of, What};
use borewright_planner::plan::{Pass, Stage, cylinder_words};

use super::boxes::Asking;
use super::deal::Deal;
use super::flow::Block;
use super::grid::Gauged;
use super::order::Kind;
use super::{checks, lines, looked};
use crate::OutputError;
use crate::paper::text::Weight;
use crate::said::short::{self, shorten};
use crate::said::sides::front_words;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

/// What stays with the name of a bank with a plate: bolts, who says their order and steps, how the plate goes on, pt.
const PLATED: f64 = 300.0;

impl Sheet<'_> {
    /// Deals the card of finish bore and hone.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn finish_card(&self, deal: &mut Deal<'_>) -> Result<(), OutputError> {
        deal.card("Finish bore and hone".to_owned(), "finish-and-hone".to_owned());
        deal.boxed(
            "Safety: spindle off before a hand or a gauge goes into the bore; iron dust and oil.",
            &self.zeroed_with_plate()?,
            2.0,
            11.0,
        );
        self.note_time(deal, None, &[Stage::Finish, Stage::Hone]);
        self.warm(deal)?;
        self.unit_of_lists(deal);
        let finished = |bank: &usize| {
            let name = &self.planning.job.bank(*bank).name;
            let cut = |p: &&Pass| p.bank == *name && matches!(p.stage, Stage::Finish | Stage::Hone);
            self.plan.passes.iter().any(|p| cut(&p))
        };
        let banks: Vec<usize> = (0..self.planning.job.block.banks.len()).filter(finished).collect();
        for (at, bank) in banks.iter().enumerate() {
            self.finish_bank(deal, *bank)?;
            if let Some(next) = banks.get(at + 1) {
                self.turned(deal, *next);
            }
        }
        let next = self.next(deal.fonts, Kind::Finish);
        let off = if self.planning.job.finish.plate_mm.is_some() { "plate off, " } else { "" };
        deal.stop(&format!("Done: {off}bores washed and oiled, chips out of every oil way. {next}"));
        Ok(())
    }

    /// Where the machine stops before the block is turned to its next bank.
    fn turned(&self, deal: &mut Deal<'_>, next: usize) {
        let off = if self.planning.job.finish.plate_mm.is_some() { "Plate off, chips" } else { "Chips" };
        let next = short::bank(&self.planning.job.bank(next).name);
        deal.stop(&format!(
            "Machine stops here. {off} and oil out of the bores before the block is turned. Next: {next}, on this card."
        ));
    }

    /// What is on the block, and what zero is taken from, before anything is cut.
    fn zeroed_with_plate(&self) -> Result<String, OutputError> {
        let Some(plate) = self.planning.job.finish.plate_mm else {
            return Ok(
                "No plate is named in the job (finish.plate): the bore is cut on a bare deck. Zero from the mains, the deck's \
                       corners read again."
                    .to_owned(),
            );
        };
        let plate = self.units.length(plate, Digits::Depth)?.spoken();
        // Below the plate no corner of the deck is reached.
        let touches = self.plan.checks.iter().filter(|c| c.what == What::Touch && c.stage == Stage::Finish);
        let touches: Vec<String> = touches.map(|c| c.check.to_string()).collect();
        let touches =
            if touches.is_empty() { String::new() } else { format!(" (CHECK {})", touches.join(", ")) };
        Ok(format!(
            "The plate, {plate} thick, is on and tightened in the head's order and steps, before anything is zeroed. Zero from \
             the mains, Z on top of the plate{touches}."
        ))
    }

    /// Plate, zero, finish cut and stones of a bank; nothing where it has none.
    fn finish_bank(&self, deal: &mut Deal<'_>, bank: usize) -> Result<(), OutputError> {
        let name = &self.planning.job.bank(bank).name;
        let own = |stage: Stage| -> Vec<&Pass> {
            self.plan.passes.iter().filter(|p| p.bank == *name && p.stage == stage).collect()
        };
        let (bores, hones) = (own(Stage::Finish), own(Stage::Hone));
        if bores.is_empty() && hones.is_empty() {
            return Ok(());
        }
        let plate = self.planning.job.finish.plate_mm;
        // With the plate below it, where one is drawn.
        let drawn = plate.is_some() && self.planning.job.block.studs.iter().any(|s| s.bank == bank);
        deal.heading(&short::bank_first(name), if drawn { PLATED } else { 120.0 });
        self.held_here(deal, bank);
        deal.say(&self.order_told(bank, &[Stage::Finish]), Weight::Plain, 10.0);
        self.plate(deal, bank)?;
        if let Some(plate) = plate {
            let plate = self.units.length(plate, Digits::Fine)?.spoken();
            let words = format!(
                "Bolt the plate on: its gasket, its bolts in their order and steps; main caps torqued. Plate with gasket, tightened, \
                 above the deck: {plate}. Another height: tell the lead before Z is set (finish.plate)."
            );
            Asking::of(
                &words,
                Weight::Bold,
                vec![format!("plate found{}", self.boxed_in(self.units).replace(' ', "\n"))],
            )
            .draw(deal);
        }
        let set_up = self.card_number(deal.fonts, Kind::SetUp(bank));
        let as_there = set_up.map_or_else(String::new, |n| format!(" as on card {n}"));
        let load = format!(
            "Load the block: {}, {} up{as_there}; main caps torqued. Zero from the mains, never from a sleeve.",
            front_words(self.front(bank)),
            short::bank(name)
        );
        deal.step(&load, Weight::Bold);
        self.load_and_prove_step(deal, name, Stage::Finish)?;
        if let Some(plate) = plate {
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
        Ok(())
    }

    /// The stones of a bank, in the order of their steps.
    fn hone(&self, deal: &mut Deal<'_>, passes: &[&Pass]) -> Result<(), OutputError> {
        for own in passes.chunk_by(|a, b| a.step == b.step) {
            self.stone(deal, own)?;
        }
        Ok(())
    }

    /// One line for a step of stones with its boxes, or with the grids of the bores where they are gauged all over.
    fn stone(&self, deal: &mut Deal<'_>, own: &[&Pass]) -> Result<(), OutputError> {
        let Some(first) = own.first() else { return Ok(()) };
        let stop = first.stop.clone().unwrap_or_default();
        let check = first.stop_number.and_then(|n| self.plan.checks.iter().find(|c| c.check == n));
        let text = self.stone_words(own, first, check)?;
        let words = self.units.say(&stop.asks);
        // A stone stays with what is then measured.
        let line = deal.step_height(&text, Weight::Plain);
        let told = |deal: &mut Deal<'_>| {
            deal.step(&text, Weight::Plain);
            deal.note(Block::Why(lines::asked(first, first.cylinder)));
        };
        let Some(check) = check else {
            told(deal);
            return Ok(());
        };
        if check.what != What::Bore {
            let laid = checks::laid(deal, self, check, &words)?;
            deal.need_with(line + 2.0, laid.room);
            told(deal);
            checks::draw(deal, laid);
            return Ok(());
        }
        let gauged = Gauged::laid(deal, self, check, &checks::with_rule(self, check, &words))?;
        deal.need_with(line, gauged.room);
        told(deal);
        gauged.draw(deal);
        if let Some(seen) = seen(check) {
            let cylinders: Vec<u32> = seen.cylinders.iter().filter_map(|at| at.cylinder).collect();
            let laid = checks::laid(deal, self, &seen, "Yes only where all above is ticked.")?;
            deal.need_with(looked::height(deal), laid.room);
            looked::draw(deal, &cylinders);
            checks::draw(deal, laid);
        }
        Ok(())
    }

    /// How a stone is run stands on its line, and what is then asked with its check.
    fn stone_words(&self, own: &[&Pass], first: &Pass, check: Option<&Check>) -> Result<String, OutputError> {
        let cylinders: Vec<u32> = own.iter().map(|p| p.cylinder).collect();
        let to = self.units.length(first.diameter, Digits::Fine)?.spoken();
        let stop = first.stop.clone().unwrap_or_default();
        let number = match (first.stop_number, check) {
            (Some(n), None) => format!("CHECK {n}: "),
            _ => String::new(),
        };
        let said = match check {
            Some(_) if stop.how.is_empty() => String::new(),
            Some(_) => format!("{}.", self.units.say(&stop.how)),
            None => self.units.say(&stop.whole()),
        };
        let text = format!(
            "{number}{}: {} to Ø {to}. {}",
            cylinder_words(&cylinders),
            // "hone" itself is the last of the stones: "hone to Ø 82.000 mm".
            shorten(&first.feature),
            short::first_large(&said)
        );
        Ok(text.trim_end().to_owned())
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
