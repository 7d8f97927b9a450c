//! What `prove` says of a list.

use borewright_planner::prove::{Flaw, Proof};
use borewright_planner::read::fault::plain;

use super::{Terminal, short};

/// Most faults of single lines that are shown: a list with more is another list.
const MOST_LINES: usize = 40;

/// Which list it is where it proves, else line by line what is wrong. `name` is the list as the command was given it.
#[must_use]
pub fn proof_page(proof: &Proof, name: &str, t: &Terminal) -> String {
    let notes: String = proof.notes.iter().map(|note| t.wrapped("note:", note, 2)).collect();
    if proof.proven {
        let features = if proof.features == 1 { "feature" } else { "features" };
        let cylinders: Vec<String> = proof.cylinders.iter().map(u32::to_string).collect();
        let said = format!(
            "{}, {} of bank {}, {} {}: {} moves, {} {features}, largest difference {:.4} mm",
            proof.list,
            proof.stage,
            plain(&proof.bank, 40),
            if cylinders.len() == 1 { "cylinder" } else { "cylinders" },
            cylinders.join(" "),
            proof.moves,
            proof.features,
            proof.largest_difference
        );
        return t.wrapped("PROVEN:", &said, 2) + &notes;
    }
    // The verdict first: what is wrong may be more than a screen.
    let count = proof.flaws.len();
    let said = format!(
        "{}, {count} fault{} against the plan {}",
        plain(name, 60),
        if count == 1 { "" } else { "s" },
        short(&proof.fingerprint)
    );
    let mut text = t.wrapped("NOT PROVEN:", &said, 2) + &notes;
    // What is wrong with the whole first: it explains much of the rest.
    let (whole, by_line): (Vec<&Flaw>, Vec<&Flaw>) = proof.flaws.iter().partition(|f| f.line.is_none());
    for flaw in whole.iter().chain(by_line.iter().take(MOST_LINES)) {
        let said = flaw.to_string();
        let of = if flaw.code.starts_with("plan_") { "plan" } else { "list" };
        let (first, rest) = said.split_once(": ").filter(|_| flaw.line.is_some()).unwrap_or((of, &said));
        text.push_str(&t.wrapped(&format!("{first}:"), rest, 2));
    }
    if by_line.len() > MOST_LINES {
        let more = by_line.len() - MOST_LINES;
        text.push_str(&t.wrapped("and", &format!("{more} more, which --format json has"), 2));
    }
    text
}
