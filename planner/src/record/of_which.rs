//! Which bores a release of a plan says that it is of: a plan is released as a whole, so that one which names some of what is held,
//! or leaves some out, is none.

use std::collections::BTreeSet;

/// What says of a release of all that it is not of all, before a bore.
const SOME: [&str; 9] = ["but", "bar", "except", "excluding", "save", "not", "without", "barring", "minus"];

/// The same in two words.
const SOME_OF_TWO: [[&str; 2]; 6] = [
    ["apart", "from"],
    ["aside", "from"],
    ["other", "than"],
    ["save", "for"],
    ["except", "for"],
    ["exception", "of"],
];

/// Of [`SOME`], what is also said of something else: it leaves out only what all was said of before it.
const OR_ELSE: [&str; 3] = ["but", "bar", "save"];

/// What a release of all speaks of before it leaves one out.
const ALL: [&str; 10] =
    ["all", "everything", "every", "everyone", "any", "anything", "fine", "ok", "agreed", "good"];

/// So many words stand between the two at the most: "all bores are fine but".
const BETWEEN: usize = 3;

/// Words for a bore and bores.
const BORES: [&str; 16] = [
    "bore",
    "bores",
    "cylinder",
    "cylinders",
    "cyl",
    "cyls",
    "liner",
    "liners",
    "sleeve",
    "sleeves",
    "hole",
    "holes",
    "barrel",
    "barrels",
    "pot",
    "pots",
];

/// Words that a number of anything follows.
const NUMBERED: [&str; 6] = ["no", "nos", "nr", "number", "numbers", "#"];

/// Words for one side of a block, behind its name and before it.
const BANKS: [&str; 2] = ["bank", "banks"];
const OF_BANK: [&str; 6] = ["bank", "bores", "cylinders", "liners", "row", "hand"];

/// What is counted or measured and is no bore, behind a number.
const COUNTED: [&str; 20] = [
    "circles",
    "points",
    "depths",
    "times",
    "clocks",
    "readings",
    "rows",
    "mm",
    "deep",
    "thou",
    "hundredths",
    "gauge",
    "gauges",
    "bar",
    "deg",
    "degrees",
    "kelvin",
    "k",
    "minutes",
    "hours",
];

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

/// Ends of figures that say an order: "3rd".
const ENDS: [&str; 4] = ["st", "nd", "rd", "th"];

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

/// A bore's number in an order, as a word.
fn in_order(word: &str) -> Option<u32> {
    IN_ORDER.iter().position(|own| *own == word).and_then(|at| u32::try_from(at + 1).ok())
}

