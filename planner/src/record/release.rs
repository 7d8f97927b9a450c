//! A release by the lead: of a hold, by name and with a reason, recorded after what held.

use std::collections::HashSet;

use super::named::lets_through;
use super::{Event, Log, Standing, Word};
use crate::log::WHOLE;
use crate::read::fault::plain;

/// Releases of a cylinder, or of what is of no single one, recorded after a line; those of the record itself apart.
fn since(standing: &Standing, cylinder: Option<u32>, line: usize) -> impl Iterator<Item = &Event> {
    let own = standing.events.iter().filter(move |e| e.what == Word::Release && e.struck.is_none());
    own.filter(move |e| {
        e.line > line && e.cylinder == cylinder && of_line(e).is_none() && !is_of_some_lines(e)
    })
}

fn is_of_some_lines(e: &Event) -> bool {
    e.cylinder.is_none() && speaks_of_lines(e.fields.get("value"))
}

fn counts(standing: &Standing, e: &Event) -> bool {
    lets_through(e.fields.get("by"), e.fields.get("value")) && !is_of_other_files(standing, e)
}

/// Whether a release was given for other files than the job has now: what the lead looked at then is not what is
/// planned.
fn is_of_other_files(standing: &Standing, e: &Event) -> bool {
    let given_for = e.fields.get("of");
    !given_for.is_empty() && standing.made_from.as_deref().is_some_and(|now| now != given_for)
}

fn who_and_why(e: &Event) -> (String, String) {
    (plain(e.fields.get("by"), 60), plain(e.fields.get("value"), 200))
}

/// Who released a bore's hold since a line, and why. A stop cannot be released.
pub(crate) fn released(standing: &Standing, cylinder: Option<u32>, line: usize) -> Option<(String, String)> {
    since(standing, cylinder, line).filter(|e| counts(standing, e)).last().map(who_and_why)
}

/// Who let a line of the record through that does not count or was changed: `release line 5 …`, recorded after it, of what
/// stands there. One written before releases said what they were of lets through whatever stands there.
pub(crate) fn released_line(standing: &Standing, line: usize, stand: &str) -> Option<(String, String)> {
    let mut own = standing.events.iter().filter(|e| e.what == Word::Release && e.struck.is_none());
    let named = |e: &&Event| lets_through(e.fields.get("by"), e.fields.get("value"));
    let of_this = |e: &&Event| match e.fields.get("of").strip_prefix(OF_LINE) {
        Some(stands) => stands.split_whitespace().any(|own| own == stand),
        None => true,
    };
    own.rfind(|e| of_line(e) == Some(line) && e.line > line && named(e) && of_this(e)).map(who_and_why)
}

/// Lines that a release names.
pub(super) fn lines_released(standing: &Standing) -> HashSet<usize> {
    let own = standing.events.iter().filter(|e| e.what == Word::Release && e.struck.is_none());
    own.filter_map(of_line).collect()
}

/// Begins the cell that says what a release of a line lets through.
pub(super) const OF_LINE: &str = "line ";

/// What was let through by name as gone from a record as a whole: sums of its lines, beside what else was let through with them.
#[must_use]
pub fn let_go(log: &Log) -> Vec<String> {
    let own = log.entries.iter().filter(|e| {
        let cell = |column: &str| e.fields.get(column);
        Word::of(cell("reading")) == Some(Word::Release)
            && named_line(cell("value")) == Some(WHOLE)
            && lets_through(cell("by"), cell("value"))
    });
    let stands = own.filter_map(|e| e.fields.get("of").strip_prefix(OF_LINE));
    stands.flat_map(str::split_whitespace).filter(|sum| !log.knows(sum)).map(str::to_owned).collect()
}

/// Stands for a line of which nothing was to be let through.
pub(super) const NOTHING: &str = "-";

/// The line of the record that a release is for, as in `line 5 was written twice`; it then releases nothing else.
fn of_line(e: &Event) -> Option<usize> {
    named_line(e.fields.get("value")).filter(|_| e.cylinder.is_none())
}

/// The line that a text begins with: `line 5 was written twice`, `Line 5: …`, `line5: …`, `line #5, …`.
#[must_use]
pub fn named_line(text: &str) -> Option<usize> {
    let text = text.trim_start().to_lowercase();
    let number = text.strip_prefix("line")?.trim_start().trim_start_matches('#');
    let end = number.find(|c: char| !c.is_ascii_digit()).unwrap_or(number.len());
    let (digits, behind) = number.split_at(end);
    // `lines 5 and 7`, `line 5.2` and `line 5 and 7` are of no one line.
    let ends = behind.chars().next().is_none_or(|c| c.is_whitespace() || ":,;-".contains(c));
    let more = behind.split_whitespace().next().is_some_and(|word| {
        let joins = ["and", "or", "to", "&", "+"].contains(&word.trim_matches([',', ';']));
        joins
            && behind
                .split_whitespace()
                .nth(1)
                .is_some_and(|next| next.starts_with(|c: char| c.is_ascii_digit()))
    });
    digits.parse().ok().filter(|_| ends && !more)
}

/// Whether a release without a cylinder speaks of a line, or of several, and does not begin with one: whether it is of that line or
/// of the whole job is not known, and it lets nothing through.
#[must_use]
pub fn speaks_of_lines(text: &str) -> bool {
    let text = text.to_lowercase();
    let words: Vec<&str> =
        text.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
    let is_number = |word: &str| word.chars().all(|c| c.is_ascii_digit());
    let joined = |word: &str| word.strip_prefix("line").is_some_and(|n| !n.is_empty() && is_number(n));
    let parted = words.windows(2).any(|pair| ["line", "lines"].contains(&pair[0]) && is_number(pair[1]));
    named_line(&text).is_none() && (parted || words.iter().any(|word| joined(word)))
}

/// Whether a release of a line was of one that had nothing to let through.
pub(crate) fn is_of_nothing(e: &Event) -> Option<usize> {
    let of_nothing = e.fields.get("of").strip_prefix(OF_LINE) == Some(NOTHING);
    of_line(e).filter(|_| of_nothing)
}

/// What is told of a release that releases nothing; empty where there is none.
pub(super) fn refused(standing: &Standing, cylinder: Option<u32>, line: usize, stop: bool) -> String {
    match since(standing, cylinder, line).last() {
        Some(e) if stop => format!("; the release in line {} lets no stop through", e.line),
        Some(e) if is_of_other_files(standing, e) => format!(
            "; the release in line {} was given before the job's files were changed: look again, and release it anew",
            e.line
        ),
        Some(e) if !counts(standing, e) => {
            format!(
                "; the release in line {} does not count: it says not who, or not why, or that it releases nothing",
                e.line
            )
        }
        _ => String::new(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_release_is_of_the_line_that_it_begins_with_however_that_is_written() {
        for text in [
            "line 13: a lamp's shadow",
            "Line 13: seen",
            "LINE 13, seen",
            "line13: seen",
            "line #13 seen",
            "line 13 and no more",
        ] {
            assert_eq!(named_line(text), Some(13), "{text}");
            assert!(!speaks_of_lines(text), "{text}");
        }
        for text in
            ["lines 13 and 2: seen", "note of line 13: seen", "line 13 and 2: seen", "it is of line13"]
        {
            assert_eq!(named_line(text), None, "{text}");
            assert!(speaks_of_lines(text), "{text}");
        }
        for text in ["seen in a good line", "bore 3 is in line with 5", "lined up, 13 thou", "harmless"] {
            assert!(named_line(text).is_none() && !speaks_of_lines(text), "{text}");
        }
    }
}
