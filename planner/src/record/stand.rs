//! What stands in a line as a release of it writes that down, so that it lets nothing else through.

use super::Standing;
use super::noted::{note_stand, unjudged};
use super::release::{NOTHING, OF_LINE, named_line};

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

/// What stands for the note in a line, where it is not judged.
fn unjudged_stand(standing: &Standing, line: usize) -> Option<String> {
    unjudged(standing, line)?;
    let event = standing.events.iter().find(|e| e.line == line).map(|e| &e.fields);
    let read = || standing.readings.iter().find(|r| r.line == line).map(|r| &r.fields);
    event.or_else(read).map(note_stand)
}
