//! Which cards a plan has, in the order of work, and how one leads to the next.

use borewright_planner::plan::{Pass, Stage, cylinder_words};

use crate::drawings::HalfSection;
use crate::paper::text::Fonts;
use crate::said::short;
use crate::sheets::sheet::{Sheet, numbers};

/// A card.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Kind {
    /// What the lead signs.
    Decide,
    /// The set-up of a bank.
    SetUp(usize),
    /// The cuts of a bank.
    Cut(usize),
    /// Sizes and depths: looked at, not worked through.
    Pocket,
    /// The sleeves.
    Fit,
    /// Bores and stones.
    Finish,
}

impl Sheet<'_> {
    /// The cards in their order.
    pub(super) fn order_of_cards(&self, fonts: &Fonts) -> Vec<Kind> {
        let plan = self.plan;
        let mut cards = vec![Kind::Decide];
        if !plan.cylinders.iter().any(|c| !c.withheld) || plan.passes.is_empty() {
            return cards;
        }
        for (bank, named) in self.planning.job.block.banks.iter().enumerate() {
            let own: Vec<&Pass> = plan.passes.iter().filter(|p| p.bank == named.name).collect();
            cards.extend((!own.is_empty()).then_some(Kind::SetUp(bank)));
            cards.extend(own.iter().any(|p| self.is_cut_here(p)).then_some(Kind::Cut(bank)));
        }
        cards.extend(HalfSection::of(&self.planning.job, plan, fonts).map(|_| Kind::Pocket));
        let has = |stages: &[Stage]| plan.passes.iter().any(|p| stages.contains(&p.stage));
        cards.extend(has(&[Stage::Fit]).then_some(Kind::Fit));
        cards.extend(has(&[Stage::Finish, Stage::Hone]).then_some(Kind::Finish));
        cards
    }

    /// The passes as the cards have them one behind the other: a bank is cut in one clamping, whatever the steps' numbers.
    pub(super) fn in_order(&self, fonts: &Fonts) -> Vec<&Pass> {
        let mut ordered = Vec::new();
        for kind in self.order_of_cards(fonts) {
            let mut own: Vec<&Pass> = self.plan.passes.iter().filter(|p| self.is_on(p, kind)).collect();
            let last = |p: &Pass| (kind == Kind::Finish).then(|| self.bank_of(&p.bank));
            own.sort_by_key(|p| (last(p), p.step));
            ordered.extend(own);
        }
        ordered
    }

    /// Whether a pass stands on a card as a line of the work.
    fn is_on(&self, pass: &Pass, kind: Kind) -> bool {
        match kind {
            Kind::Decide | Kind::SetUp(_) | Kind::Pocket => false,
            Kind::Cut(bank) => self.bank_of(&pass.bank) == bank && self.is_cut_here(pass),
            Kind::Fit => self.is_fitted(pass),
            Kind::Finish => matches!(pass.stage, Stage::Finish | Stage::Hone),
        }
    }

    /// Whether a pass is made before the sleeves go in, in the clamping of its bank.
    pub(super) fn is_cut_here(&self, pass: &Pass) -> bool {
        match pass.stage {
            Stage::Rough | Stage::Pocket => true,
            Stage::Deck => !self.planning.job.engine.deck.after_fit && !pass.is_sleeves_flush(),
            Stage::Fit | Stage::Finish | Stage::Hone => false,
        }
    }

    /// Whether a stage is done with the sleeves going in, or over all of them once they are in.
    pub(super) fn is_fitted(&self, pass: &Pass) -> bool {
        pass.stage == Stage::Fit || (pass.stage == Stage::Deck && !self.is_cut_here(pass))
    }

    /// In which order the cylinders of a bank stand on a card, and which of its lists cut in another.
    pub(super) fn order_told(&self, bank: usize, stages: &[Stage]) -> String {
        let own: Vec<u32> =
            self.cylinders(bank).into_iter().filter(|c| !c.withheld).map(|c| c.cylinder).collect();
        let mut told = format!("Cylinders front to rear: {}.", numbers(&own));
        let name = &self.planning.job.bank(bank).name;
        let lists = self.planning.lists.iter();
        for list in lists.filter(|list| list.bank == *name && stages.contains(&list.stage)) {
            let in_order: Vec<u32> = own.iter().copied().filter(|n| list.cylinders.contains(n)).collect();
            if list.cylinders != in_order {
                told.push_str(&format!(
                    " List {} cuts {}: its lines and checks stand in that order.",
                    list.number,
                    numbers(&list.cylinders)
                ));
            }
        }
        told
    }

    /// A card by number and name.
    pub(super) fn card_number(&self, fonts: &Fonts, kind: Kind) -> Option<usize> {
        self.order_of_cards(fonts).iter().position(|k| *k == kind).map(|at| at + 1)
    }

    /// Where the work goes on after a card: "Next: card 4, set-up of bank right." A block with bores that are held goes to the lead
    /// before sleeves or stones come near it.
    pub(super) fn next(&self, fonts: &Fonts, kind: Kind) -> String {
        let cards = self.order_of_cards(fonts);
        let after = cards.iter().zip(1_u32..).skip_while(|(k, _)| **k != kind).skip(1);
        let mut worked = after.filter(|(k, _)| **k != Kind::Pocket);
        let Some((next, number)) = worked.next() else { return "Then sign card 1.".to_owned() };
        let bank = |at: usize| short::bank(&self.planning.job.bank(at).name);
        let name = match next {
            Kind::Decide => "decide".to_owned(),
            Kind::SetUp(at) => format!("set-up of {}", bank(*at)),
            Kind::Cut(at) => format!("cuts of {}", bank(*at)),
            Kind::Pocket => "pocket".to_owned(),
            Kind::Fit => "fit the sleeves".to_owned(),
            Kind::Finish => "finish bore and hone".to_owned(),
        };
        let held = self.held();
        let is_past_cuts = matches!(next, Kind::Fit | Kind::Finish);
        if is_past_cuts && kind != Kind::Fit && !held.is_empty() {
            return format!(
                "Stop here. Next: the shop lead. Held: {}; card {number}, {name}, only when they are cut.",
                cylinder_words(&held)
            );
        }
        format!("Next: card {number}, {name}.")
    }
}