/// The numbers that are listed from a word on, ranges as all that lie in them, and where the list ends.
fn listed(words: &[String], from: usize) -> (BTreeSet<u32>, usize) {
    let (mut found, mut end, mut range) = (BTreeSet::new(), from, None);
    for (at, word) in words.iter().enumerate().skip(from) {
        let counts = words.get(at + 1).is_some_and(|next| COUNTED.contains(&next.as_str()));
        match (number(word), word.as_str()) {
            (Some(_), _) if counts => break,
            (Some(to), _) => {
                // A block has no more bores than this.
                found.extend(
                    range.take().filter(|from| *from <= to).map_or(to..=to, |from| from..=to.min(99)),
                );
                end = at + 1;
            }
            (None, "to" | "through" | "thru") => range = found.last().copied(),
            (None, "and" | "or" | "from") => range = None,
            (None, word) if NUMBERED.contains(&word) || BORES.contains(&word) => range = None,
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
    let before = |at: usize, by: usize| word(at.checked_sub(by));
    // What leaves out, where it ends before a word: a bore that is named by its number whatever stands before.
    let leaves_out = |at: usize, is_named: bool| {
        let (one, two) = (before(at, 1), [before(at, 2), before(at, 1)]);
        let length = if SOME_OF_TWO.contains(&two) {
            2
        } else if SOME.contains(&one) {
            1
        } else {
            return false;
        };
        let start = at - length;
        let of_all = (1..=BETWEEN + 1).any(|by| ALL.contains(&before(start, by)));
        let alone = length == 2 || !OR_ELSE.contains(&one);
        of_all || (start == 0 && one == "but") || (alone && (is_named || start == 0))
    };
    // A bore, some, or a bank, as they are named in a row: where it ends, and whether by number.
    let bores_from = |at: usize| -> Option<(usize, bool)> {
        let own = word(Some(at));
        if BORES.contains(&own) || NUMBERED.contains(&own) {
            let (found, end) = listed(&words, at + 1);
            return (!found.is_empty()).then_some((end, BORES.contains(&own)));
        }
        // "left bank", "bank left", "left side".
        (own == "bank" || ["bank", "side"].contains(&word(Some(at + 1)))).then_some((at + 2, false))
    };
    let named = (0..words.len()).any(|at| {
        let Some((end, is_named)) = bores_from(at) else { return false };
        // "the", "no", "nr" may stand between.
        let from = if ["the", "a"].contains(&before(at, 1)) { at - 1 } else { at };
        leaves_out(from, is_named)
            || ["excepted", "excluded"].contains(&word(Some(end)))
            || ["only", "just"].contains(&before(from, 1))
            || word(Some(end)) == "only"
    });
    // "all but the sixth", "fine except 6": nothing says what they are, and it can be a bore alone.
    let bare = (0..words.len()).any(|at| {
        let own = word(Some(at));
        let is_one = number(own).is_some() || in_order(own).is_some() || own == "last";
        let counts = COUNTED.contains(&word(Some(at + 1)));
        let is_size = own.contains('.')
            || word(Some(at + 1)).starts_with("reading")
            || word(Some(at + 1)).starts_with("point");
        let from = if ["the", "no", "nr", "number"].contains(&before(at, 1)) { at - 1 } else { at };
        let skipped = before(at, 1) == "skip" || (before(at, 1) == "leave" && word(Some(at + 1)) == "out");
        let out =
            skipped || leaves_out(from, false) || ["excepted", "excluded"].contains(&word(Some(at + 1)));
        is_one && !counts && !is_size && out
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
    let is = |at: usize, of: &[&str]| words.get(at).is_some_and(|word| of.contains(&word.as_str()));
    let mut found = BTreeSet::new();
    for (at, word) in words.iter().enumerate() {
        // A number alone says what it is of where it begins.
        let begins = at == 0 && (number(word).is_some() || is(0, &NUMBERED));
        if BORES.contains(&word.as_str()) {
            found.extend(listed(&words, at + 1).0);
        } else if begins {
            found.extend(listed(&words, 0).0);
        }
        // "third cylinder", "3rd bore".
        let ordered = in_order(word).filter(|_| is(at + 1, &BORES));
        let ended = number(word).filter(|_| is(at + 1, &ENDS) && is(at + 2, &BORES));
        found.extend(ordered.or(ended));
    }
    for (name, cylinders) in banks {
        let name: Vec<String> =
            self::words(name).into_iter().filter(|word| !["bank", "side"].contains(&word.as_str())).collect();
        let is_here = (0..words.len()).any(|at| {
            let is_name = !name.is_empty() && words[at..].starts_with(&name);
            // A name of one letter is a word as well: only right behind "bank".
            let short = name.len() == 1 && name[0].chars().count() == 1;
            let behind = at.checked_sub(1).is_some_and(|before| is(before, &BANKS));
            is_name && (behind || (!short && is(at + name.len(), &OF_BANK)))
        });
        if is_here {
            found.extend(cylinders);
        }
    }
    let all: BTreeSet<u32> = banks.iter().flat_map(|(_, cylinders)| cylinders.iter().copied()).collect();
    found.into_iter().filter(|n| all.contains(n)).collect()
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
            "all bores but 4 looked at",
            "every bore but 4",
            "all fine but not 4",
            "all but nr 4",
            "all fine apart from 4",
            "all fine with the exception of 4",
            "all looked at, 4 excepted",
            "all bores ok, skip 4",
            "leave 4 out, rest is fine",
            "walls read again but not cylinder 1",
            "looked at, except cylinder 6",
            "read again, other than bore 3",
            "agreed by phone: bore 2 only, the rest waits",
            "just bores 2 and 4",
            "only the left side",
            "left side only, re-read",
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
            "pressure tested at 3 bar 10 minutes, tight",
            "boring bar 40 sits tight",
            "all walls agree except one reading that was a chip",
            "all read alike except two points, read again",
            "walls read low but bore 3 and bore 4 again gave 2.4",
            "it is the deck and not the bank that is off",
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
            ("cylinders 5, 6 and 3 checked", vec![3, 5, 6]),
            ("cylinders 5,6 & 3 checked", vec![3, 5, 6]),
            ("cyl. 5 and cyl. 6", vec![5, 6]),
            ("cyl5 re-read", vec![5]),
            ("#5, #6 re-read", vec![5, 6]),
            ("cylinders 4-6 fine", vec![4, 5, 6]),
            ("bores 2 to 4", vec![2, 3, 4]),
            ("bores five and six", vec![5, 6]),
            ("bank left as agreed", vec![1, 3, 5]),
            ("the left bank and bore 6", vec![1, 3, 5, 6]),
            ("both banks looked at", vec![]),
            ("agreed by phone", vec![]),
            ("bore 89.78 gauged again", vec![]),
            ("wall left 2.4 at 90", vec![]),
            ("main no 3 swept again", vec![]),
            ("cylinder no. 3 re-read", vec![3]),
            ("bore number 3 re-read", vec![3]),
            ("No. 3 re-read and fine", vec![3]),
            ("3 re-read", vec![3]),
            ("third cylinder re-read", vec![3]),
            ("3rd bore re-read", vec![3]),
            ("liner 3 sounded again", vec![3]),
            ("left bores re-read", vec![1, 3, 5]),
            ("left-hand bank re-read", vec![1, 3, 5]),
            ("bores from 5 to 6", vec![5, 6]),
            ("cylinder 3, 4 points at each depth", vec![3]),
            ("cylinders 3 thru 4", vec![3, 4]),
            ("gauge #2 was off, read again with gauge #1", vec![]),
            ("bores 75 deep read again", vec![]),
            ("bore 82 gauge set anew", vec![]),
            ("scratch on the left side, seen", vec![]),
        ] {
            assert_eq!(named(why), bores, "{why}");
        }
    }
}
