//! The report's sheet: a page for the customer, the pictures, then every figure for the file.

mod first;
mod rest;
mod tables;

use borewright_planner::as_left::AsLeft;
use borewright_planner::job::Job;
use borewright_planner::plan::Verdict;
use kurbo::Point;

use crate::OutputError;
use crate::drawings::{self, Picture};
use crate::paper::about::{About, Labels};
use crate::paper::pages::{Head, INNER, LEFT, Pages};
use crate::paper::pdf;
use crate::paper::text::Fonts;
use crate::said::as_left::in_words;
use crate::said::fingerprint::{CHECK_GROUPS, grouped};
use crate::said::short::shorten;
use crate::said::units::Units;

/// Writes the report's sheet; the fingerprint is that of the plan that was worked by.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub(crate) fn report_sheet(
    job: &Job,
    left: &AsLeft,
    pictures: &[Picture],
    fonts: &Fonts,
) -> Result<Vec<u8>, OutputError> {
    let units = Units::of(job.sheet_units);
    let mut pages = Pages::new(fonts);
    pages.bookmark("For the customer");
    first::page(&mut pages, units, left)?;
    pages.turn();
    pages.bookmark("Every figure");
    for picture in pictures {
        pages.gap(10.0);
        pages.need(drawings::height_pt(&picture.figure));
        let indent = LEFT + (INNER - drawings::width_pt(&picture.figure)) / 2.0;
        drawings::draw(&mut pages.canvas, fonts, &picture.figure, Point::new(indent, pages.y));
        pages.y += drawings::height_pt(&picture.figure);
    }
    rest::open(&mut pages, units, left);
    tables::bores(&mut pages, units, left)?;
    tables::sizes(&mut pages, units, left)?;
    rest::not_measured(&mut pages, left);
    rest::plate(&mut pages, units, left);
    rest::happened(&mut pages, units, left);
    tables::readings(&mut pages, units, left)?;
    let head = Head {
        sheet: "report",
        void: "The job as it left. A later report of this job takes its place.",
        job: left.job.clone(),
        block: left.block.clone(),
        customer: left.customer.clone().unwrap_or_default(),
        fingerprint: grouped(&left.fingerprint, CHECK_GROUPS),
        verdict: "REPORT".to_owned(),
        consequence: in_words(left.verdict).to_uppercase(),
        box_weight: if left.verdict == Verdict::Go { 1.5 } else { 4.0 },
    };
    let (pages, bookmarks) = pages.finish(&head);
    let about = About {
        title: format!("Report, job {}", shorten(&left.job)),
        identity: grouped(&left.fingerprint, CHECK_GROUPS),
        bookmarks,
        labels: Labels::Plain,
    };
    pdf::write(&pages, fonts, &about)
}
