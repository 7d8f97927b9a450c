//! The survey's sheet: what the readings say in words, and the pictures.

mod opening;
mod words;

use borewright_planner::job::Job;
use borewright_planner::plan::Verdict;
use borewright_planner::report::SurveyReport;
use kurbo::Point;

use crate::OutputError;
use crate::drawings::{self, Picture};
use crate::paper::pages::{Head, INNER, LEFT, Pages};
use crate::paper::pdf::{self, About, Labels};
use crate::paper::text::Fonts;
use crate::said::fingerprint::grouped;
use crate::said::short::shorten;

/// Groups of the fingerprint on paper, as on the cards.
const CHECK_GROUPS: usize = 3;

/// Writes the survey's sheet with its pictures; the fingerprint is that of `survey.json`.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub(crate) fn survey_sheet(
    job: &Job,
    report: &SurveyReport,
    pictures: &[Picture],
    fonts: &Fonts,
    fingerprint: &str,
) -> Result<Vec<u8>, OutputError> {
    let mut pages = Pages::new(fonts);
    pages.bookmark("How the bores stand");
    opening::opening(&mut pages, job, report)?;
    if !pictures.is_empty() {
        pages.turn();
        pages.bookmark("Pictures");
    }
    for picture in pictures {
        let height = drawings::height_pt(&picture.figure);
        pages.gap(10.0);
        pages.need(height);
        // The margins of a page and a picture's width differ by a hair; the picture stands in the middle.
        let left = LEFT + (INNER - drawings::width_pt(&picture.figure)) / 2.0;
        drawings::draw(&mut pages.canvas, fonts, &picture.figure, Point::new(left, pages.y));
        pages.y += height;
    }
    words::words(&mut pages, crate::said::units::Units(job.sheet_units), report);
    let verdict = report.verdict();
    let head = Head {
        sheet: "survey",
        void: "Void once anything is read again, or a newer survey has another fingerprint.",
        job: report.job.clone(),
        block: report.block.clone(),
        customer: job.customer.clone().unwrap_or_default(),
        fingerprint: grouped(fingerprint, CHECK_GROUPS),
        verdict: verdict.word().to_uppercase(),
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
