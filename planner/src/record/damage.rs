//! Words in passing that tell of a block which may be lost, and what denies them.

use super::grave::is_grave;

/// Words that deny a word of damage which follows them; `free of` does so too.
const DENIES: [&str; 4] = ["no", "not", "without", "never"];

/// Words behind which a denial denies nothing, or not all of it: "no doubt a crack", "not sure: cracked", "not fully cracked".
const UNSURE: [&str; 34] = [
    "doubt",
    "question",
    "sure",
    "certain",
    "only",
    "just",
    "good",
    "checked",
    "tested",
    "looked",
    "repaired",
    "without",
    "fully",
    "completely",
    "entirely",
    "wholly",
    "totally",
    "quite",
    "badly",
    "deeply",
    "yet",
    "all",
    "much",
    "really",
    "big",
    "large",
    "long",
    "great",
    "serious",
    "major",
    "bad",
    "new",
    "longer",
    "wonder",
];

/// Words that say until when it was so: "never was cracked before today".
const UNTIL: [&str; 3] = ["before", "until", "till"];
/// What follows them where it is so no more.
const NOW: [&str; 10] =
    ["today", "now", "this", "that", "then", "yesterday", "tonight", "lunch", "noon", "recently"];

/// A denial stands at most this many words before what it denies.
const NEAR: usize = 2;

/// Whether a text tells of damage that it does not deny, each word of damage in its own clause.
#[must_use]
pub fn tells_of_damage(text: &str) -> bool {
    words_of_clauses(text, |words| (0..words.len()).any(|at| is_grave(words, at) && !is_denied(words, at)))
}

/// What a tool is called, whose own end is what a tool is written down for.
const TOOLS: [&str; 11] =
    ["insert", "inserts", "tip", "edge", "cutter", "tool", "nose", "corner", "one", "old", "last"];
/// What has edges and corners of its own.
const PARTS: [&str; 8] = ["deck", "ledge", "bore", "recess", "register", "pocket", "block", "sleeve"];
/// What becomes of one.
const SPENT: [&str; 9] =
    ["broke", "broken", "chipped", "chips", "cracked", "split", "wore", "worn", "breaks"];

/// Whether the words with which a tool's change is written down tell of damage to anything but that tool.
#[must_use]
pub(super) fn tells_beside_a_tool(text: &str) -> bool {
    words_of_clauses(text, |words| {
        let of_tool = |at: usize| {
            let before = words.get(at.saturating_sub(NEAR)..at).unwrap_or_default();
            let is = |n: usize, of: &[&str]| words.get(n).is_some_and(|word| of.contains(word));
            let spent = is(at, &SPENT) && before.iter().any(|word| TOOLS.contains(word));
            let to_be = is(at, &TOOLS) && (at..=at + NEAR).any(|n| is(n, &SPENT));
            !before.iter().any(|word| PARTS.contains(word)) && (spent || to_be)
        };
        (0..words.len()).any(|at| is_grave(words, at) && !is_denied(words, at) && !of_tool(at))
    })
}

/// Whether the words of any clause of a text are so.
pub(super) fn words_of_clauses(text: &str, are: impl Fn(&[&str]) -> bool) -> bool {
    let text = text.to_lowercase().replace('’', "'");
    // The point of a figure ends no clause.
    let digit = |c: Option<char>| c.is_some_and(|c| c.is_ascii_digit());
    let marks: Vec<char> = text.chars().collect();
    let plain = |(at, c): (usize, &char)| {
        let inside = digit(at.checked_sub(1).and_then(|before| marks.get(before).copied()))
            && digit(marks.get(at + 1).copied());
        if matches!(c, '.' | ',') && inside { ' ' } else { *c }
    };
    let text: String = marks.iter().enumerate().map(plain).collect();
    let ends = |c: char| matches!(c, ',' | ';' | ':' | '.' | '!' | '?' | '(' | ')' | '\n');
    text.split(ends).any(|clause| {
        let words: Vec<&str> =
            clause.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty()).collect();
        are(&words)
    })
}

