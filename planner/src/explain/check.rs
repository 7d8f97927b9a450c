//! The account of a check: what it expects, and why its window is so wide.

use super::Account;
use super::origin::{Sources, is_withheld};
use super::question::{Question, Whose};
use crate::plan::check::{Asked, AtCylinder, Check};
use crate::plan::sentence::Sentence;
use crate::plan::worked::Figure;
use crate::planning::Planning;
use crate::read::fault::plain;
use crate::say;

pub(super) fn accounts(planning: &Planning, check: u32, whose: Whose, about: Option<&str>) -> Vec<Account> {
    let Some(check) = planning.plan.checks.iter().find(|c| c.check == check) else { return Vec::new() };
    let wanted = check.cylinders.iter().filter(|at| match whose {
        Whose::All => true,
        Whose::Bank => at.cylinder.is_none(),
        Whose::Cylinder(n) => at.cylinder == Some(n),
    });
    let told = wanted.filter(|at| !at.cylinder.is_some_and(|n| is_withheld(planning, n)));
    told.flat_map(|at| of_bore(planning, check, at, about)).collect()
}

/// The accounts of a check at one bore; readings that are worked out alike share one.
fn of_bore(planning: &Planning, check: &Check, at: &AtCylinder, about: Option<&str>) -> Vec<Account> {
    let mut alike: Vec<(&Asked, &Figure, usize)> = Vec::new();
    for asked in &at.readings {
        for figure in asked.worked.iter().filter(|f| about.is_none_or(|about| f.about == about)) {
            match alike.iter_mut().find(|(of, own, _)| of.of == asked.of && *own == figure) {
                Some((.., count)) => *count += 1,
                None => alike.push((asked, figure, 1)),
            }
        }
    }
    alike
        .into_iter()
        .map(|(asked, figure, count)| account(planning, check, at, (asked, figure, count)))
        .collect()
}

fn account(
    planning: &Planning,
    check: &Check,
    at: &AtCylinder,
    (asked, figure, count): (&Asked, &Figure, usize),
) -> Account {
    let bank = planning.job.block.banks.iter().find(|b| b.name == check.bank);
    let first = bank.and_then(|b| b.sites.first()).map(|site| site.cylinder);
    let step = |n: u32| {
        check.step.and_then(|step| planning.plan.passes.iter().find(|p| p.step == step && p.cylinder == n))
    };
    let sources = match at.cylinder.and_then(step) {
        Some(pass) => Sources::of_pass(planning, pass),
        None => Sources::new(planning, at.cylinder.or(first), &check.feature),
    };
    let mut seated = planning.seen.iter().flat_map(|seen| &seen.positions.bores);
    let place = seated.find(|b| Some(b.site.cylinder) == at.cylinder).map(|b| b.planned_mm);
    let whose = at.cylinder.map_or(Whose::Bank, Whose::Cylinder);
    let question = Question::Check { check: check.check, whose, about: Some(figure.about.to_owned()) };
    let what = if figure.about == "within" { "window" } else { "expected" };
    let of = at.cylinder.map_or_else(|| say!("bank {}", plain(&check.bank, 40)), |n| say!("cylinder {n}"));
    let readings = if count > 1 { say!(", {count} readings alike") } else { Sentence::new() };
    let title = say!("{what} of check {}, {}: {}{}", check.check, of, asked.of.words(), readings);
    Account { asked: question.to_string(), title, rows: sources.figure(figure, place), notes: Vec::new() }
}
