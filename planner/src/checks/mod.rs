//! The checks made while the work goes on, numbered in the order of work: one number on sheets, lists and record:
//! they are worked out here, and `plan/check.rs` says what one is. The step that checks files is `check/`.

mod stop;
mod touch;
mod worked;

pub use touch::MANDREL_MM;

use crate::job::Job;
use crate::passes::Schedule;
use crate::place::Positions;
use crate::plan::Pass;
use crate::plan::check::{AtCylinder, Check, What};
use crate::plan::moves::{Move, MoveList};
use crate::survey::Survey;

/// The checks of a schedule, in the order of work.
#[must_use]
pub(crate) fn checks(
    job: &Job,
    survey: &Survey,
    positions: &Positions,
    schedule: &Schedule,
    lists: &[MoveList],
) -> Vec<Check> {
    let mut checks: Vec<Check> = touch::touches(schedule, lists);
    for pass in &schedule.passes {
        let Some(number) = pass.stop_number else { continue };
        let bank = job.block.banks.iter().position(|b| b.name == pass.bank).unwrap_or_default();
        let deck_mm = job.deck_as_it_is_mm(bank, &survey.journal_axis) - job.engine.deck.cut_mm;
        let bore = stop::Stopped { job, positions, pass, deck_mm, told: told(lists, pass) };
        let (what, readings) = bore.asked();
        let cylinder = (what != What::Deck).then_some(pass.cylinder);
        let at = AtCylinder { cylinder, readings };
        match checks.iter_mut().find(|c| c.check == number) {
            // Bores of one step may be asked different things: the first cut may leave iron in one and none in the
            // next.
            Some(check) => check.cylinders.push(at),
            None => checks.push(Check {
                check: number,
                what,
                stage: pass.stage,
                bank: pass.bank.clone(),
                step: Some(pass.step),
                feature: pass.feature.clone(),
                cylinders: vec![at],
            }),
        }
    }
    checks.sort_by_key(|c| c.check);
    checks
}

/// The checks of the work that is left, and those of `whole` that have readings already, as they were asked then.
#[must_use]
pub(crate) fn with_taken(own: Vec<Check>, whole: &[Check], taken: &[(u32, Option<u32>)]) -> Vec<Check> {
    let mut checks = Vec::new();
    for before in whole {
        let now = own.iter().find(|c| c.check == before.check);
        let cylinders: Vec<AtCylinder> = before
            .cylinders
            .iter()
            .filter_map(|at| {
                let here = now.and_then(|c| c.at(at.cylinder));
                let read = taken.contains(&(before.check, at.cylinder)).then_some(at);
                here.or(read).cloned()
            })
            .collect();
        if !cylinders.is_empty() {
            checks.push(Check { cylinders, ..now.unwrap_or(before).clone() });
        }
    }
    checks
}

/// X and Y that a list tells for a bored pass, from the list's zero, mm.
fn told(lists: &[MoveList], pass: &Pass) -> Option<[f64; 2]> {
    if pass.mill.is_some() {
        return None;
    }
    let list = lists.iter().find(|l| l.stage == pass.stage && l.cylinders.contains(&pass.cylinder))?;
    let of = |m: &&Move| m.pass == Some(pass.step) && m.cylinder == Some(pass.cylinder);
    list.moves.iter().filter(of).find_map(|m| Some([m.x_mm?, m.y_mm?]))
}