/// Words behind a thing that was denied which leave some of it: "no leak except at 3", "no crack over 3 mm".
const BUT: [&str; 4] = ["except", "besides", "apart", "but"];

/// Whether what is denied is denied in part.
fn is_excepted(words: &[&str], at: usize) -> bool {
    let behind = words.get(at + 1..).unwrap_or_default();
    let over =
        behind.windows(2).any(|two| two[0] == "over" && two[1].starts_with(|c: char| c.is_ascii_digit()));
    over || behind.iter().any(|word| BUT.contains(word))
}

/// Whether exactly one denial stands just before a word, with nothing between that takes it back.
pub(super) fn is_denied(words: &[&str], at: usize) -> bool {
    // A hairline crack is one thing, and denied as one.
    if let Some(before) = at.checked_sub(1).filter(|before| is_grave(words, *before)) {
        return is_denied(words, before);
    }
    if is_till_now(words, at) || is_excepted(words, at) {
        return false;
    }
    let denies = |n: usize| words.get(n).is_some_and(|word| DENIES.contains(word));
    // "Crack free" denies it, and "not crack free" does not.
    if words.get(at + 1).is_some_and(|word| ["free", "less"].contains(word)) {
        return !(at.saturating_sub(NEAR)..at).any(denies);
    }
    if let Some(free) = (at.saturating_sub(NEAR + 1)..at).rfind(|n| words.get(*n) == Some(&"free")) {
        return words.get(free + 1) == Some(&"of") && !(free.saturating_sub(NEAR)..free).any(denies);
    }
    let from = at.saturating_sub(NEAR);
    let before = words.get(from..at).unwrap_or_default();
    // Of two words of damage each needs a denial of its own.
    let other = (from..at).any(|n| is_grave(words, n));
    let unsure = |n: usize| words.get(n + 1).is_some_and(|next| UNSURE.contains(next));
    let denials = (from..at).filter(|n| {
        let word = words.get(*n).copied().unwrap_or_default();
        // `No 3 leaks` counts cylinders.
        let counts = word == "no"
            && words.get(n + 1).is_some_and(|next| next.starts_with(|c: char| c.is_ascii_digit()));
        DENIES.contains(&word) && !counts
    });
    let sure = denials.clone().all(|n| !unsure(n));
    !other && !before.is_empty() && sure && denials.count() == 1
}

