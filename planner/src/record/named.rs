//! Who decided and why: a name that is somebody's, and a reason that is one.

/// What is written where a name is asked for and none is given.
const NOBODY: [&str; 38] = [
    "unsigned",
    "notsigned",
    "tbd",
    "pending",
    "yourname",
    "name",
    "leftblank",
    "blank",
    "willsignlater",
    "test",
    "nobody",
    "noone",
    "none",
    "nil",
    "null",
    "unknown",
    "unnamed",
    "anonymous",
    "anon",
    "anybody",
    "anyone",
    "somebody",
    "someone",
    "whoever",
    "who",
    "n/a",
    "n.a.",
    "no",
    "me",
    "myself",
    "us",
    "we",
    "you",
    "him",
    "her",
    "it",
    "them",
    "they",
];

/// Initials that are a word as well.
const INITIALS: [&str; 4] = ["ME", "US", "WE", "IT"];

/// Words that are no reason, however many of them stand there.
const NO_REASON: [&str; 20] = [
    "n/a", "n.a.", "na", "none", "nobody", "unknown", "nil", "null", "no", "reason", "ok", "okay", "yes",
    "x", "xx", "xxx", "because", "just", "so", "whatever",
];

/// Whether a decision has a name and a reason to it, the reason of two words or more: "ok" is not enough, nor is "ok ok".
/// A release of a plan keeps the same rule.
#[must_use]
pub fn is_named(by: &str, why: &str) -> bool {
    is_somebody(by) && is_reason(why)
}

/// What says of a release that it is none, or not yet one; words in a row.
const NO_RELEASE: &[&str] = &[
    "not approved",
    "not allowed",
    "refused",
    "rejected",
    "scrap",
    "do not bore",
    "do not run",
    "do not release",
    "do not use",
    "not released",
    "not yet",
    "not to be released",
    "no release",
    "do not cut",
    "dont",
    "don t",
    "wait",
    "waiting",
    "pending",
    "ask",
    "hold off",
    "to be confirmed",
    "if customer",
    "first ask",
    "unless",
    "stop here",
    "stop it",
    "stop now",
    "stop this",
    "stop work",
    "stop cutting",
    "do nothing",
    "no way",
    "only if",
    "only when",
    "only after",
    "provided that",
    "will decide",
    "to decide",
    "decides later",
    "decides tomorrow",
    "decides next",
    "said later",
    "do later",
    "later maybe",
    "just testing",
    "only testing",
    "just a test",
    "never mind",
    "withdrawn",
    "withdraw",
    "revoked",
    "revoke",
    "is cancelled",
    "is canceled",
    "taken back",
    "no longer valid",
    "is scrapped",
    "subject to",
    "on condition",
    "as long as",
    "so long as",
    "assuming",
];

/// A release that begins with one of these waits for something, where it does not go on to tell what was.
const CONDITIONS: [&str; 4] = ["if", "when", "once", "until"];

/// Words of what was seen, and not of what is waited for.
const SEEN: [&str; 8] = ["was", "were", "read", "stood", "found", "measured", "showed", "came"];

/// What says of a release of all that it is not of all, before or behind a bore.
const SOME: [&str; 9] = ["but", "bar", "except", "excluding", "save", "not", "without", "barring", "minus"];

/// The same in two words.
const SOME_OF_TWO: [[&str; 2]; 3] = [["apart", "from"], ["aside", "from"], ["other", "than"]];

/// Words for what a release of a plan may be of in part.
const OF_BORES: [&str; 11] =
    ["bore", "bores", "cylinder", "cylinders", "cyl", "cyls", "no", "nos", "bank", "banks", "side"];

/// Numbers of bores as words.
const NUMBERS: [&str; 16] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen",
];

/// Rows of keys: a word that runs along one is none.
const KEYS: [&str; 3] = ["qwertyuiop", "asdfghjkl", "zxcvbnm"];

