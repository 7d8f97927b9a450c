//! The setup sheet: everything a machinist needs beside the machine, in the order it is needed.

mod closing;
mod limits;
mod opening;
mod passes;
mod positions;
mod sleeve;
mod stops;

use borewright_planner::Planning;
use borewright_planner::job::{Front, Sleeve};
use borewright_planner::plan::{Cylinder, Plan, Verdict};

use crate::OutputError;
use crate::paper::pages::{Head, Pages};
use crate::paper::pdf;
use crate::paper::text::Fonts;
use crate::said::fingerprint::grouped;
use crate::said::short::shorten;
use crate::said::sides::Sides;
use crate::said::units::Units;

/// Groups of the fingerprint shown on paper, as many as the commands print: enough that two sheets of a
/// shop never share them.
pub(in crate::sheets) const CHECK_GROUPS: usize = 3;
/// What a sheet is made from.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Sheet<'a> {
    /// The job, the moves, the placements.
    pub(crate) planning: &'a Planning,
    /// The plan with its lists.
    pub(crate) plan: &'a Plan,
    /// Units to print in.
    pub(crate) units: Units,
}

/// Writes the setup sheet.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub(crate) fn setup_sheet(planning: &Planning, plan: &Plan, fonts: &Fonts) -> Result<Vec<u8>, OutputError> {
    let sheet = Sheet { planning, plan, units: Units(planning.job.sheet_units) };
    let mut pages = Pages::new(fonts);
    sheet.opening(&mut pages)?;
    for bank in 0..planning.job.block.banks.len() {
        pages.turn();
        sheet.positions(&mut pages, bank)?;
    }
    sheet.list_table(&mut pages)?;
    sheet.half_section(&mut pages)?;
    sheet.own_pockets(&mut pages)?;
    for bank in 0..planning.job.block.banks.len() {
        sheet.passes(&mut pages, bank)?;
    }
    sheet.sleeve_pages(&mut pages)?;
    sheet.stops(&mut pages);
    sheet.limits(&mut pages)?;
    sheet.closing(&mut pages);
    let pages = pages.finish(&sheet.head());
    let title = format!("Setup sheet, job {}", shorten(&plan.job));
    pdf::write(&pages, fonts, &title, &grouped(&plan.fingerprint, CHECK_GROUPS))
}

impl Sheet<'_> {
    /// What every page says at its head.
    fn head(&self) -> Head {
        let (consequence, box_weight) = match (self.plan.verdict, self.not_for_cutting()) {
            (Verdict::Go, _) => ("", 1.5),
            (Verdict::Hold, false) if self.plan.release.is_some() => ("RELEASED", 2.5),
            (_, false) => ("NOT ALL CYLINDERS", 4.0),
            (_, true) => ("NOT FOR CUTTING", 4.0),
        };
        Head {
            sheet: "setup sheet",
            void: "Void once the block or the journal axis moves, or a newer sheet has another fingerprint.",
            job: self.plan.job.clone(),
            block: self.planning.job.block.name.clone(),
            customer: self.planning.job.customer.clone().unwrap_or_default(),
            fingerprint: grouped(&self.plan.fingerprint, CHECK_GROUPS),
            verdict: self.plan.verdict.word().to_uppercase(),
            consequence: consequence.to_owned(),
            box_weight,
        }
    }

    /// Whether no coordinate list was written at all, for a reason a machinist must see.
    pub(crate) fn not_for_cutting(&self) -> bool {
        self.plan.verdict != Verdict::Go && self.plan.lists.is_empty()
    }

    /// A bank's words.
    pub(crate) fn sides(&self, bank: usize) -> Sides {
        Sides::of(&self.planning.job.block, bank)
    }

    /// Which way round the block stands for a bank; the front is at the left where no set-up says.
    pub(crate) fn front(&self, bank: usize) -> Front {
        self.planning.job.set_up_of(bank).map_or(Front::Left, |set_up| set_up.front)
    }

    /// A bank's cylinders, front to rear.
    pub(crate) fn cylinders(&self, bank: usize) -> Vec<&Cylinder> {
        let sites = &self.planning.job.bank(bank).sites;
        sites.iter().filter_map(|s| self.plan.cylinders.iter().find(|c| c.cylinder == s.cylinder)).collect()
    }

    /// The sleeve of a cylinder.
    pub(crate) fn sleeve(&self, cylinder: &Cylinder) -> Option<&Sleeve> {
        self.planning.job.sleeves.iter().find(|sleeve| sleeve.name == cylinder.sleeve)
    }

    /// A heading word for a bank: none is needed where there is only one.
    pub(crate) fn bank_title(&self, bank: usize) -> String {
        format!("Bank {}", shorten(&self.planning.job.bank(bank).name))
    }
}

/// Cylinder numbers in a row.
pub(crate) fn numbers(cylinders: &[u32]) -> String {
    let words: Vec<String> = cylinders.iter().map(u32::to_string).collect();
    words.join(" ")
}
