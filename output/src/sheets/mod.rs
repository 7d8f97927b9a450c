//! Sheets: what is printed and worked from, the cards in order of work, the figures behind them, the survey's
//! sheet and the report that leaves with the block.
//!
//! In: a planning with its plan, or a survey report with its pictures. Out: the bytes of a PDF.
//! Each sheet is a room; each section of it a file. A section puts headings, tables and figures onto pages; it decides
//! nothing, and rounds nothing by itself.

mod cards;
mod figures;
mod measuring;
mod report;
mod sheet;
mod survey;

pub(crate) use cards::cards;
pub(crate) use figures::figures;
pub use measuring::{Measuring, measuring_sheet};
pub(crate) use report::report_sheet;
pub(crate) use sheet::Surveyed;
pub(crate) use survey::survey_sheet;
