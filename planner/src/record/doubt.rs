//! Words of a note that say not to go on, or that what was read or run is another's: no damage, and no less a reason to stop.

use super::damage::words_of_clauses;
use super::grave::is_row;

/// Rows as in `grave.rs`.
const DOUBTS: &[&str] = &[
    // Orders.
    "do not|t cut|bore|touch|run|hone|fit|go",
    "dont cut|bore|touch|run|hone|fit|go",
    "must not cut|bore|touch|run",
    "don t cut|bore|touch|run|hone|fit|go",
    "stop work|cutting|here|this|it|until",
    "hold this|that|off|bore|bores|cylinder|cyl|everything",
    "wait|waits|waiting for|on|until lead|boss|customer|me|foreman|him|her",
    "not safe|sure|right|ok|okay",
    "ask lead|boss|customer|foreman first|before",
    // Another's.
    "other|another|different|wrong block|engine|job|list|card|sheet|drawing",
    "wrong ring|gauge|zero|datum|head|tool",
    "number|numbers|serial|no does|do not|t match",
    "number|numbers|serial|no mismatch*|differ*",
    "old list|card|sheet|plan|program",
    "values|figures|readings|sizes|it guessed|copied|invented|estimated",
    "guessed|invented values|figures|readings|sizes|from",
    "zero|datum taken|set|picked from|off bore",
    "block|engine turned|spun|flipped end|round|around",
    "turned|spun|flipped block|engine end|round|around",
    // Left out.
    "no|without o ring* !cut|torn|pinch*|damag*|nick*|shear*|roll*|twist*|shav*|split|missing|squeezed|leak*|groove*",
    "no|without oring* !cut|torn|pinch*|damag*|nick*|shear*|roll*|twist*|shav*|split|missing|squeezed|leak*|groove*",
];

/// What says of a thing that was looked at and called right that it was not, or not all of it.
const UNSEEN: &[&str] = &[
    "not ok|okay|right|sure|seen|looked|all",
    "could|can|cannot|did|didn|couldn not|t|see|look",
    "cannot see|look",
    "but",
    "except",
    "some iron|liner|left|still",
];

/// Whether a note says not to go on.
#[must_use]
pub(super) fn tells_of_doubt(text: &str) -> bool {
    any(text, DOUBTS)
}

/// Whether a note beside a look that was answered with yes takes it back.
#[must_use]
pub(super) fn takes_a_look_back(text: &str) -> bool {
    any(text, UNSEEN)
}

fn any(text: &str, rows: &[&str]) -> bool {
    words_of_clauses(text, |words| (0..words.len()).any(|at| rows.iter().any(|row| is_row(row, words, at))))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn orders_and_other_things_are_heard_and_plain_notes_are_not() {
        for text in [
            "STOP - do not cut 3 until lead is back",
            "do not cut this one",
            "don't cut",
            "hold this one",
            "wait for the lead",
            "this is the other block",
            "block number does not match card",
            "cut this one with the old list",
            "gauge was zeroed on the wrong ring",
            "values guessed from yesterday",
            "turned the block end for end",
            "zero taken from bore 1 this time",
            "no o-rings in stock, fitted without",
        ] {
            assert!(tells_of_doubt(text), "{text}");
        }
        for text in [
            "",
            "started at nine",
            "coolant topped up",
            "gauge zeroed on the ring again",
            "waited an hour, reads the same",
            "no o-ring cut",
            "o-rings oiled",
            "block as it was",
            "cut with list 20 as printed",
            "insert changed",
            "stopped for lunch",
            "held the size well",
            "read again with another gauge: same",
            "clamps hold it well",
            "hold it down until gripped",
            "pump must run, coolant on",
            "asked the customer first, he agrees",
            "turned the block over for the right bank",
        ] {
            assert!(!tells_of_doubt(text), "{text}");
        }
        for text in [
            "could not see the bottom",
            "did not look at bottom",
            "not ok",
            "but not sure",
            "some liner still at lower end",
        ] {
            assert!(takes_a_look_back(text), "{text}");
        }
        for text in ["all iron gone", "clean", "seen by both of us"] {
            assert!(!takes_a_look_back(text), "{text}");
        }
    }
}
