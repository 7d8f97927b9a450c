//! Words of a note that say not to go on, or that what was read or run is another's: no damage, and no less a reason to stop.

use super::damage::{is_denied, words_of_clauses};
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
    "^daylight",
    "wrong side|bore|bores|cylinder|cyl|hole|end|bank|depth|place|way|block|size|spot",
    "cut|bored|honed|machined one|bore|cyl|cylinder|it instead",
    "by mistake",
    "in error",
    "length|offset|zero|datum|depth|size|diameter wrong|off",
    "height|speed|feed wrong",
    "something|everything wrong|odd|off|strange|amiss",
    "not|t|dont trust|believe|rely",
    "say|says|said stop|wait|hold",
    "scrap|scrapped|junk|ruined|spoiled|spoilt|botched",
    "iron|liner|shell|metal still|left|remain*",
    "still iron|liner|shell|metal",
    "list|program|card|code edited|altered|changed|modified",
    "offset put|entered|typed|added|changed",
    // Not measured.
    "not measured|gauged|checked|zeroed|set",
    "wrote|written what|asked|card|plan",
    "copied from|off|down",
    "guess*",
    // Left out.
    "forgot|forgotten|forget",
    "skipped|omitted touch|check|step|deck|bore|test",
    "plate|plates|cap|caps|bolts|studs|nuts not on|in|torqued|tight|tightened|fitted|there|yet",
    "no|without o ring* !cut|torn|pinch*|damag*|nick*|shear*|roll*|twist*|shav*|split|missing|squeezed|leak*|groove*",
    "no|without oring* !cut|torn|pinch*|damag*|nick*|shear*|roll*|twist*|shav*|split|missing|squeezed|leak*|groove*",
];

/// What says of a thing that was looked at and called right that it was not, or not all of it.
const UNSEEN: &[&str] = &[
    "not ok|okay|right|sure|seen|looked|all|yet",
    "half|partly|mostly|nearly|almost|maybe|perhaps|unsure|guess*",
    "think so",
    "ring|rest|strip|sliver|bit left|remain*|still|in",
    "too dark",
    "only looked|saw|seen",
    "look later",
    "could|can|cannot|did|didn|couldn not|t|see|look",
    "cannot see|look",
    "but",
    "except",
    "some iron|liner|left|still",
];

/// What says of a figure that it is none, or another's; rows as above.
const DENIES: &[&str] = &[
    "not|t|never measured|gauged|read|cut|zeroed|set|checked|cleaned|reach*|square|straight|get",
    "wrote|written|guess*|rough*|approx*|estimate*|maybe|perhaps|unsure|unclear|instead|wrong",
    "deep only",
    "read|taken|measured|gauged before cut|cutting|boring|roughing|honing",
    "^before cut|cutting|boring|roughing|honing",
    "trial|test|touch cut|bite|pass",
    "gauge|dial|probe|needle stuck|sticks|jumps|jumped|loose|dropped",
    "jump*|wander*|drifting|unsteady|unstable",
    "chatter*|torn|tore|scored|scratch*|ridge*|bellmouth*",
];

/// What says that a figure was read warm, where no temperature is written down with it.
const WARM: &[&str] =
    &["read|gauged|measured|still|block|taken warm|hot", "straight|right off|from cut|machine"];

/// Whether a note says not to go on.
#[must_use]
pub(super) fn tells_of_doubt(text: &str) -> bool {
    any(text, DOUBTS)
}

/// Whether a note beside a look that was answered with yes takes it back: it says no, or that not all was seen, or names what was to
/// be gone and not that it is.
#[must_use]
pub(super) fn takes_a_look_back(text: &str) -> bool {
    let says = |words: &[&str]| {
        let is = |list: &[&str]| words.iter().any(|word| list.contains(word));
        words == ["no"] || (is(&LEFT) && !is(&GONE) && !is(&NONE))
    };
    let has_words = text.chars().any(char::is_alphanumeric);
    any(text, UNSEEN) || words_of_clauses(text, says) || !(has_words || text.trim().is_empty())
}

