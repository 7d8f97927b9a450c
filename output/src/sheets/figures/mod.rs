//! The figures behind the cards: what holds each bore, how the sleeve fits, what else was looked at, what the cuts ask of
//! the machine, and what the readings said.
//!
//! Nothing here is needed to cut; all of it is needed to believe. A cylinder that may not be cut has its margins and its
//! readings here, never its planned centre or a size of its pocket.

mod basis;
mod candidates;
mod limits;
mod loads;
mod prior;
mod sleeve;
mod survey;

use borewright_planner::Planning;
use borewright_planner::plan::{Plan, Verdict};
use borewright_planner::report::SurveyReport;

use super::sheet::Sheet;
use crate::OutputError;
use crate::paper::about::{About, Labels};
use crate::paper::canvas::Canvas;
use crate::paper::pages::{Bookmarks, Head, Pages};
use crate::paper::pdf;
use crate::paper::text::Fonts;
use crate::said::fingerprint::{CHECK_GROUPS, grouped};
use crate::said::short::shorten;

/// What is asked of the set-up, as it is listed beside the pages.
const SET_UP: &str = "Asked of the set-up";

/// The figures as they are drawn, and what stands on which page.
#[derive(Debug)]
pub(crate) struct Figures {
    pages: Vec<Canvas>,
    bookmarks: Bookmarks,
}

impl Figures {
    /// Which page, from 1, says what the survey asks of the set-up; `None` where it asks for nothing.
    pub(crate) fn asked_on(&self) -> Option<usize> {
        self.bookmarks.iter().find(|(name, _)| name == SET_UP).map(|(_, page)| page + 1)
    }

    /// The file.
    ///
    /// # Errors
    /// Where a drawing leaves its page.
    pub(crate) fn written(self, plan: &Plan, fonts: &Fonts) -> Result<Vec<u8>, OutputError> {
        let about = About {
            title: format!("Figures, job {}", shorten(&plan.job)),
            identity: grouped(&plan.fingerprint, CHECK_GROUPS),
            bookmarks: self.bookmarks,
            labels: Labels::Plain,
        };
        pdf::write(&self.pages, fonts, &about)
    }
}

/// Lays out the figures; the survey is left out where there is none.
///
/// # Errors
/// Where a figure cannot be printed.
pub(crate) fn figures(
    planning: &Planning,
    plan: &Plan,
    report: Option<&SurveyReport>,
    fonts: &Fonts,
) -> Result<Figures, OutputError> {
    let sheet = Sheet::of(planning, plan);
    let mut pages = Pages::new(fonts);
    pages.bookmark("Limits");
    sheet.basis(&mut pages)?;
    sheet.limits(&mut pages)?;
    sheet.candidates(&mut pages)?;
    sheet.sleeve_pages(&mut pages)?;
    sheet.loads(&mut pages)?;
    sheet.prior(&mut pages)?;
    if let Some(report) = report {
        sheet.surveyed(&mut pages, report)?;
    }
    let (pages, bookmarks) = pages.finish(&sheet.figures_head());
    Ok(Figures { pages, bookmarks })
}

/// The pages as they are drawn.
#[cfg(test)]
pub(super) fn leaves(planning: &Planning, fonts: &Fonts) -> Vec<Canvas> {
    figures(planning, &planning.plan, planning.surveyed().as_ref(), fonts).unwrap().pages
}

impl Sheet<'_> {
    fn figures_head(&self) -> Head {
        let box_weight = match (self.plan.verdict, self.plan.release.is_some()) {
            (Verdict::Go, _) => 1.5,
            (Verdict::Hold, true) => 2.5,
            _ => 4.0,
        };
        Head {
            sheet: "figures",
            void: "Void once the block or the journal axis moves, or a newer plan has another fingerprint.",
            job: self.plan.job.clone(),
            block: self.planning.job.block.name.clone(),
            customer: self.planning.job.customer.clone().unwrap_or_default(),
            fingerprint: grouped(&self.plan.fingerprint, CHECK_GROUPS),
            verdict: self.plan.verdict.word().to_uppercase(),
            consequence: self.consequence().to_owned(),
            box_weight,
        }
    }
}
