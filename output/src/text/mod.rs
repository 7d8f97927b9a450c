//! What the commands print for people: 60 to 120 columns, no colour, nothing that is not in the plan.
//!
//! In: a plan, a survey report, a proof. Out: the text of one page for a terminal.
//! Each page is a file; what they share, wrapping and the mark of a verdict, stands here.

mod change_card;
mod changes;
mod check;
mod explained;
mod prior;
mod proof;
mod record;
mod report;
mod shop;
mod summary;
mod survey;
mod table;
mod terminal;
mod trend;
mod verified;

pub use change_card::change_card;
pub use changes::{changes, stale};
pub use check::check_page;
pub use explained::{explain_page, unasked_page};
pub use prior::prior_section;
pub use proof::proof_page;
pub use record::{
    answered_page, box_words, happened_page, head_question, place_words, question, sentence_words,
    stays_page, told_lines, unheard_words,
};
pub use report::report_page;
pub use shop::shop_page;
pub use summary::summary;
pub use survey::survey_page;
pub use terminal::Terminal;
pub use trend::trend_page;
pub use verified::verified_page;

use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;

use terminal::COLUMNS;

/// A verdict that stands out without colour.
fn mark(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Go => "go",
        Verdict::Hold => "HOLD",
        Verdict::Stop => "STOP",
    }
}

/// Text in lines of at most 80 columns, all but the first indented.
#[must_use]
pub fn wrapped(first: &str, text: &str, indent: usize) -> String {
    wrapped_to(COLUMNS, first, text, indent)
}

/// A text behind a first word, in lines of so many columns, all but the first indented; a word longer than a line goes on
/// below.
fn wrapped_to(columns: usize, first: &str, text: &str, indent: usize) -> String {
    // What stands first is set as it is, unless it is too long itself.
    let long = first.chars().count() > columns;
    let start =
        if long { first.chars().take_while(|c| c.is_whitespace()).collect() } else { first.to_owned() };
    let text = if long { format!("{} {text}", first.trim_start()) } else { text.to_owned() };
    let mut lines = vec![start];
    let text = plain(&text, 4000);
    for word in text.split_whitespace() {
        let line = lines.last_mut();
        match line {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= columns => {
                if !line.is_empty() && !line.ends_with(' ') {
                    line.push(' ');
                }
                line.push_str(word);
            }
            _ => {
                let letters: Vec<char> = word.chars().collect();
                for part in letters.chunks(columns.saturating_sub(indent).max(1)) {
                    lines.push(format!("{:indent$}{}", "", part.iter().collect::<String>()));
                }
            }
        }
    }
    let mut joined = lines.join("\n");
    joined.push('\n');
    joined
}

/// A fingerprint's first twelve digits in groups: enough to tell two papers apart.
fn short(fingerprint: &str) -> String {
    let digits: Vec<char> = fingerprint.chars().take(12).collect();
    digits.chunks(4).map(|group| group.iter().collect::<String>()).collect::<Vec<_>>().join("-")
}

#[cfg(test)]
mod tests;
