//! What is amiss with a question that is asked rightly and has no answer: the one thing, where it is one.

use super::origin::is_withheld;
use super::question::{Question, Unasked, Whose};
use crate::planning::Planning;
use crate::read::fault::plain;

/// A question without an answer: what of it the plan does not have, else all that can be asked.
pub(super) fn unanswered(planning: &Planning, question: &Question) -> Unasked {
    let found = question.to_string();
    match amiss(planning, question) {
        Some(near) => Unasked { found: plain(&found, 60), expected: Vec::new(), near: Some(near) },
        None => Unasked::of(planning, &found),
    }
}

fn amiss(planning: &Planning, question: &Question) -> Option<String> {
    match question {
        Question::Cylinder { cylinder, .. } | Question::Limit { cylinder, .. } => {
            no_cylinder(planning, *cylinder)
        }
        Question::Pass { step, cylinder, .. } => {
            let steps = || planning.plan.passes.iter().map(|p| p.step);
            if steps().any(|own| own == *step) {
                return cylinder.and_then(|n| no_cylinder(planning, n));
            }
            Some(format!("no step {step}; {}", ends("steps", steps())?))
        }
        Question::Check { check, whose, .. } => {
            let all = &planning.plan.checks;
            let Some(own) = all.iter().find(|c| c.check == *check) else {
                return Some(format!("no CHECK {check}; {}", ends("checks", all.iter().map(|c| c.check))?));
            };
            if let Whose::Cylinder(n) = whose {
                if let Some(said) = no_cylinder(planning, *n) {
                    return Some(said);
                }
                if is_withheld(planning, *n) {
                    return Some(format!(
                        "cylinder {n} may not be cut, so what CHECK {check} expects there is not told: `check` says what holds it"
                    ));
                }
                let asked: Vec<u32> = own.cylinders.iter().filter_map(|c| c.cylinder).collect();
                if !asked.contains(n) {
                    let asked: Vec<String> = asked.iter().map(ToString::to_string).collect();
                    return Some(format!(
                        "CHECK {check} asks nothing of cylinder {n}; it is of {}",
                        asked.join(", ")
                    ));
                }
            }
            let figures = own.cylinders.iter().flat_map(|c| &c.readings).any(|r| !r.worked.is_empty());
            (!figures)
                .then(|| format!("CHECK {check} ({}) has no figure that was worked out", own.what.words()))
        }
        _ => None,
    }
}

fn no_cylinder(planning: &Planning, cylinder: u32) -> Option<String> {
    let all = || planning.plan.cylinders.iter().map(|c| c.cylinder);
    if all().any(|own| own == cylinder) {
        return None;
    }
    Some(format!("no cylinder {cylinder}; {}", ends("cylinders", all())?))
}

/// "cylinders 1 to 6", or each by its number where some between are missing.
fn ends(what: &str, numbers: impl Iterator<Item = u32>) -> Option<String> {
    let mut numbers: Vec<u32> = numbers.collect();
    numbers.sort_unstable();
    numbers.dedup();
    let [first, .., last] = numbers.as_slice() else { return numbers.first().map(|n| format!("{what} {n}")) };
    Some(format!("{what} {first} to {last}"))
}
