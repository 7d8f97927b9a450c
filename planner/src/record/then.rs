//! What lay beside a record when a plan was made with it, told anew by what that plan says of it: it is filed with no job.

use super::release::{OF_LINE, named_line};
use super::{FILE, Log, Word};
use crate::log::WHOLE;

/// A finding of a plan as it is written there: its code, its verdict and its text.
pub type Written<'a> = [&'a str; 3];

/// Tells a record what a plan that was made with it was told of it as a whole, and what it missed; the texts, where the record
/// itself does not say them. A record that was filed in doubt is so planned again as it was.
pub fn tell_as_then(log: &mut Log, findings: &[Written<'_>], record_sum: Option<&str>) -> Vec<String> {
    let begins = format!("{FILE} line {WHOLE}: ");
    let mut doubts = Vec::new();
    for [code, verdict, text] in findings {
        let Some(told) = text.strip_prefix(&begins).filter(|_| *code == "record") else { continue };
        let (said, stand) = match (*verdict, told.split_once("; released by ")) {
            ("hold", _) => (told, String::new()),
            (_, Some((said, _))) => (said, let_through(log)),
            _ => continue,
        };
        if !log.told.iter().any(|own| own.line == WHOLE && own.text == said) {
            log.hold_whole(said.to_owned(), &stand);
            doubts.push(told.to_owned());
        }
    }
    if let Some(sum) = record_sum.filter(|sum| !log.knows(sum)) {
        log.missed.push(sum.to_owned());
    }
    doubts
}

/// What the last release of the record as a whole lets through; empty where it does not say.
fn let_through(log: &Log) -> String {
    let of_whole = |value: &str| named_line(value) == Some(WHOLE);
    let releases = log.entries.iter().filter(|e| Word::of(e.fields.get("reading")) == Some(Word::Release));
    let releases = releases.filter(|e| of_whole(e.fields.get("value")));
    let mut stands =
        releases.filter_map(|e| e.fields.get("of").strip_prefix(OF_LINE)?.split_whitespace().next());
    stands.next_back().unwrap_or_default().to_owned()
}
