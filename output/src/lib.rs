//! Plan to sheets, coordinate lists and JSON. Bytes out, no deciding.
//!
//! [`bundle`] takes a finished [`Planning`](borewright_planner::Planning) and hands back every file as
//! bytes; nothing here touches a disk, a clock or a random number, so that equal plans give equal files.

mod bundle;
mod drawings;
mod error;
mod json;
mod lists;
mod paper;
mod said;
mod sheets;
#[cfg(test)]
mod testing;
#[cfg(test)]
mod tests;
mod text;

pub use bundle::{Artifact, Bundle, bundle, report_bundle, survey_bundle, trend_bundle};
pub use error::OutputError;
pub use json::{
    answered_json, explained_json, figures_json, happened_json, page_json, plan_json, proof_json,
    report_json, shop_json, survey_json, trend_json, unasked_json, verified_json,
};
pub use said::number::NotPrintable;
pub use said::record::{Answered, Happened, Onward, Where};
pub use sheets::{Measuring, measuring_sheet};
pub use text::{
    Terminal, answered_page, box_words, change_card, changes, check_page, explain_page, happened_page,
    head_question, place_words, prior_section, proof_page, question, report_page, sentence_words, shop_page,
    stale, stays_page, summary, survey_page, told_lines, trend_page, unasked_page, unheard_words,
    verified_page, wrapped,
};

/// Reads the faces that all sheets are set in, once: a program that is about to write sheets has it done beside what comes first.
/// What goes wrong is told by the first sheet.
pub fn read_faces() {
    drop(paper::text::Fonts::load());
}
