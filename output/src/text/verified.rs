//! What `verify` says of a folder.

use borewright_planner::read::fault::plain;
use borewright_planner::read::sum::State;
use borewright_planner::verify::{Entry, Verified};

use super::{short, wrapped};

/// A line for whatever is not as it was written, then what it came to. `name` is the folder as the command was given it.
#[must_use]
pub fn verified_page(verified: &Verified, name: &str) -> String {
    let mut text = String::new();
    let mut say = |first: &str, rest: String| text.push_str(&wrapped(first, &rest, 2));
    let shown = |file: &str| plain(file, 200);
    let wrong = |entries: &[Entry]| -> Vec<Entry> {
        entries.iter().filter(|e| e.state != State::Unaltered).cloned().collect()
    };
    let inputs = verified.inputs.as_deref().unwrap_or_default();
    let (files_wrong, inputs_wrong) = (wrong(&verified.files), wrong(inputs));
    for entry in &files_wrong {
        say(&shown(&entry.file), entry.state.word().to_owned());
    }
    for file in &verified.added {
        say(&shown(file), "added: it is not of this plan, and could be taken for it".to_owned());
    }
    for entry in &inputs_wrong {
        let rest = format!("{} since the plan was made: plan the job again", entry.state.word());
        say(&shown(&entry.file), rest);
    }
    for file in &verified.notes {
        say("note:", format!("{} is not of this plan", shown(file)));
    }
    if verified.inputs.is_none() && verified.fingerprint.is_some() {
        let rest = "the job does not lie beside this folder: its files were not looked at";
        say("note:", rest.to_owned());
    }
    let count = |wrong: usize, all: usize, what: &str| match wrong {
        0 => format!("{all} {what} as they were"),
        wrong => format!("{wrong} of {all} {what} not as they were"),
    };
    let mut said = vec![plain(name, 60)];
    said.extend(verified.fingerprint.as_deref().map(|f| format!("plan {}", short(f))));
    said.push(count(files_wrong.len(), verified.files.len(), "files"));
    if !verified.added.is_empty() {
        said.push(format!("{} added", verified.added.len()));
    }
    if verified.inputs.is_some() {
        said.push(count(inputs_wrong.len(), inputs.len(), "inputs"));
    }
    say(if verified.unaltered { "unaltered:" } else { "ALTERED:" }, said.join(", "));
    text
}
