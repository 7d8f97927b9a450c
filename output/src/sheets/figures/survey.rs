//! What the readings said of the block: in sentences, what is asked of the set-up, the decks, the axis, and where each bore
//! may go.

use borewright_planner::plan::Verdict;
use borewright_planner::report::SurveyReport;

use super::SET_UP;
use crate::OutputError;
use crate::drawings::{self, Subject};
use crate::paper::pages::{BODY, Pages};
use crate::paper::text::Weight;
use crate::said::short;
use crate::sheets::sheet::{ASKED_OF_SET_UP, BEFORE_PLANNING, Sheet};

impl Sheet<'_> {
    /// Draws what the readings said of the block.
    ///
    /// # Errors
    /// Where a figure cannot be printed.
    pub(super) fn surveyed(&self, pages: &mut Pages, report: &SurveyReport) -> Result<(), OutputError> {
        let subject = Subject { job: &self.planning.job, report, fonts: pages.fonts };
        let told = |n: u32| !self.is_withheld(n);
        pages.bookmark("Survey");
        pages.heading("What the readings say", 50.0);
        for sentence in &report.as_bored.text {
            pages.paragraph(&format!("– {}", self.units.say(sentence)), Weight::Plain, BODY);
        }
        if !report.suspicions.is_empty() {
            pages.heading("Readings to check", 60.0);
            for s in &report.suspicions {
                let [found, likely, ask] = [&s.found, &s.likely, &s.ask].map(|words| self.units.say(words));
                let words = format!("{found}; likely {likely}; {ask}");
                ticked(pages, &short::subject(&s.subject, 60), s.verdict, &words);
            }
        }
        if !report.corrections.is_empty() {
            pages.bookmark(SET_UP);
            pages.heading(ASKED_OF_SET_UP, 60.0);
            pages.paragraph(BEFORE_PLANNING, Weight::Plain, BODY);
            let (left, asked): (Vec<_>, Vec<_>) = report.corrections.iter().partition(|c| c.is_left());
            for c in asked {
                ticked(pages, "", Verdict::Go, &self.units.say(&c.text));
            }
            let left: Vec<String> =
                left.iter().map(|c| format!("{} of {}", c.what, short::shorten(&c.set_up))).collect();
            if !left.is_empty() {
                let words = format!("– below what can be measured, and left as it is: {}", left.join(", "));
                pages.paragraph(&words, Weight::Plain, BODY);
            }
        }
        let more: Vec<_> = report.beside_suspicions().collect();
        if !more.is_empty() {
            pages.heading("Findings", 60.0);
            for f in more {
                ticked(pages, &short::subject(&f.subject, 60), f.verdict, &self.units.say(&f.text));
            }
        }
        for figure in drawings::strips(&subject)? {
            pages.gap(8.0);
            drawings::place(pages, &figure);
        }
        // The tallest picture last: words and strips fill the pages before it.
        if let Some(zones) = drawings::zones(&subject, &told)? {
            pages.gap(8.0);
            pages.bookmark("Free zones");
            drawings::place(pages, &zones);
        }
        Ok(())
    }
}

/// A sentence with a square to tick, behind its verdict and what it is of.
fn ticked(pages: &mut Pages, subject: &str, verdict: Verdict, text: &str) {
    let word =
        if verdict == Verdict::Go { String::new() } else { format!("{}: ", verdict.word().to_uppercase()) };
    let subject = if subject.is_empty() { String::new() } else { format!("{subject}: ") };
    let weight = if verdict == Verdict::Go { Weight::Plain } else { Weight::Bold };
    pages.ticked(&format!("{word}{subject}{text}"), weight);
}