/// Whether letters are a word: not a run of keys, and with a vowel where there are several. Short forms of a trade have none.
fn is_a_word(word: &str) -> bool {
    const SHORT: usize = 4;
    let run = |keys: &&str| word.chars().count() >= 3 && keys.contains(word);
    let sounds = word.chars().any(|c| !c.is_ascii_alphabetic() || "aeiouy".contains(c));
    !KEYS.iter().any(run) && (sounds || word.chars().count() < SHORT)
}

/// A text's words, small, a blank before each and behind the last.
fn in_a_row(text: &str) -> String {
    let plain: String =
        text.to_lowercase().chars().map(|c| if c.is_alphanumeric() { c } else { ' ' }).collect();
    format!(" {} ", plain.split_whitespace().collect::<Vec<_>>().join(" "))
}

/// Whether a reason says that it is of some bores and not of others ("all but cylinder 6", "bores 2 and 4 only"): a plan is released
/// as a whole.
#[must_use]
pub fn is_of_some(why: &str) -> bool {
    let row = in_a_row(why);
    let words: Vec<&str> = row.split_whitespace().collect();
    let is_number = |word: &str| word.chars().all(|c| c.is_ascii_digit()) || NUMBERS.contains(&word);
    // A bore, some, or a bank, as they are named in a row: where it ends.
    let bores_from = |at: usize| -> Option<usize> {
        let word = words.get(at)?;
        let one_bank = words.get(at + 1).filter(|next| ["bank", "side"].contains(*next)).map(|_| at + 2);
        if !OF_BORES.contains(word) {
            return one_bank;
        }
        let listed = words.get(at + 1..)?.iter();
        let listed = listed.take_while(|word| is_number(word) || ["and", "to", "or"].contains(*word)).count();
        (listed > 0).then_some(at + 1 + listed)
    };
    (0..words.len()).any(|at| {
        let Some(end) = bores_from(at) else { return false };
        let before = at.checked_sub(1).and_then(|before| words.get(before)).copied().unwrap_or_default();
        let behind = words.get(end).copied().unwrap_or_default();
        // "not cylinder 1" leaves it out, "cylinder 1 not read" does not say so.
        let two = at.checked_sub(2).and_then(|from| words.get(from..at)).unwrap_or_default();
        let leaves_out = SOME.contains(&before)
            || SOME_OF_TWO.iter().any(|some| two == some)
            || ["excepted", "excluded"].contains(&behind);
        leaves_out || ["only", "just"].contains(&before) || behind == "only"
    })
}

/// Whether a decision lets anything through: named, with a reason, and one that does not say that it lets nothing through.
#[must_use]
pub fn lets_through(by: &str, why: &str) -> bool {
    let words = in_a_row(why);
    // "Stop." and "Later!" are none either.
    let is_bare = |word: &str| {
        let mut own = words.split_whitespace();
        own.next() == Some(word) && own.count() < 2
    };
    let ends = |said: &str| words.ends_with(said);
    let mut each = words.split_whitespace();
    let waits =
        each.next().is_some_and(|word| CONDITIONS.contains(&word)) && !each.any(|word| SEEN.contains(&word));
    let provided = words.contains(" provided ") && !words.contains(" as provided ");
    is_named(by, why)
        && words.split_whitespace().any(is_a_word)
        && !["stop", "later", "testing", "maybe", "perhaps", "tomorrow"].into_iter().any(is_bare)
        && !waits
        && !provided
        && ![" said no ", " says no "].into_iter().any(ends)
        && !NO_RELEASE.iter().any(|no| words.contains(&format!(" {no} ")))
}

fn is_somebody(by: &str) -> bool {
    let name: String = by.to_lowercase().split_whitespace().collect();
    // Initials are written in capitals.
    let is_initials = INITIALS.contains(&by.trim());
    name.chars().any(char::is_alphabetic) && (is_initials || !NOBODY.contains(&name.as_str()))
}

