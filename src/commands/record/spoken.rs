//! The words of one line on the command line, and what they are taken for.

use borewright_planner::plan::check::Of;
use borewright_planner::read::fault::plain;
use borewright_planner::record::Word;

use super::refused;
use crate::status::Failure;

/// What a line is taken for.
pub(super) enum Line<'a> {
    Reading {
        check: u32,
        cylinder: Option<u32>,
        value: String,
        of: Option<Of>,
    },
    Strike {
        line: usize,
    },
    /// A touch check whose readings no longer count: the datum was picked up anew.
    Anew {
        check: u32,
    },
    Event {
        what: Word,
        cylinder: Option<u32>,
        text: &'a [String],
    },
}

/// Words as they are taken: `check 5 1 88.57`, as the card has it, is `5 1 88.57`.
pub(super) fn bare(said: &[String]) -> &[String] {
    match said {
        [check, rest @ ..] if check.eq_ignore_ascii_case("check") && !rest.is_empty() => rest,
        said => said,
    }
}

/// What words are taken for.
pub(super) fn taken(said: &[String]) -> Result<Line<'_>, Failure> {
    let said = bare(said);
    const FORMS: &str = "CHECK CYLINDER VALUE, `strike LINE`, `anew CHECK`, `sleeve NUMBER for CYLINDER`, or void, crack, tool, moved, note, release with words";
    let first = said.first().map(String::as_str).unwrap_or_default();
    let rest = said.get(1..).unwrap_or_default();
    if first == "anew" {
        let number = rest.first().and_then(|n| n.parse().ok()).filter(|_| rest.len() == 1);
        let found =
            || refused(format!("`{}`", plain(&said.join(" "), 80)), "`anew` and the number of a touch check");
        return Ok(Line::Anew { check: number.ok_or_else(found)? });
    }
    match Word::of(first) {
        Some(Word::Strike) => {
            let line = rest.first().and_then(|l| l.parse().ok()).filter(|_| rest.len() == 1);
            let found =
                || refused(format!("`{}`", plain(&said.join(" "), 80)), "`strike` and the number of a line");
            Ok(Line::Strike { line: line.ok_or_else(found)? })
        }
        Some(what) => {
            // `void 3 …` is of cylinder 3; `sleeve S3 for 3` names it last.
            let first = rest.first().and_then(|c| c.parse().ok());
            let last = rest.last().and_then(|c| c.parse().ok());
            match (what, rest) {
                (Word::Sleeve, [number, preposition, _]) if preposition == "for" && last.is_some() => {
                    Ok(Line::Event { what, cylinder: last, text: std::slice::from_ref(number) })
                }
                (Word::Sleeve, _) | (_, []) => {
                    Err(refused(format!("`{}`", plain(&said.join(" "), 80)), FORMS))
                }
                // `release 3: …` would be of the whole block; a note or a tool may begin with a size.
                (Word::Void | Word::Crack | Word::Release, [of, ..])
                    if first.is_none() && of.starts_with(|c: char| c.is_ascii_digit()) =>
                {
                    let found = refused(
                        format!("`{}`", plain(of, 20)),
                        "the number of a cylinder by itself, or words",
                    );
                    Err(found)
                }
                // `crack 3` is of cylinder 3: no crack is a number.
                (Word::Void | Word::Crack, [_]) if first.is_some() => {
                    Ok(Line::Event { what, cylinder: first, text: said.get(..1).unwrap_or_default() })
                }
                _ if first.is_some() && rest.len() > 1 => {
                    Ok(Line::Event { what, cylinder: first, text: rest.get(1..).unwrap_or_default() })
                }
                _ => Ok(Line::Event { what, cylinder: None, text: rest }),
            }
        }
        None => {
            let numbers = first.parse().ok().zip(rest.first());
            let cylinder = |text: &str| match text {
                "-" => Some(None),
                text => text.parse().ok().map(Some),
            };
            let found = numbers.and_then(|(check, at)| Some((check, cylinder(at)?)));
            match (found, rest) {
                (Some((check, cylinder)), [_, kind, value @ ..])
                    if named(kind).is_some() && !value.is_empty() =>
                {
                    Ok(Line::Reading { check, cylinder, value: value.join(" "), of: named(kind) })
                }
                (Some((check, cylinder)), [_, value @ ..]) if !value.is_empty() => {
                    Ok(Line::Reading { check, cylinder, value: value.join(" "), of: None })
                }
                _ => Err(refused(format!("`{}`", plain(&said.join(" "), 80)), FORMS)),
            }
        }
    }
}

/// A reading that is named before its value: `set 89.762`, `x 46.012`.
fn named(word: &str) -> Option<Of> {
    Of::ALL.into_iter().find(|of| of.spoken() == Some(word))
}
