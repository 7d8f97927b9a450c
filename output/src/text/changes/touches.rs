//! Which places must read otherwise before the first chip.

use borewright_planner::plan::check::{AtCylinder, What};
use borewright_planner::plan::{Check, Plan};
use borewright_planner::read::fault::plain;

use super::MOVED_MM;
use super::before::Before;

/// Every touch check of a list that was there before and reads otherwise now.
pub(super) fn touches(before: &Before, plan: &Plan) -> Vec<String> {
    let is_touch = |c: &&Check| c.what == What::Touch;
    let mut said = Vec::new();
    for now in plan.checks.iter().filter(is_touch) {
        let same = |c: &&Check| c.stage == now.stage && c.bank == now.bank;
        let Some(was) = before.checks.iter().filter(is_touch).find(same) else { continue };
        let named = format!("touch check, {} {}", now.stage.word(), plain(&now.bank, 20));
        for at in &now.cylinders {
            match was.at(at.cylinder) {
                None => said.push(format!("{named}: {} is new", place(at))),
                Some(old) if apart(at, old) => {
                    said.push(format!("{named}: {}, was {}", place(at), figures(old)));
                }
                Some(_) => {}
            }
        }
        let gone = was.cylinders.iter().filter(|c| now.at(c.cylinder).is_none());
        said.extend(gone.map(|old| format!("{named}: {} is gone", place(old))));
    }
    said
}

fn apart(now: &AtCylinder, was: &AtCylinder) -> bool {
    let far = |a: Option<f64>, b: Option<f64>| match (a, b) {
        (Some(a), Some(b)) => (a - b).abs() >= MOVED_MM,
        (a, b) => a.is_some() != b.is_some(),
    };
    now.readings.len() != was.readings.len()
        || now.readings.iter().zip(&was.readings).any(|(a, b)| {
            a.of != b.of || far(a.expected, b.expected) || far(a.least, b.least) || far(a.most, b.most)
        })
}

/// "cylinder 5 X 230.034 Y 0.191", or "deck Z 0.000".
fn place(at: &AtCylinder) -> String {
    let whose = at.cylinder.map_or_else(|| "deck".to_owned(), |n| format!("cylinder {n}"));
    format!("{whose} {}", figures(at))
}

fn figures(at: &AtCylinder) -> String {
    let one =
        |r: &borewright_planner::plan::check::Asked| Some(format!("{} {:+.3}", r.of.words(), r.expected?));
    at.readings.iter().filter_map(one).collect::<Vec<_>>().join(" ")
}
