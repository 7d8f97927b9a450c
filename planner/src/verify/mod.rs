//! The verification that a written folder is unaltered: its plan by seal and fingerprint, every other file by its
//! sum, the inputs by theirs where the job lies beside.

mod folder;
mod written;

use std::path::Path;

use serde::Serialize;

use crate::prove::{Reference, is_whole, job_of};
use crate::read::bounds::MOST_PLAN_BYTES;
use crate::read::elsewhere::state_of;
use crate::read::fault::{Fault, Faults};
use crate::read::source::Source;
use crate::read::sum::State;
use folder::{below, others};
pub use written::Written;

/// A plan's file.
const PLAN: &str = "plan.json";

/// A file and what became of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Entry {
    /// Its path under the folder, or as the job names it.
    pub file: String,
    /// What became of it.
    pub state: State,
}

/// What a folder came to.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Verified {
    /// `borewright/verify/1`.
    pub format: &'static str,
    /// Whether nothing is wrong with it.
    pub unaltered: bool,
    /// The plan's fingerprint; `None` where there is no plan that can be read.
    pub fingerprint: Option<String>,
    /// Every file that was written there.
    pub files: Vec<Entry>,
    /// Files that are not of the plan and could be taken for it.
    pub added: Vec<String>,
    /// Every file that the plan was made from; `None` where the job does not lie beside the folder.
    pub inputs: Option<Vec<Entry>>,
    /// Files that somebody put there and that cannot be taken for the plan's.
    pub notes: Vec<String>,
}

/// Looks at every file of a folder that `plan` or `survey` wrote. `written` says how their list of it looks.
///
/// # Errors
/// No folder, or one that nothing was written to.
pub fn verify(folder: &Path, written: &Written) -> Result<Verified, Faults> {
    let name = folder.display().to_string();
    let refuse = |found: &str| {
        let expected = "a folder that `borewright plan` or `survey --out` wrote".to_owned();
        let found = found.to_owned();
        let fault = Fault {
            file: name.clone(),
            place: None,
            key: String::new(),
            found,
            expected,
            help: None,
            line_text: None,
        };
        Err(Faults(vec![fault]))
    };
    match std::fs::metadata(folder) {
        Ok(about) if about.is_dir() => {}
        Ok(_) => return refuse("something that is no folder"),
        Err(e) if e.kind() == std::io::ErrorKind::NotFound => return refuse("no such folder"),
        Err(_) => return refuse("a folder that cannot be read"),
    }
    let listed = written.read(folder);
    let plan = plan(folder);
    let listing = below(folder, written.name, None);
    let of_plan =
        plan.state != State::Missing || listed.as_ref().is_some_and(|l| l.iter().any(|(f, _)| f == PLAN));
    if !of_plan && listing == State::Missing {
        return refuse("a folder without plan.json");
    }
    let mut files = Vec::new();
    let mut sums: Vec<(String, String)> = Vec::new();
    match (&plan.reference, &listed) {
        // The plan is whole: it says what was written, and what the list says of that.
        (Some(reference), _) if plan.state == State::Unaltered => {
            sums = reference.files.iter().map(|f| (f.file.clone(), f.sha256.clone())).collect();
            let all = std::iter::once((PLAN.to_owned(), plan.sha256.clone())).chain(sums.iter().cloned());
            let text = written.text(all);
            let state = below(folder, written.name, Some(&crate::read::source::sha256_hex(text.as_bytes())));
            files.push(Entry { file: written.name.to_owned(), state });
        }
        (_, Some(listed)) => {
            sums = listed.iter().filter(|(file, _)| file != PLAN).cloned().collect();
            files.push(Entry { file: written.name.to_owned(), state: State::Unaltered });
        }
        (Some(reference), None) => {
            sums = reference.files.iter().map(|f| (f.file.clone(), f.sha256.clone())).collect();
            files.push(Entry { file: written.name.to_owned(), state: unlisted(listing) });
        }
        (None, None) => files.push(Entry { file: written.name.to_owned(), state: unlisted(listing) }),
    }
    if of_plan {
        files.insert(0, Entry { file: PLAN.to_owned(), state: plan.state });
    }
    for (file, sum) in &sums {
        files.push(Entry { file: file.clone(), state: below(folder, file, Some(sum)) });
    }
    let (added, notes) = others(folder, &files);
    let inputs = plan.reference.as_ref().and_then(|reference| inputs(folder, reference));
    let whole = |entries: &[Entry]| entries.iter().all(|e| e.state == State::Unaltered);
    Ok(Verified {
        format: "borewright/verify/1",
        unaltered: whole(&files) && added.is_empty() && inputs.as_deref().is_none_or(whole),
        fingerprint: plan.reference.map(|r| r.fingerprint().to_owned()),
        files,
        added,
        inputs,
        notes,
    })
}

/// The state of a file that cannot be read for what it should be: altered, where its sum alone found nothing wrong.
fn unlisted(state: State) -> State {
    if state == State::Unaltered { State::Altered } else { state }
}

/// A plan as it lies there.
struct Plan {
    state: State,
    sha256: String,
    reference: Option<Reference>,
}

fn plan(folder: &Path) -> Plan {
    let path = folder.join(PLAN);
    let mut plan = Plan { state: below(folder, PLAN, None), sha256: String::new(), reference: None };
    if plan.state != State::Unaltered {
        return plan;
    }
    plan.state = State::Altered;
    let Ok(source) = Source::read(PLAN, &path, MOST_PLAN_BYTES) else { return plan };
    plan.reference = Reference::parse(PLAN, &source.text).ok();
    // A mark of the order of bytes is taken off the text, and is a change.
    let marked = crate::read::source::sha256_hex(source.text.as_bytes()) != source.sha256;
    if !marked && plan.reference.as_ref().is_some_and(|reference| is_whole(&source.text, reference)) {
        plan.state = State::Unaltered;
    }
    plan.sha256 = source.sha256;
    plan
}

fn inputs(folder: &Path, reference: &Reference) -> Option<Vec<Entry>> {
    let job = job_of(&folder.join(PLAN), reference)?;
    let entry = |file: &str, sum: &str| Entry { file: file.to_owned(), state: state_of(&job, file, sum) };
    Some(reference.inputs.iter().map(|i| entry(&i.file, &i.sha256)).collect())
}
