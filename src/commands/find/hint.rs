//! What would find something where nothing was found.

use borewright_archive::{Index, Query, Time};
use borewright_planner::read::fault::{near, plain};

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
        if let Some((since, until)) = year(word) {
            let question = Query { since: Some(since), before: Some(until), ..rest.clone() };
            hint(format!("--since {word} --until {word}"), &question)?;
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
        let folded = word.to_lowercase();
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
        kept.to_lowercase().trim_start_matches('0').to_owned()
    };
    // A name of several words is known by each.
    let all: Vec<&str> =
        known.flat_map(|word| std::iter::once(word).chain(word.split_whitespace())).collect();
    let (typed_bare, folded) = (bare(typed), typed.to_lowercase());
    let same = all.iter().find(|word| !typed_bare.is_empty() && bare(word) == typed_bare).copied();
    // Figures that are nearly the same are others.
    let is_word = typed.chars().filter(|c| c.is_alphabetic()).count() >= 3;
    let nearest = || near(&folded, all.iter().copied().filter(|word| word.len() < 64)).filter(|_| is_word);
    same.or_else(nearest).filter(|word| *word != folded).map(str::to_owned)
}

/// A year, month or day as its first second and the first after it.
fn year(word: &str) -> Option<(Time, Time)> {
    let is_date = word.len() >= 4
        && word.starts_with(['1', '2'])
        && word.bytes().all(|b| b.is_ascii_digit() || b == b'-');
    Time::first_of(word).zip(Time::after(word)).filter(|_| is_date)
}

#[cfg(test)]
mod tests {
    use super::*;

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
