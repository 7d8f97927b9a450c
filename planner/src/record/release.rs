//! A release by the lead: of a hold, by name and with a reason, recorded after what held.

use std::collections::HashSet;

use super::named::lets_through;
use super::noted::unjudged_stand;
use super::{Event, Standing, Word};
use crate::read::fault::plain;

/// Releases of a cylinder, or of what is of no single one, recorded after a line; those of the record itself apart.
fn since(standing: &Standing, cylinder: Option<u32>, line: usize) -> impl Iterator<Item = &Event> {
    let own = standing.events.iter().filter(move |e| e.what == Word::Release && e.struck.is_none());
    own.filter(move |e| e.line > line && e.cylinder == cylinder && of_line(e).is_none())
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

/// What a release writes down of what it lets through: of a line what stands there, or what is gone; else the files that
/// the plan was made from.
#[must_use]
pub fn release_words(standing: &Standing, text: &str, made_from: &str) -> String {
    let Some(line) = named_line(text) else { return made_from.to_owned() };
    let told = standing.told.iter().filter(|t| t.line == line && t.holds).map(|t| t.stand.clone());
    let mut stands: Vec<String> = told.chain(unjudged_stand(standing, line)).collect();
    stands.sort_unstable();
    stands.dedup();
    format!("{OF_LINE}{}", if stands.is_empty() { NOTHING.to_owned() } else { stands.join(" ") })
}

/// Stands for a line of which nothing was to be let through.
const NOTHING: &str = "-";

/// The line of the record that a release is for, as in `line 5 was written twice`; it then releases nothing else.
fn of_line(e: &Event) -> Option<usize> {
    named_line(e.fields.get("value")).filter(|_| e.cylinder.is_none())
}

pub(super) fn named_line(text: &str) -> Option<usize> {
    let mut words = text.split_whitespace();
    let named = words.next() == Some("line");
    words.next()?.trim_end_matches([':', ',']).parse().ok().filter(|_| named)
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
