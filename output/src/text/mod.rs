//! What the commands print for people: at most 80 columns, no colour, nothing that is not in the plan.
//!
//! In: a plan, a survey report, a proof. Out: the text of one page for a terminal.
//! Each page is a file; what they share, wrapping and the mark of a verdict, stands here.

mod change_card;
mod changes;
mod check;
mod explained;
mod prior;
mod proof;
mod report;
mod shop;
mod summary;
mod survey;
mod trend;
mod verified;

pub use change_card::change_card;
pub use changes::{changes, stale};
pub use check::check_page;
pub use explained::{explain_page, unasked_page};
pub use prior::prior_section;
pub use proof::proof_page;
pub use report::report_page;
pub use shop::shop_page;
pub use summary::summary;
pub use survey::survey_page;
pub use trend::trend_page;
pub use verified::verified_page;

use borewright_planner::plan::Verdict;
use borewright_planner::read::fault::plain;

/// A terminal's width.
const COLUMNS: usize = 80;

/// A verdict that stands out without colour.
fn mark(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Go => "go",
        Verdict::Hold => "HOLD",
        Verdict::Stop => "STOP",
    }
}

/// Text in lines of at most the terminal's width, all but the first indented.
#[must_use]
pub fn wrapped(first: &str, text: &str, indent: usize) -> String {
    let mut lines = vec![first.to_owned()];
    let text = plain(text, 4000);
    for word in text.split_whitespace() {
        let line = lines.last_mut();
        match line {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= COLUMNS => {
                if !line.is_empty() && !line.ends_with(' ') {
                    line.push(' ');
                }
                line.push_str(word);
            }
            _ => lines.push(format!("{:indent$}{word}", "")),
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
mod tests {
    use super::*;

    #[test]
    fn long_text_is_wrapped_within_the_terminal() {
        let text = wrapped("  3  ", &"a fairly ordinary word ".repeat(20), 5);
        assert!(text.lines().all(|line| line.chars().count() <= COLUMNS));
        assert!(text.lines().skip(1).all(|line| line.starts_with("     ")));
    }
}
