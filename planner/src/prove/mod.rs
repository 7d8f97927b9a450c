//! Proof of coordinate lists by a reader of its own: words back to moves, moves to swept cylinders, and
//! those held against the plan.
//!
//! Nothing here calls what traces or writes lists, nor their rounding; only `plan.json` is shared.
//! What is not proven: tool lengths and offsets set at the machine, what a control makes of its own
//! parameters, whether the block stands as the set-up says.

mod another;
mod as_written;
mod bores;
mod control;
mod files;
mod flaw;
mod head;
mod identity;
mod motions;
mod name;
mod plan_file;
mod recorded;
mod reference;
mod resume;
mod rounded;
mod sealed;
mod stops;
mod sweep;
mod table;
mod unit;
mod walk;
mod words;

pub use another::another_plan;
pub use files::prove_files;
pub use flaw::{Flaw, Proof};
pub(crate) use plan_file::{is_whole, job_of};
pub use reference::Reference;
pub use sealed::{UNSEALED, seal, sealed};

use crate::plan::table_file;
use crate::read::source::sha256_hex;
use control::{Able, What};
use flaw::Flaws;
use reference::List;
use unit::Unit;

/// Reads a coordinate list back and holds it against a plan.
///
/// `table` is the table beside it, which must have the same rows; `name` is the list's file name, which counts
/// where the head does not say which list it is. Lengths agree within the list's last digit.
#[must_use]
pub fn prove(text: &str, table: Option<&str>, name: &str, plan: &Reference) -> Proof {
    let mut flaws = Flaws::default();
    let mut proof = Proof::of(&plan.fingerprint);
    // The plan says what a list is in, never the list: one in the wrong unit must not be read as if it were right.
    let first = plan.lists.first().map_or(Unit::Mm, |list| list.proof.unit());
    let mut words = words::read(text, first, &mut flaws);
    let head = head::head(&words);
    let headed = head.list.as_ref().map(|(number, stage)| (*number, stage.as_str()));
    let found = plan.list(headed, name);
    let unit = found.map_or(first, |list| list.proof.unit());
    if unit != first {
        flaws = Flaws::default();
        words = words::read(text, unit, &mut flaws);
    }
    let Some(list) = found else {
        identity::unknown(&head, name, &mut flaws);
        proof.flaws = flaws.sorted();
        return proof;
    };
    if headed.is_none() {
        flaws.add(
            1,
            "unnamed",
            "a head that does not say which list it is",
            "a comment `LIST number - stage`",
        );
    }
    proof.list.clone_from(&list.file);
    proof.bank.clone_from(&list.bank);
    proof.stage.clone_from(&list.stage);
    proof.cylinders.clone_from(&list.cylinders);
    name::file_name(name, list, plan, &mut flaws);
    if sha256_hex(text.as_bytes()) != list.sha256 {
        let note = "changed since it was written: its SHA-256 is not the plan's. Where it proves, nothing is \
                    changed but what an editor may change freely";
        proof.notes.push(note.into());
    }
    identity::identity(&head, list, plan, &mut flaws);
    let events = control::run(&words.blocks, &able(list), &mut flaws);
    head::foot(&words, unit, &mut flaws);
    resume::resume(&words.blocks, &list.proof, &mut flaws);
    proof.moves = events.iter().filter(|e| matches!(e.what, What::Motion(_))).count();
    let walked = walk::walk(&events, list, plan, &mut flaws);
    // Before the table: one that is another list's has more to say than is kept.
    as_written::as_written(&words, list, &mut flaws);
    if let Some(table) = table {
        table::table(&words, table, unit, &mut flaws);
        let file = table_file(&list.file);
        let is_other = |text: &str| plan.sum_of(&file).is_some_and(|sum| sum != sha256_hex(text.as_bytes()));
        if is_other(table) {
            // A mail program or a version control turns the ends of lines.
            let unix = table.replace("\r\n", "\n");
            let found = if is_other(&unix) && is_other(&unix.replace('\n', "\r\n")) {
                "a table that was changed since it was written"
            } else {
                "a table of which only the line ends were changed since it was written"
            };
            flaws.add(flaw::At::default(), "table_changed", found, "the table as it was written, or none");
        }
    }
    proof.features = walked.features;
    proof.largest_difference = (walked.largest * 1e6).round() / 1e6;
    proof.notes.extend(walked.notes);
    proof.proven = flaws.is_empty();
    proof.flaws = flaws.sorted();
    proof
}

fn able(list: &List) -> Able {
    let basis = &list.proof;
    Able { unit: basis.unit(), unit_number: basis.unit_number(), rpm: basis.rpm, feed: basis.feed }
}
