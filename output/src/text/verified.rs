//! What `verify` says of a folder.

use borewright_planner::read::fault::plain;
use borewright_planner::read::sum::State;
use borewright_planner::verify::{Entry, Verified};

use super::{Terminal, short};

/// A line for whatever is not as it was written, then what it came to. `name` is the folder as the command was given it.
#[must_use]
pub fn verified_page(verified: &Verified, name: &str, t: &Terminal) -> String {
    let mut text = String::new();
    let mut say = |first: &str, rest: String| text.push_str(&t.wrapped(first, &rest, 2));
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
    let mut whose = plain(name, 60);
    if let Some(fingerprint) = verified.fingerprint.as_deref() {
        whose.push_str(&format!(", plan {}", short(fingerprint)));
    }
    let all = |entries: &[Entry], what: &str| {
        format!("{} {what}{}", entries.len(), if entries.len() == 1 { "" } else { "s" })
    };
    let said = if verified.unaltered {
        let of_job = verified.inputs.as_deref().map(|inputs| format!(" and {}", all(inputs, "input")));
        format!("{}{} as they were", all(&verified.files, "file"), of_job.unwrap_or_default())
    } else {
        let mut parts = vec![format!("{} of {}", files_wrong.len(), all(&verified.files, "file"))];
        if verified.inputs.is_some() {
            parts.push(format!("{} of {}", inputs_wrong.len(), all(inputs, "input")));
        }
        if !verified.added.is_empty() {
            parts.push(format!("{} added", verified.added.len()));
        }
        parts.join(", ")
    };
    say(if verified.unaltered { "unaltered:" } else { "ALTERED:" }, format!("{whose}: {said}"));
    text
}
