//! Which bores a release of a plan says that it is of: a plan is released as a whole, so that one which names some of what is held,
//! or leaves some out, is none.

use std::collections::BTreeSet;

/// What says of a release of all that it is not of all, before or behind a bore.
const SOME: [&str; 9] = ["but", "bar", "except", "excluding", "save", "not", "without", "barring", "minus"];

/// The same in two words.
const SOME_OF_TWO: [[&str; 2]; 3] = [["apart", "from"], ["aside", "from"], ["other", "than"]];

/// Of those, what leaves out by itself, whatever stands before it.
const LEAVES_OUT: [&str; 4] = ["bar", "except", "excluding", "barring"];

/// What a release of all begins with that leaves one out.
const ALL: [&str; 6] = ["all", "everything", "every", "everyone", "any", "anything"];

/// Words for a bore and bores.
const BORES: [&str; 7] = ["bore", "bores", "cylinder", "cylinders", "cyl", "cyls", "#"];

/// Words that a number of anything follows.
const NUMBERED: [&str; 5] = ["no", "nos", "number", "numbers", "num"];

/// Words for one side of a block.
const BANKS: [&str; 3] = ["bank", "banks", "side"];

/// Numbers as words.
const NUMBERS: [&str; 16] = [
    "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
    "thirteen", "fourteen", "fifteen", "sixteen",
];

/// The same in order.
const IN_ORDER: [&str; 16] = [
    "first",
    "second",
    "third",
    "fourth",
    "fifth",
    "sixth",
    "seventh",
    "eighth",
    "ninth",
    "tenth",
    "eleventh",
    "twelfth",
    "thirteenth",
    "fourteenth",
    "fifteenth",
    "sixteenth",
];

/// A text's words, small: figures apart from letters, a range's hyphen as "to", decimals whole.
fn words(text: &str) -> Vec<String> {
    let all: Vec<char> = text.to_lowercase().chars().collect();
    let is_digit = |at: usize| all.get(at).is_some_and(char::is_ascii_digit);
    let mut found: Vec<String> = Vec::new();
    let mut own = String::new();
    for (at, c) in all.iter().copied().enumerate() {
        let between = at > 0 && is_digit(at - 1) && is_digit(at + 1);
        let turns = at > 0 && is_digit(at) != is_digit(at - 1) && !own.ends_with('.');
        let belongs = c.is_alphanumeric() || (c == '.' && between);
        if (!belongs || (turns && c != '.')) && !own.is_empty() {
            found.push(std::mem::take(&mut own));
        }
        match c {
            _ if belongs => own.push(c),
            '-' | '\u{2013}' if between => found.push("to".to_owned()),
            '#' => found.push("#".to_owned()),
            '&' | '+' => found.push("and".to_owned()),
            _ => {}
        }
    }
    found.extend(Some(own).filter(|own| !own.is_empty()));
    found
}

/// A bore's number, in figures or as a word.
fn number(word: &str) -> Option<u32> {
    let of =
        |words: &[&str]| words.iter().position(|of| *of == word).and_then(|at| u32::try_from(at + 1).ok());
    word.parse().ok().or_else(|| of(&NUMBERS))
}

/// The numbers that are listed from a word on, ranges as all that lie in them, and where the list ends.
fn listed(words: &[String], from: usize) -> (BTreeSet<u32>, usize) {
    let (mut found, mut end, mut range) = (BTreeSet::new(), from, None);
    for (at, word) in words.iter().enumerate().skip(from) {
        match (number(word), word.as_str()) {
            (Some(to), _) => {
                // A block has no more bores than this.
                found.extend(
                    range.take().filter(|from| *from <= to).map_or(to..=to, |from| from..=to.min(99)),
                );
                end = at + 1;
            }
            (None, "to" | "through") => range = found.last().copied(),
            (None, "and" | "or" | "#") => range = None,
            (None, _) => break,
        }
    }
    (found, end)
}

