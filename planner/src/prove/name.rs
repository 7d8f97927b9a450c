//! The name of a list's file: whether it is called as the list that it holds, or as none.

use super::flaw::{At, Flaws};
use super::reference::{List, Reference, stem};
use crate::read::fault::plain;

/// A word shorter than this may stand in another by chance.
const WORD: usize = 4;

/// Told where the file is called as another list of the plan, or as one of any plan: it will be loaded for that one. Letters and
/// digits count, without their case: a stick, a mail or a control writes the rest as it likes.
pub(super) fn file_name(name: &str, list: &List, plan: &Reference, flaws: &mut Flaws) {
    let said = parts(stem(name));
    let own = parts(stem(&list.file));
    let others = || plan.lists.iter().filter(|l| l.file != list.file).map(|l| parts(stem(&l.file)));
    let of_own = said.starts_with(&own);
    // Behind its own name a number is a date or a copy's.
    let of_other = others()
        .flatten()
        .filter(|part| !(own.contains(part) || of_own && is_number(part)))
        .any(|part| is_told(&said, &part, &own));
    let of_cylinder = said.windows(2).any(|pair| match pair {
        [word, n] => word.starts_with("cyl") && n.parse().is_ok_and(|n: u32| !list.cylinders.contains(&n)),
        _ => false,
    });
    // Number, stage, and the rest, as lists of any plan are called.
    let like_a_list = matches!(said.as_slice(), [number, stage, ..]
        if is_number(number) && ["rough", "pocket", "finish"].contains(&stage.as_str()));
    if of_other || of_cylinder || is_begun(&said, others(), &own) || (like_a_list && !of_own) {
        let found = format!("a file called `{}`", plain(stem(name), 60));
        let expected = format!("`{}`, as its head and its rows say", stem(&list.file));
        flaws.add(At::default(), "name", found, expected);
    }
}

/// The runs of letters and of digits in a name, small, a number without the noughts before it.
fn parts(name: &str) -> Vec<String> {
    let mut parts: Vec<String> = Vec::new();
    let mut before = None;
    for c in name.to_lowercase().chars() {
        let kind = c.is_alphanumeric().then(|| c.is_ascii_digit());
        match (kind, parts.last_mut()) {
            (None, _) => {}
            (Some(_), Some(part)) if kind == before => part.push(c),
            _ => parts.push(c.to_string()),
        }
        before = kind;
    }
    for part in parts.iter_mut().filter(|part| is_number(part)) {
        let number = part.trim_start_matches('0').to_owned();
        *part = number;
    }
    parts
}

fn is_number(part: &str) -> bool {
    part.bytes().all(|b| b.is_ascii_digit())
}

/// Whether a name has a part of another list's: a number as it is, a word also within a longer one that is not this list's.
fn is_told(said: &[String], part: &str, own: &[String]) -> bool {
    let within = |word: &String| part.len() >= WORD && !own.contains(word) && word.contains(part);
    said.iter().any(|word| word == part || (!is_number(part) && within(word)))
}

/// Whether the letters of a name, as a system of short names leaves them, begin those of another list and not of this one:
/// `ROUGHR` of `rough-right`.
fn is_begun(said: &[String], mut others: impl Iterator<Item = Vec<String>>, own: &[String]) -> bool {
    let letters = |parts: &[String]| -> String {
        parts.iter().filter(|part| !is_number(part)).map(String::as_str).collect()
    };
    let said = letters(said);
    let begins = |of: &[String]| letters(of).starts_with(&said);
    said.len() > WORD && !begins(own) && others.any(|other| begins(&other))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_is_its_letters_and_digits() {
        assert_eq!(parts("10-Rough_LEFT (2)"), ["10", "rough", "left", "2"]);
        assert_eq!(parts("O0030"), ["o", "30"]);
        assert_eq!(parts("30ROUGHR"), ["30", "roughr"]);
        assert!(parts("--").is_empty());
    }
}