/// Whether a note beside a figure of this cylinder denies it; `warm` where no temperature was written down with it.
#[must_use]
pub(super) fn denies_a_figure(text: &str, warm: bool, cylinder: Option<u32>) -> bool {
    let another = |words: &[&str]| (0..words.len()).any(|at| names_another(words, at, cylinder));
    any(text, DENIES) || (warm && any(text, WARM)) || words_of_clauses(text, another)
}

/// Whether another bore's number stands at a word: "read in cyl 3", "this is bore 3", "bore 5 really".
fn names_another(words: &[&str], at: usize, cylinder: Option<u32>) -> bool {
    let Some([bore, number]) = words.get(at..at + 2) else { return false };
    let is_bore = bore.starts_with("cyl") || ["bore", "bores", "hole"].contains(bore);
    let said = at
        .checked_sub(1)
        .is_none_or(|before| ["in", "of", "on", "is", "this", "it"].contains(&words[before]));
    is_bore && said && number.parse().is_ok_and(|number: u32| Some(number) != cylinder)
}

/// Words that ask nothing of anybody.
const PLAIN: &str = "a an the and or of at in on to by for with from as is was were are be it its this all both each every i we he she \
    us me my his her our they there here now then again since before after until when while done start started begun began stopped \
    finished lunch break morning noon afternoon evening night today yesterday shift monday tuesday wednesday thursday friday saturday \
    nine ten eleven twelve one two three four five six seven eight first second third last next same alike like other another new old \
    good fine ok okay yes right well clean cleaned dry oiled oil coolant topped up down full on off insert inserts tip changed change \
    gauge gauges gauged zeroed zero ring set dial probe mirror lamp light eye read reads reading readings measured looked look seen saw \
    see checked check asked planned plan card cards typed written noted note afterwards printed list size sizes held holds hold cut cuts \
    bored honed bore bores cylinder cylinders cyl block bank deck top bottom middle rear front valley side sides end lower upper left \
    register registers ledge recess pocket pockets sleeve sleeves flange fitted fit rings ringed plate torque torqued caps cap bolts \
    customer lead agrees agreed happy took take taken put turned over back rain raining warm cold cool shop heating waited hour hours \
    minute minutes min mm um h running runs run free swarf removed away out gone everywhere round whole way through \
    o wiped washed blown air honing boring finish rough bar head tool tools stones stone table machine drawing paper pen smooth shiny \
    bright round even level";

/// What is left over where it is not gone.
const LEFT: [&str; 6] = ["iron", "liner", "shell", "metal", "rust", "scale"];
/// What says that it is gone.
const GONE: [&str; 6] = ["gone", "out", "off", "away", "removed", "clean"];
/// What denies, and what is denied in a plain note.
const NONE: [&str; 4] = ["no", "nothing", "without", "none"];
const DENIED: [&str; 24] = [
    "iron", "liner", "shell", "crack", "cracks", "leak", "leaks", "hairline", "damage", "damaged", "chip",
    "chips", "swarf", "burr", "burrs", "chatter", "void", "voids", "bubbles", "visible", "found", "bridge",
    "left", "trouble",
];

/// Whether a note is understood to say nothing against going on. A list of words never ends: one that is in none is asked about.
#[must_use]
pub(super) fn is_plain(text: &str) -> bool {
    let says = |words: &[&str]| {
        let denies = words.iter().any(|word| NONE.contains(word));
        let gone = words.iter().any(|word| GONE.contains(word));
        let denied = words.iter().any(|word| DENIED.contains(word));
        let known = |word: &&str| {
            word.bytes().all(|b| b.is_ascii_digit())
                || (LEFT.contains(word) && (gone || denies))
                || (denies && (NONE.contains(word) || DENIED.contains(word)))
                || (!LEFT.contains(word) && PLAIN.split_whitespace().any(|plain| plain == *word))
        };
        // "No" alone denies what was asked.
        !words.iter().all(known) || (denies && !denied)
    };
    if text.trim().is_empty() {
        return true;
    }
    text.chars().any(char::is_alphanumeric) && !words_of_clauses(text, says)
}

