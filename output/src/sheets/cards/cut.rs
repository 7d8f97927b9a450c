//! The cuts of a bank in one clamping: passes and their checks in the order of work.

use borewright_planner::passes::WARMER_K;
use borewright_planner::plan::check::What;
use borewright_planner::plan::sentence::mm;
use borewright_planner::plan::{Pass, Stage};
use borewright_planner::say;

use super::boxes::Asking;
use super::checks;
use super::deal::Deal;
use super::order::Kind;
use crate::OutputError;
use crate::paper::text::Weight;
use crate::said::short::{self, shorten};
use crate::said::slug::slug;
use crate::said::units::Digits;
use crate::sheets::sheet::Sheet;

impl Sheet<'_> {
    /// Deals the card of a bank's cuts.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn cut_card(&self, deal: &mut Deal<'_>, bank: usize) -> Result<(), OutputError> {
        let job = &self.planning.job;
        let name = &job.bank(bank).name;
        let here = |p: &&Pass| p.bank == *name && self.is_cut_here(p);
        let passes: Vec<&Pass> = self.plan.passes.iter().filter(here).collect();
        if passes.is_empty() {
            return Ok(());
        }
        deal.card(format!("Cut: {}", short::bank(name)), format!("cut-{}", slug(&shorten(name))));
        deal.boxed(
            "Safety: guards shut, no loose cuffs, no gloves; spindle off before a hand or a gauge goes into the bore.",
            "Iron dust: extraction or a mask. Wipe up oil and chips at once.",
            1.5,
            10.5,
        );
        self.note_time(deal, Some(name), &[Stage::Rough, Stage::Pocket]);
        self.held_here(deal, bank);
        // In the order of work, whatever the stage.
        let mut ordered = passes.clone();
        ordered.sort_by_key(|p| p.step);
        let mut stages: Vec<Stage> = Vec::new();
        for pass in ordered {
            if !stages.contains(&pass.stage) {
                stages.push(pass.stage);
            }
        }
        self.unit_of_lists(deal);
        deal.say(&self.order_told(bank, &[Stage::Rough, Stage::Pocket, Stage::Deck]), Weight::Plain, 10.0);
        if let Some(stage) = stages.first() {
            self.load_step(deal, name, *stage)?;
        }
        self.proved_step(deal, bank)?;
        let roughs: Vec<&Pass> = passes.iter().copied().filter(|p| p.stage == Stage::Rough).collect();
        self.rings(deal, bank, &roughs)?;
        let cut_mm = job.engine.deck.cut_mm;
        if cut_mm > 0.0 {
            let cut = self.units.length(cut_mm, Digits::Fine)?.spoken();
            deal.say(
                &format!("Depths are below the deck as it is, before {cut} is cut off it."),
                Weight::Plain,
                10.0,
            );
        }
        self.warm(deal)?;
        for (at, stage) in stages.iter().copied().enumerate() {
            if at > 0 {
                self.between(deal, name, stage)?;
            }
            if stage == Stage::Pocket {
                self.sleeves_asked(deal, name);
            }
            self.touch_again(deal, name, stage)?;
            let own: Vec<&Pass> = passes.iter().copied().filter(|p| p.stage == stage).collect();
            self.pass_lines(deal, &own)?;
        }
        let next = self.next(deal.fonts, Kind::Cut(bank));
        deal.stop(&format!(
            "Machine stops here. Chips and oil off the ledges before the block is moved. {next}"
        ));
        Ok(())
    }

    /// The program is proved above the work.
    fn proved_step(&self, deal: &mut Deal<'_>, bank: usize) -> Result<(), OutputError> {
        let job = &self.planning.job;
        let mut prove =
            "Prove the program above the work first, one row at a time; then with one hand on the stop."
                .to_owned();
        // Where the job says how high clamps stand the lists clear them, and the set-up's card tells of them.
        if job.set_up_of(bank).and_then(|s| s.clamps_mm).is_none() {
            let crosses = self.units.length(job.machine.clearance_mm, Digits::Depth)?.spoken();
            prove.push_str(&format!(
                " Nothing {crosses} high or more between the bores: the tool crosses there."
            ));
        }
        deal.step(&prove, Weight::Bold);
        Ok(())
    }

    /// What lies between a stage and the one before it in the same clamping.
    fn between(&self, deal: &mut Deal<'_>, bank: &str, stage: Stage) -> Result<(), OutputError> {
        if stage == Stage::Pocket {
            let apart = self.celsius_apart(WARMER_K)?;
            let cools = format!(
                "Let the block cool after roughing, until it and the machine are within {apart} of each other."
            );
            let read = ["block", "machine"].map(|of| format!("{of}\n{}", self.degrees())).to_vec();
            Asking::of(&cools, Weight::Plain, read).draw(deal);
        }
        self.load_and_prove_step(deal, bank, stage)
    }

    /// The touch check of a stage, but for the bank's first, which the set-up's card has.
    fn touch_again(&self, deal: &mut Deal<'_>, bank: &str, stage: Stage) -> Result<(), OutputError> {
        let mut touches = self.plan.checks.iter().filter(|c| c.what == What::Touch && c.bank == bank);
        let first = touches.clone().next();
        let own = touches.find(|c| c.stage == stage);
        let Some(check) = own.filter(|c| first.is_none_or(|f| f.check != c.check)) else { return Ok(()) };
        let words = format!(
            "Touch again before this list: zero may have moved with the tool. {}",
            self.touched(stage)
        );
        let touch = checks::laid(deal, self, check, &words)?;
        checks::draw(deal, touch);
        Ok(())
    }

    /// Before the job's first pocket, where nobody has measured the sleeves: each pocket is cut to the drawing's figures.
    fn sleeves_asked(&self, deal: &mut Deal<'_>, bank: &str) {
        let first = self.in_order(deal.fonts).into_iter().find(|p| p.stage == Stage::Pocket);
        let Some(first) = first.filter(|p| p.bank == bank && self.planning.job.measured.is_empty()) else {
            return;
        };
        let fitted = self.plan.cylinders.iter().find(|c| c.cylinder == first.cylinder);
        let Some(sleeve) = fitted.and_then(|c| self.sleeve(c)) else { return };
        let dry = sleeve.body.iter().filter(|step| !step.wet).map(|step| step.tolerance_mm);
        let Some(body) = dry.reduce(f64::min) else { return };
        let off = match sleeve.flange() {
            Some(flange) => say!("by over {} (flange {})", mm(body, 3), mm(flange.tolerance_mm, 3)),
            None => say!("by over {}", mm(body, 3)),
        };
        let card = self.card_number(deal.fonts, Kind::Fit);
        let there = card.map_or_else(String::new, |card| format!(" Room on card {card}."));
        let words = format!(
            "Sleeves numbered and measured?{there} Any off the drawing {}: lead, plan again (sleeves_measured).",
            self.units.say(&off)
        );
        deal.step(&words, Weight::Bold);
    }
}