/// Whether what is denied is so only until a time that has come.
fn is_till_now(words: &[&str], at: usize) -> bool {
    let never = words.get(at.saturating_sub(NEAR)..at).unwrap_or_default().contains(&"never");
    let mut until = (at..words.len()).filter(|n| words.get(*n).is_some_and(|word| UNTIL.contains(word)));
    until.any(|n| never || words.get(n + 1).is_none_or(|next| NOW.contains(next)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_denial_counts_just_before_what_it_denies_and_for_that_alone() {
        for text in [
            "crack in the jacket wall",
            "do not cut: crack in jacket wall",
            "no coolant left, cracked at the top",
            "no doubt a crack",
            "no doubt cracked",
            "not sure cracked",
            "not good: it leaks",
            "casino crack",
            "not one but two cracks",
            "no crack or leak",
            "not without cracks",
            "fracture in the wall",
            "split at the deck",
            "hole through to the jacket",
            "block shifted in the clamps",
            "knocked the block with the crane",
            "the wall is porous",
            "water runs out of the bore",
            "it weeps at the ledge",
            "dropped",
            "spindle crashed into the deck",
            "bumped the fixture with the hoist",
            "bumped the table",
            "hit a clamp with the head",
            "hit the ledge with the bar",
            "lost zero, set it again",
            "lost the zero of X",
            "zero was lost",
            "power cut, restarted the control",
            "power was cut in mid cut",
            "block was lifted off and put back",
            "lifted the block off the parallels",
            "block slid",
            "block rocked on its locators",
            "reclamped",
            "clamp was loose",
            "vice came loose",
            "tool came loose",
            "void behind the register",
            "cavity near the deck",
            "sand hole 2 mm",
            "blow hole near top",
            "pinhole in the wall",
            "hairline in the ledge",
            "fissure in web",
            "flaw in casting",
            "cold shut at the web",
            "sees daylight",
            "daylight between pockets",
            "water comes in",
            "wall thin",
            "wall is paper thin, 0.5 left",
            "corroded through",
            "cut too deep",
            "went 0.3 too deep",
            "register oversize",
            "gouge 0.3 deep in the register",
            "wrong sleeve in bore",
            "iron left",
            "no iron seen at all",
            "air bubbles at 2 bar",
            "loses pressure",
            "does not hold pressure",
            "won't hold pressure",
            "coolant drips below flange",
            "wet below the flange after test",
            "sleeve fell in by hand, no press",
            "o-ring cut on fitting",
            "O-rings were pinched",
            "swarf under the flange",
            "trapped swarf under the block",
            "No 3 leaks",
            "no 2 cracks",
            "not fully cracked",
            "not a serious leak",
            "no big crack",
            "never was cracked before today",
            "no crack before now",
            "not cracked until today",
            "no bubbles here, bubbles there",
            "rift in the ledge",
            "deck dinged",
            "deck was dinged by the hoist",
            "ding in the deck at the front",
            "dent at the ledge",
            "hammer mark beside bore 3",
            "register oval",
            "register is out of round",
            "chatter marks at 60 deep",
            "the bar chattered",
            "insert wore",
            "insert was worn",
            "not crack free",
            "not leak free",
            "not free of cracks",
            "no leak except at 3",
            "no porosity apart from one spot",
            "no crack over 3 mm",
            "no crack besides the old one",
            "craked bridge",
            "porus metal at 60",
            "can see light between 1 and 3",
            "gauge out of calibration",
            "gauge's calibration has expired",
            "block fell off the fixture",
            "torn metal at the bottom",
            "a piece came off the bridge",
            "the shell spun",
            "hole in the wall",
            "nicked the stud hole",
            "went through",
            "hit water",
            "jacket opened up",
            "there is water in the bore",
            "the table jumped",
            "clamp came off",
            "shim fell out",
            "e-stop",
            "emergency stop pressed",
            "had to home the machine again",
            "Z was out by 1 mm",
            "took half a mm too much",
            "came out 0.1 big",
            "sleeve stuck half way",
            "sleeve went in crooked",
        ] {
            assert!(tells_of_damage(text), "{text}");
        }
        for text in [
            "",
            "dye: no crack",
            "no visible crack",
            "not cracked, never leaked",
            "free of cracks",
            "free of any crack",
            "without a crack",
            "has not moved",
            "swarf removed",
            "as planned when its pocket was cut",
            "the runout is small",
            "no bubbles",
            "no air bubbles",
            "no crack found",
            "no hairline cracks",
            "no pinhole leaks",
            "no voids, no sand holes",
            "without a cavity, without flaws",
            "not too deep",
            "no iron left",
            "all iron gone",
            "no swarf under the flange",
            "does not lose pressure",
            "holds pressure",
            "no o-ring cut",
            "o-ring grooves cut to size",
            "oversize sleeve fitted",
            "dial had lost its zero",
            "gauge was set too deep",
            "gauge bumped",
            "read too deep with the old probe",
            "torque plate lifted off",
            "sleeve slid home hot",
            "avoid the rear stud",
            "flawless",
            "rock solid",
            "no crack found before the fit",
            "looked at by daylight",
            "power on at nine",
            "wet length bored",
            "thin wall sleeve",
            "zero set anew as asked",
            "datum picked up anew",
            "no rift, no dents in it",
            "no hammer marks, no chatter marks",
            "drift of the dial",
            "independent of the gauge",
            "register not oval",
            "gauge not out of calibration",
            "insert changed",
            "crack free",
            "leak-free at 3 bar",
            "no leak at the other end",
            "no crack in the only bridge looked at",
            "went through the list again",
            "clamps off for the other bank",
            "big end bolts are with the customer",
            "0.5 mm feeler does not enter",
            "shims as before",
            "no hole in the wall",
        ] {
            assert!(!tells_of_damage(text), "{text}");
        }
    }
}
