//! Proof of coordinate lists by a reader of its own: words back to moves, moves to swept cylinders, and
//! those held against the plan.
//!
//! Nothing here calls what traces or writes lists, nor their rounding; only `plan.json` is shared.
//! What is not proven: tool lengths and offsets set at the machine, what a control makes of its own
//! parameters, whether the block stands as the set-up says.

mod bores;
mod control;
mod flaw;
mod head;
mod identity;
mod motions;
mod reference;
mod rounded;
mod stops;
mod sweep;
mod table;
mod walk;
mod words;

pub use flaw::{Flaw, Proof};
pub use reference::Reference;

use crate::read::source::sha256_hex;
use control::{Able, What};
use flaw::Flaws;
use reference::List;

/// Reads a coordinate list back and holds it against a plan.
///
/// `table` is the table beside it, which must have the same rows; `name` is the list's file name, which counts
/// where the head does not say which list it is. Lengths agree within 0.001 mm.
#[must_use]
pub fn prove(text: &str, table: Option<&str>, name: &str, plan: &Reference) -> Proof {
    let mut flaws = Flaws::default();
    let mut proof = Proof {
        format: "borewright/proof/1",
        list: String::new(),
        fingerprint: plan.fingerprint.clone(),
        proven: false,
        moves: 0,
        features: 0,
        largest_difference: 0.0,
        flaws: Vec::new(),
        notes: Vec::new(),
    };
    let words = words::read(text, &mut flaws);
    let head = head::head(&words);
    let headed = head.list.as_ref().map(|(number, stage)| (*number, stage.as_str()));
    let Some(list) = plan.list(headed, name) else {
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
    if sha256_hex(text.as_bytes()) != list.sha256 {
        let note = "changed since it was written: its SHA-256 is not the plan's. What its comments tell the operator (front, \
                    jog test, what to measure) is not proven: read them against the sheet";
        proof.notes.push(note.into());
    }
    identity::identity(&head, list, plan, &mut flaws);
    let events = control::run(&words.blocks, &able(list), &mut flaws);
    head::foot(&words, &mut flaws);
    proof.moves = events.iter().filter(|e| matches!(e.what, What::Motion(_))).count();
    let walked = walk::walk(&events, list, plan, &mut flaws);
    if let Some(table) = table {
        table::table(&words, table, &mut flaws);
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
    Able { millimetres: basis.millimetres_number(), rpm: basis.rpm, feed: basis.feed }
}
