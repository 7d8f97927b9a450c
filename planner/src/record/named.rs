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
    "for now",
    "no cutting",
    "nothing else",
    "stays on hold",
    "on hold",
    "to be read again",
    "later today",
];

/// Steps of the work: "rough only" lets through that one and no other.
const STEPS: [&str; 20] = [
    "rough",
    "roughing",
    "pocket",
    "pockets",
    "recess",
    "recesses",
    "ledge",
    "ledges",
    "finish",
    "finishing",
    "boring",
    "hone",
    "honing",
    "trial",
    "cut",
    "run",
    "pass",
    "passes",
    "indicating",
    "touching",
];

/// An hour later something was read again: it is waited for no more.
const TIMES: [&str; 14] = [
    "night", "nights", "minutes", "minute", "hour", "hours", "day", "days", "week", "weeks", "shift",
    "shifts", "month", "months",
];

/// A release that begins with one of these waits for something, where it does not go on to tell what was.
const CONDITIONS: [&str; 4] = ["if", "when", "once", "until"];

/// Words of what was seen, and not of what is waited for.
const SEEN: [&str; 8] = ["was", "were", "read", "stood", "found", "measured", "showed", "came"];

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
    let row: Vec<&str> = words.split_whitespace().collect();
    let of_a_step = row
        .iter()
        .take(3)
        .zip(row.iter().skip(1))
        .any(|(step, only)| *only == "only" && STEPS.contains(step))
        || matches!(row.as_slice(), [.., "only", step] if STEPS.contains(step));
    let put_off = matches!(row.as_slice(), [.., before, "later"] if !TIMES.contains(before));
    let provided = words.contains(" provided ") && !words.contains(" as provided ");
    is_named(by, why)
        && words.split_whitespace().any(is_a_word)
        && !["stop", "later", "testing", "maybe", "perhaps", "tomorrow"].into_iter().any(is_bare)
        && !waits
        && !of_a_step
        && !put_off
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
            "rough only for now",
            "trial cut only",
            "dry run only, nothing else",
            "left ok right later",
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
            "read again an hour later",
            "only a rough spot of the casting",
            "dry run showed it clear",
        ] {
            assert!(lets_through("A. Turner", why), "{why}");
        }
        assert!(!lets_through("me", "seen, harmless"));
        assert!(!lets_through("unsigned", "seen, harmless") && !lets_through("TBD", "seen, harmless"));
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