fn is_reason(why: &str) -> bool {
    let why = why.to_lowercase();
    let edge = |c: char| !c.is_alphanumeric();
    let mut words: Vec<&str> = why
        .split_whitespace()
        .map(|word| if NO_REASON.contains(&word) { word } else { word.trim_matches(edge) })
        .filter(|word| word.chars().any(char::is_alphanumeric))
        .collect();
    let tells = words.iter().any(|word| word.chars().count() > 1 && !NO_REASON.contains(word));
    // One word said twice is one word.
    words.sort_unstable();
    words.dedup();
    tells && words.len() >= 2
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_release_that_says_it_is_none_lets_nothing_through() {
        for why in [
            "NOT released, wait for the lead",
            "do not cut",
            "ask customer first",
            "pending customer ok",
            "don't know yet, hold off",
            "STOP HERE",
            "do nothing",
            "no way",
            "only if Tom agrees",
            "Tom decides tomorrow",
            "boss said later",
            "maybe fine",
            "just testing",
            "asdf qwer",
            "testing this",
            "withdrawn for cylinder 3 after talk",
            "release is revoked",
            "no longer valid, see note",
            "if ultrasonic agrees, go",
            "provided wall exceeds 2",
        ] {
            assert!(!lets_through("A. Turner", why), "{why}");
        }
        for why in [
            "seen, harmless",
            "waited an hour, reads the same",
            "customer takes it as it is",
            "not deep: a scratch",
            "nothing wrong with it",
            "pressure test shows it tight",
            "depth stop set anew, measured twice",
            "QS: as is",
            "tight, and leaks no longer",
            "when read again wall of 6 was 2.42, harmless",
            "once re-read it was 2.42 again",
            "the walls as provided by the customer, read again 2.4",
        ] {
            assert!(lets_through("A. Turner", why), "{why}");
        }
        assert!(!lets_through("me", "seen, harmless"));
        assert!(!lets_through("unsigned", "seen, harmless") && !lets_through("TBD", "seen, harmless"));
    }

    #[test]
    fn a_release_of_some_bores_says_so() {
        for why in [
            "all but cylinder 6 fine",
            "bore 2 only, wall re-read 2.4",
            "only bores 2 and 4",
            "left bank only, re-read",
        ] {
            assert!(is_of_some(why), "{why}");
        }
        for why in [
            "cylinder 6 wall re-read 2.42",
            "the only reading that was off, read again",
            "only a shadow of the lamp",
            "wall of 2.4 only",
            "bore 3 read only once before, again 2.4",
        ] {
            assert!(!is_of_some(why), "{why}");
        }
    }

    #[test]
    fn a_decision_is_somebodys_and_has_a_reason() {
        for (by, why) in [
            ("", "gauge was dirty"),
            ("?", "gauge was dirty"),
            ("nobody", "because so"),
            ("Nobody", "gauge was dirty"),
            ("no one", "gauge was dirty"),
            ("n/a", "gauge was dirty"),
            ("none", "gauge was dirty"),
            ("unknown", "- - wrong reading"),
            ("KP", "dirty"),
            ("x", "ok ok"),
            ("a", "a a"),
            ("a", "a b"),
            ("KP", "OK, ok."),
            ("KP", "n/a n/a"),
            ("KP", "n/a none"),
            ("KP", "no reason"),
            ("KP", "just because"),
            ("KP", "dirty dirty"),
        ] {
            assert!(!is_named(by, why), "{by}: {why}");
        }
        for (by, why) in [
            ("KP", "gauge dirty"),
            ("LEAD", "as is"),
            ("K", "fits as it is"),
            ("NA", "line 5 was a slip"),
            ("Nora None", "seen and judged harmless"),
            ("lead", "no crack: a scratch"),
            ("KP", "ok as measured"),
        ] {
            assert!(is_named(by, why), "{by}: {why}");
        }
    }
}
