//! What moved since the last plan: coordinate by coordinate, in words, and which files brought it.

mod before;
mod cuts;
mod order;
mod touches;

use borewright_planner::Planning;
use borewright_planner::job::words;
use borewright_planner::plan::{Plan, cylinder_words};
use borewright_planner::read::fault::plain;

use self::before::Before;
use super::{Terminal, short};
use crate::said::units::Digits;

/// Less than half of what a machine is told has not moved, mm.
const MOVED_MM: f64 = 0.000_5;

/// What another plan of the same files is from.
const OTHERWISE: &str = "a release or another program made it";

/// More lines than this are no help beside a machine.
const MOST_LINES: usize = 40;

/// What moved from a `plan.json` written before to this plan; nothing where that is no plan of this job.
#[must_use]
pub fn changes(before: &str, planning: &Planning, plan: &Plan, t: &Terminal) -> String {
    let Ok(before) = serde_json::from_str::<Before>(before) else { return String::new() };
    if before.job != plan.job {
        return String::new();
    }
    if before.fingerprint == plan.fingerprint {
        return "nothing moved since the last plan\n".into();
    }
    let mut said = bores(&before, planning, plan, t);
    said.extend(order::order(&before, plan));
    said.extend(cuts::cuts(&before, plan, t));
    said.extend(touches::touches(&before, plan, t));
    said.extend(lists(&before, plan));
    let because = inputs(&before, plan);
    let mut text = t.wrapped(
        &format!("since plan {}:", short(&before.fingerprint)),
        &if because.is_empty() { format!("no file changed, {OTHERWISE}") } else { because },
        2,
    );
    if said.is_empty() {
        said.push(
            "no planned centre, size, depth, stock, touch check, order or list moved; speeds, feeds and heights of rapids may have"
                .into(),
        );
    }
    let left = said.len().saturating_sub(MOST_LINES);
    for line in said.iter().take(MOST_LINES) {
        text.push_str(&t.wrapped("  ", line, 4));
    }
    if left > 0 {
        text.push_str(&format!("  and {left} more\n"));
    }
    // With a record some of them stay good: the change card says which.
    if planning.job.log.entries.is_empty() {
        let text_of = "sheets and lists of the earlier plan carry its fingerprint: put them away";
        text.push_str(&t.wrapped("  ", text_of, 4));
    }
    text
}

/// A warning where the papers written before are of other readings, of a release or of another program; nothing where
/// they are this plan's, or no plan's of this job.
#[must_use]
pub fn stale(before: &str, plan: &Plan, t: &Terminal) -> String {
    let Ok(before) = serde_json::from_str::<Before>(before) else { return String::new() };
    if before.job != plan.job || before.fingerprint == plan.fingerprint {
        return String::new();
    }
    let because = inputs(&before, plan);
    let why = if because.is_empty() { OTHERWISE } else { because.as_str() };
    let text = format!(
        "its papers carry {}: {why}. Plan again before cutting from them",
        short(&before.fingerprint)
    );
    t.wrapped("\nout/ holds another plan:", &text, 4)
}

/// What is other than in the plan before: the verdict, then bores that move or change theirs, a sentence each.
fn bores(before: &Before, planning: &Planning, plan: &Plan, t: &Terminal) -> Vec<String> {
    let mut said = Vec::new();
    if before.verdict != plan.verdict.word() {
        said.push(format!("verdict {} was {}", plan.verdict.word(), plain(&before.verdict, 10)));
    }
    for now in &plan.cylinders {
        let Some(was) = before.cylinders.iter().find(|b| b.cylinder == now.cylinder) else {
            said.push(format!("cylinder {} is new", now.cylinder));
            continue;
        };
        let by = [now.planned.x - was.planned.x, now.planned.y - was.planned.y];
        if by.iter().any(|v| v.abs() >= MOVED_MM) {
            let bank = planning.job.site(now.cylinder).map_or(0, |site| site.0);
            said.push(format!(
                "cylinder {} moves {} (x {}, y {}): {}",
                now.cylinder,
                t.say(&words::offset(&planning.job, bank, by)),
                t.signed(by[0], Digits::Fine),
                t.signed(by[1], Digits::Fine),
                plain(&t.say(&now.why.whole()), 240)
            ));
        }
        if was.sleeve != now.sleeve {
            let (is, was) = (plain(&now.sleeve, 30), plain(&was.sleeve, 30));
            said.push(format!("cylinder {}: sleeve {is}, was {was}", now.cylinder));
        }
        if was.verdict != now.verdict.word() {
            let was = plain(&was.verdict, 10);
            said.push(format!("cylinder {}: {}, was {was}", now.cylinder, now.verdict.word()));
        }
    }
    for was in &before.cylinders {
        if !plan.cylinders.iter().any(|c| c.cylinder == was.cylinder) {
            said.push(format!("cylinder {} is no longer planned", was.cylinder));
        }
    }
    said
}

fn lists(before: &Before, plan: &Plan) -> Vec<String> {
    let mut said = Vec::new();
    for was in &before.lists {
        match plan.lists.iter().find(|l| l.file == was.file) {
            None => said.push(format!("{} is no longer written", plain(&was.file, 60))),
            Some(now) => {
                let gone: Vec<u32> =
                    was.cylinders.iter().filter(|c| !now.cylinders.contains(c)).copied().collect();
                let come: Vec<u32> =
                    now.cylinders.iter().filter(|c| !was.cylinders.contains(c)).copied().collect();
                if !gone.is_empty() {
                    said.push(format!("{} no longer cuts {}", now.file, cylinder_words(&gone)));
                }
                if !come.is_empty() {
                    said.push(format!("{} now cuts {} too", now.file, cylinder_words(&come)));
                }
            }
        }
    }
    let new = plan.lists.iter().filter(|l| !before.lists.iter().any(|w| w.file == l.file));
    said.extend(new.map(|l| format!("{} is new", l.file)));
    said
}

fn inputs(before: &Before, plan: &Plan) -> String {
    let mut said = Vec::new();
    for now in &plan.inputs {
        match before.inputs.iter().find(|w| w.file == now.file) {
            None => said.push(format!("{} is new", plain(&now.file, 60))),
            Some(was) if was.sha256 != now.sha256 => said.push(format!("{} changed", plain(&now.file, 60))),
            Some(_) => {}
        }
    }
    let gone = before.inputs.iter().filter(|w| !plan.inputs.iter().any(|n| n.file == w.file));
    said.extend(gone.map(|w| format!("{} is gone", plain(&w.file, 60))));
    said.join(", ")
}

#[cfg(test)]
mod tests;