/// Whether a reason says that it is of some bores and not of others ("all but cylinder 6", "bores 2 and 4 only").
#[must_use]
pub fn is_of_some(why: &str) -> bool {
    let words = words(why);
    let word = |at: Option<usize>| at.and_then(|at| words.get(at)).map_or("", String::as_str);
    // A bore, some, or a bank, as they are named in a row: where it ends.
    let bores_from = |at: usize| -> Option<usize> {
        let own = word(Some(at));
        if BORES.contains(&own) || NUMBERED.contains(&own) {
            let (found, end) = listed(&words, at + 1);
            return (!found.is_empty()).then_some(end);
        }
        // "left bank", "bank left".
        if BANKS.contains(&own) {
            return Some(at + 2);
        }
        BANKS[..1].contains(&word(Some(at + 1))).then_some(at + 2)
    };
    let named = (0..words.len()).any(|at| {
        let Some(end) = bores_from(at) else { return false };
        let (before, behind) = (word(at.checked_sub(1)), word(Some(end)));
        // "not cylinder 1" leaves it out, "cylinder 1 not read" does not say so.
        let two = at.checked_sub(2).and_then(|from| words.get(from..at)).unwrap_or_default();
        let leaves_out = SOME.contains(&before)
            || SOME_OF_TWO.iter().any(|some| two == some)
            || ["excepted", "excluded"].contains(&behind);
        leaves_out || ["only", "just"].contains(&before) || behind == "only"
    });
    // "all but the sixth", "except 6": nothing says what they are, and it can be a bore alone.
    let is_bare = |at: usize| {
        let at = if word(Some(at)) == "the" { at + 1 } else { at };
        number(word(Some(at))).is_some() || IN_ORDER.contains(&word(Some(at))) || word(Some(at)) == "last"
    };
    let bare = (0..words.len()).any(|at| {
        let own = word(Some(at));
        let of_all = SOME.contains(&own) && ALL.contains(&word(at.checked_sub(1)));
        (of_all || LEAVES_OUT.contains(&own)) && is_bare(at + 1)
    });
    let last = words.len().checked_sub(1);
    let only = |only: &str, n: &str| only == "only" && number(n).is_some();
    let alone =
        only(word(last.and_then(|at| at.checked_sub(1))), word(last)) || only(word(Some(1)), word(Some(0)));
    named || bare || alone
}

/// The bores that a reason names, by their numbers or by their bank, `banks` being the names of a block's and their cylinders: none
/// where it names none.
#[must_use]
pub fn named_bores(why: &str, banks: &[(&str, Vec<u32>)]) -> BTreeSet<u32> {
    let words = words(why);
    let mut found = BTreeSet::new();
    for (at, word) in words.iter().enumerate() {
        if BORES.contains(&word.as_str()) {
            found.extend(listed(&words, at + 1).0);
        }
    }
    for (name, cylinders) in banks {
        let name = self::words(name);
        let is_here = words.windows(name.len() + 1).any(|row| {
            let is_bank = |word: Option<&String>| word.is_some_and(|word| BANKS.contains(&word.as_str()));
            (row.starts_with(&name) && is_bank(row.last())) || (row.ends_with(&name) && is_bank(row.first()))
        });
        if is_here && !name.is_empty() {
            found.extend(cylinders);
        }
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_release_of_some_bores_says_so() {
        for why in [
            "all but cylinder 6 fine",
            "bore 2 only, wall re-read 2.4",
            "only bores 2 and 4",
            "left bank only, re-read",
            "only bank left",
            "bank left only",
            "only 5",
            "number 5 only",
            "5 only, looked at",
            "everything but six",
            "all but the sixth",
            "agreed except 6",
            "all fine, excluding the last one",
        ] {
            assert!(is_of_some(why), "{why}");
        }
        for why in [
            "cylinder 6 wall re-read 2.42",
            "the only reading that was off, read again",
            "only a shadow of the lamp",
            "wall of 2.4 only",
            "bore 3 read only once before, again 2.4",
            "all but certain it is the casting",
            "wall 3 mm, not 5, read twice",
            "only 2.4 left",
        ] {
            assert!(!is_of_some(why), "{why}");
        }
    }

    #[test]
    fn what_a_release_names_is_read_in_any_of_its_forms() {
        let banks = [("left", vec![1, 3, 5]), ("right", vec![2, 4, 6])];
        let named = |why: &str| named_bores(why, &banks).into_iter().collect::<Vec<_>>();
        for (why, bores) in [
            ("cylinder 5 checked again", vec![5]),
            ("bore 5 wall re-read 6.8", vec![5]),
            ("cylinders 5, 6 and 9 checked", vec![5, 6, 9]),
            ("cylinders 5,6 & 9 checked", vec![5, 6, 9]),
            ("cyl. 5 and cyl. 6", vec![5, 6]),
            ("cyl5 re-read", vec![5]),
            ("#5, #6 re-read", vec![5, 6]),
            ("cylinders 5-7 fine", vec![5, 6, 7]),
            ("bores 2 to 4", vec![2, 3, 4]),
            ("bores five and six", vec![5, 6]),
            ("bank left as agreed", vec![1, 3, 5]),
            ("the left bank and bore 6", vec![1, 3, 5, 6]),
            ("both banks looked at", vec![]),
            ("agreed by phone", vec![]),
            ("bore 89.78 gauged again", vec![]),
            ("wall left 2.4 at 90", vec![]),
            ("main no 3 swept again", vec![]),
        ] {
            assert_eq!(named(why), bores, "{why}");
        }
    }
}
