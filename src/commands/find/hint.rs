//! What would find something where nothing was found.

use borewright_archive::{Index, Query, Time};
use borewright_planner::read::fault::{near, plain};
use borewright_planner::read::name::folded;

use super::query;
use crate::args::FindArgs;
use crate::status::Failure;

/// Words of summaries that are held against what was typed.
const MOST_WORDS: u32 = 20_000;
/// Hints that are printed.
const MOST: usize = 5;

/// Each a question that finds something, with how many records it finds.
///
/// # Errors
/// A damaged index.
pub(super) fn of(asked: &FindArgs, index: &Index) -> Result<Vec<String>, Failure> {
    let known = index.words(MOST_WORDS)?;
    let mut hints = Vec::new();
    let mut hint = |says: String, question: &Query| -> Result<(), Failure> {
        let (found, more) = index.find(question)?;
        let count = format!("{}{}", found.len(), if more { " or more" } else { "" });
        if !found.is_empty() && hints.len() < MOST {
            hints.push(format!("{says} finds {count}"));
        }
        Ok(())
    };
    for (place, word) in asked.words.iter().enumerate() {
        let mut rest = query(asked);
        rest.words.remove(place);
        for date in dates(word) {
            let question = within(&date, &rest);
            hint(format!("--since {date} --until {date}"), &question)?;
        }
        if let Ok(bore) = word.parse::<f64>()
            && bore.is_finite()
        {
            let mut question = rest.clone();
            question.ranges.push(("bore".to_owned(), [bore, bore]));
            hint(format!("--bore {bore}"), &question)?;
        }
        if let Some(other) = meant(word, known.iter().map(|[_, word]| word.as_str())) {
            let mut question = rest;
            question.words.insert(place, other.clone());
            hint(format!("`{}` for `{}`", plain(&other, 60), plain(word, 60)), &question)?;
        }
    }
    for (place, (what, word)) in query(asked).tags.into_iter().enumerate() {
        let all: Vec<&str> =
            known.iter().filter(|[of, _]| *of == what).map(|[_, word]| word.as_str()).collect();
        let folded = folded(&word);
        let begins = format!("{word}*");
        let other = match all.iter().find(|one| !folded.is_empty() && one.contains(&folded)) {
            Some(one) if one.starts_with(&folded) => Some(begins),
            Some(one) => Some((*one).to_owned()),
            None => meant(&word, all.iter().copied()),
        };
        let (Some(other), false) = (other, word.ends_with('*')) else { continue };
        let mut question = query(asked);
        if let Some(tag) = question.tags.get_mut(place) {
            tag.1.clone_from(&other);
        }
        hint(format!("--{what} \"{}\"", plain(&other, 60)), &question)?;
    }
    Ok(hints)
}

/// The word that was likely meant: the same but for noughts before it, signs and spaces; else the nearest.
fn meant<'k>(typed: &str, known: impl Iterator<Item = &'k str>) -> Option<String> {
    let bare = |word: &str| {
        let kept: String = word.chars().filter(|c| c.is_alphanumeric()).collect();
        folded(&kept).trim_start_matches('0').to_owned()
    };
    // A name of several words is known by each.
    let all: Vec<&str> =
        known.flat_map(|word| std::iter::once(word).chain(word.split_whitespace())).collect();
    let (typed_bare, folded) = (bare(typed), folded(typed));
    let same = all.iter().find(|word| !typed_bare.is_empty() && bare(word) == typed_bare).copied();
    // Figures that are nearly the same are others.
    let is_word = typed.chars().filter(|c| c.is_alphabetic()).count() >= 3;
    let nearest = || near(&folded, all.iter().copied().filter(|word| word.len() < 64)).filter(|_| is_word);
    same.or_else(nearest).filter(|word| *word != folded).map(str::to_owned)
}

/// Of a question that found something: where one of its words is a date, the same of records that were filed then, if there are
/// more of them.
///
/// # Errors
/// A damaged index.
pub(super) fn by_date(asked: &FindArgs, index: &Index, count: usize) -> Result<Vec<String>, Failure> {
    let mut hints = Vec::new();
    for (place, word) in asked.words.iter().enumerate() {
        let mut rest = query(asked);
        rest.words.remove(place);
        for date in dates(word) {
            let (found, more) = index.find(&within(&date, &rest))?;
            if found.len() > count || more {
                let count = format!("{}{}", found.len(), if more { " or more" } else { "" });
                hints.push(format!("--since {date} --until {date} finds {count}"));
            }
        }
    }
    Ok(hints)
}

/// A question for what was filed in a year, in a month or on a day.
fn within(date: &str, rest: &Query) -> Query {
    Query { since: Time::first_of(date), before: Time::after(date), ..rest.clone() }
}

/// The years, months or days that a word may mean, as `--since` takes them: `2026`, `2026-11`, `2026-11-30`, `30.11.2026`,
/// `30/11/26`; both days of one that may be told day or month first.
fn dates(word: &str) -> Vec<String> {
    let is_time = |date: &String| Time::first_of(date).is_some();
    let is_date = word.len() >= 4
        && word.starts_with(['1', '2'])
        && word.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    if is_date && is_time(&word.to_owned()) {
        return vec![word.to_owned()];
    }
    let divided = |by: char| {
        let parts: Option<Vec<u32>> = word.split(by).map(|part| part.parse().ok()).collect();
        Some((by, <[u32; 3]>::try_from(parts?).ok()?))
    };
    let Some((by, parts)) = ['.', '/', '-'].into_iter().find_map(divided) else { return Vec::new() };
    let day = |year: u32, month: u32, day: u32| {
        let year = if year < 100 { 2000 + year } else { year };
        format!("{year:04}-{month:02}-{day:02}")
    };
    let mut days = match parts {
        [year, month, of] if year >= 1000 => vec![day(year, month, of)],
        [of, month, year] if by == '.' => vec![day(year, month, of)],
        [a, b, year] => vec![day(year, b, a), day(year, a, b)],
    };
    days.retain(is_time);
    days.dedup();
    days
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_date_is_known_however_it_is_written_and_asked_both_ways_where_it_may_be_two() {
        for (word, days) in [
            ("2026", vec!["2026"]),
            ("2026-11", vec!["2026-11"]),
            ("2026-11-30", vec!["2026-11-30"]),
            ("30.11.2026", vec!["2026-11-30"]),
            ("3.1.26", vec!["2026-01-03"]),
            ("2026/1/3", vec!["2026-01-03"]),
            ("11/30/2026", vec!["2026-11-30"]),
            ("30-11-2026", vec!["2026-11-30"]),
            ("03/04/2026", vec!["2026-04-03", "2026-03-04"]),
            ("05/05/2026", vec!["2026-05-05"]),
            ("31.2.2026", vec![]),
            ("W90", vec![]),
            ("0412", vec![]),
            ("1.2.3.4", vec![]),
            ("-1/2/3", vec![]),
        ] {
            assert_eq!(dates(word), days, "{word}");
        }
    }

    #[test]
    fn what_was_meant_is_the_same_without_signs_and_noughts_or_the_nearest() {
        let known = ["0412", "abc-1234", "saltmarsh engine works", "w90"];
        let said = |typed: &str| meant(typed, known.into_iter());
        assert_eq!(said("412").as_deref(), Some("0412"));
        assert_eq!(said("ABC1234").as_deref(), Some("abc-1234"));
        assert_eq!(said("saltmash").as_deref(), Some("saltmarsh"));
        for typed in ["0412", "999", "spanner", "", "-"] {
            assert_eq!(said(typed), None, "{typed}");
        }
    }
}
