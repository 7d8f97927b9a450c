//! Sheets: what is printed and worked from, the cards in order of work, the setup sheet with every figure and the survey's.
//!
//! In: a planning with its plan, or a survey report with its pictures. Out: the bytes of a PDF.
//! Each sheet is a room; each section of it a file, called in the order in which the work is done. A section puts headings,
//! tables and figures onto pages; it decides nothing, and rounds nothing by itself.

mod cards;
mod deck_view;
mod report;
mod setup;
mod survey;

pub(crate) use cards::cards;
pub(crate) use report::report_sheet;
pub(crate) use setup::setup_sheet;
pub(crate) use survey::survey_sheet;