fn any(text: &str, rows: &[&str]) -> bool {
    let said =
        |words: &[&str], at: usize| rows.iter().any(|row| is_row(row, words, at)) && !is_denied(words, at);
    words_of_clauses(text, |words| (0..words.len()).any(|at| said(words, at)))
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
            "no iron left",
            "not by mistake",
            "work offset set from the card",
            "height 0.035 off deck",
            "Jo said no change",
            "plate not needed",
            "bolts not touched",
            "copied to the office",
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
        for text in [
            "",
            "all iron gone",
            "clean",
            "seen by both of us",
            "no iron left",
            "with mirror and lamp",
            "gone all round",
            "checked by Jo",
            "all gone, second try",
            "looks good",
        ] {
            assert!(!takes_a_look_back(text), "{text}");
        }
    }

    #[test]
    fn what_is_said_of_a_list_a_gauge_or_a_set_up_is_heard() {
        for text in [
            "daylight",
            "cut this one instead of 5",
            "bored on the wrong side",
            "wrong cylinder",
            "ran list 30 by mistake",
            "tool length wrong",
            "forgot the plate offset",
            "skipped the touch check",
            "plate not on",
            "caps were not torqued",
            "not measured, wrote what was asked",
            "copied from the card",
            "just a guess",
            "something is wrong",
            "do not trust this",
            "Tom says stop",
            "scrap",
            "iron still left",
            "list was edited",
            "offset 0.05 put in the control",
        ] {
            assert!(tells_of_doubt(text), "{text}");
        }
    }

    #[test]
    fn a_look_goes_on_by_a_note_that_is_understood_and_a_figure_by_one_that_does_not_deny_it() {
        for text in [
            "no",
            "not yet",
            "?",
            "there is still iron",
            "iron at the bottom",
            "a shell of liner still in",
            "thin ring left at the bottom",
            "liner remains at 130",
            "half gone",
            "mostly",
            "nearly",
            "maybe",
            "unsure",
            "think so",
            "guess",
            "too dark to see",
            "only looked from the top",
            "will look later",
        ] {
            assert!(takes_a_look_back(text), "{text}");
        }
        for text in [
            "not measured",
            "wrote what was asked",
            "read in cyl 3",
            "this is cyl 3",
            "bore 5 really",
            "not cut yet",
            "before the cut",
            "trial cut only",
            "10 deep only",
            "wrong depth, at 40",
            "gauge was not zeroed",
            "gauge not set",
            "gauge stuck",
            "did not reach",
            "could not get the gauge in",
            "guess",
            "roughly",
            "reading jumps about",
            "chatter in the bore",
            "torn",
            "read warm, straight off the cut",
        ] {
            assert!(denies_a_figure(text, true, Some(1)), "{text}");
        }
        for text in [
            "",
            "dial of 0.01",
            "dye: no crack",
            "card typed in afterwards",
            "second gauge, same",
            "gauge zeroed on the ring",
            "read in bore 1",
            "same as bore 3",
            "measured twice, only 0.002 apart",
            "no chatter",
            "no scratches",
            "gauge zeroed before cutting",
            "really clean",
        ] {
            assert!(!denies_a_figure(text, true, Some(1)), "{text}");
        }
        assert!(!denies_a_figure("read warm", false, None), "its temperature is written down");
        for text in [
            "",
            "started at nine",
            "no crack seen in the bridge",
            "coolant topped up",
            "insert changed",
            "rain",
            "looked at",
        ] {
            assert!(is_plain(text), "{text}");
        }
        for text in ["zzz", "Tom knows about it", "hmm", "?", "iron at the bottom"] {
            assert!(!is_plain(text), "{text}");
        }
    }
}
