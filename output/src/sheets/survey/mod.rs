//! The survey's sheet, some three pages: what the readings say in words, decks and axes, free zones.

mod opening;
mod words;

use borewright_planner::job::Job;
use borewright_planner::plan::Verdict;
use borewright_planner::report::SurveyReport;

use crate::OutputError;
use crate::drawings::{self, Subject};
use crate::paper::about::{About, Labels};
use crate::paper::pages::{Head, Pages};
use crate::paper::pdf;
use crate::paper::text::Fonts;
use crate::said::fingerprint::{CHECK_GROUPS, grouped};
use crate::said::short::shorten;
use crate::said::units::Units;

/// Writes the survey's sheet: what the readings say and what is asked of the set-up, decks and axes, where each bore may go; the
/// fingerprint is that of `survey.json`.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub(crate) fn survey_sheet(
    job: &Job,
    report: &SurveyReport,
    fonts: &Fonts,
    fingerprint: &str,
) -> Result<Vec<u8>, OutputError> {
    let subject = Subject { job, report, fonts };
    let mut pages = Pages::new(fonts);
    pages.bookmark("How the bores stand");
    opening::opening(&mut pages, job, report)?;
    let units = Units::of(job.sheet_units);
    words::corrections(&mut pages, units, report);
    // A survey tells no planned centre of a bore that is not at go: none is drawn.
    let zones = drawings::zones(&subject, &|_| true)?;
    let parts = [
        ("Decks and journal axis", drawings::strips(&subject)?),
        ("Free zones", zones.into_iter().collect()),
        ("Form", drawings::forms(&subject)?),
    ];
    for (name, figures) in parts {
        for (at, figure) in figures.iter().enumerate() {
            pages.gap(8.0);
            if at == 0 {
                pages.need(drawings::height_pt(figure));
                pages.bookmark(name);
            }
            drawings::place(&mut pages, figure);
        }
    }
    words::words(&mut pages, units, report);
    let verdict = report.verdict();
    let head = Head {
        sheet: "survey",
        void: "Void once anything is read again, or a newer survey has another fingerprint.",
        job: report.job.clone(),
        block: report.block.clone(),
        customer: job.customer.clone().unwrap_or_default(),
        fingerprint: grouped(fingerprint, CHECK_GROUPS),
        // A survey clears nothing: GO in the size of a plan's state would be taken for one.
        verdict: if verdict == Verdict::Go { String::new() } else { verdict.word().to_uppercase() },
        consequence: "SURVEY ONLY".to_owned(),
        box_weight: if verdict == Verdict::Go { 1.5 } else { 4.0 },
    };
    let (pages, bookmarks) = pages.finish(&head);
    let about = About {
        title: format!("Survey, job {}", shorten(&report.job)),
        identity: grouped(fingerprint, CHECK_GROUPS),
        bookmarks,
        labels: Labels::Plain,
    };
    pdf::write(&pages, fonts, &about)
}
