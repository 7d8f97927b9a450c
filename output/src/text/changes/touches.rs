//! Which places must read otherwise before the first chip.

use borewright_planner::plan::check::{AtCylinder, What};
use borewright_planner::plan::{Check, Plan};
use borewright_planner::read::fault::plain;

use super::MOVED_MM;
use super::before::Before;
use crate::said::units::Digits;
use crate::text::Terminal;

/// Every touch check of a list that was there before and reads otherwise now.
pub(super) fn touches(before: &Before, plan: &Plan, t: &Terminal) -> Vec<String> {
    let is_touch = |c: &&Check| c.what == What::Touch;
    let mut said = Vec::new();
    for now in plan.checks.iter().filter(is_touch) {
        let same = |c: &&Check| c.stage == now.stage && c.bank == now.bank;
        let Some(was) = before.checks.iter().filter(is_touch).find(same) else { continue };
        let named = format!("touch check, {} {}", now.stage.word(), plain(&now.bank, 20));
        for at in &now.cylinders {
            match was.at(at.cylinder) {
                None => said.push(format!("{named}: {} is new", place(at, t))),
                Some(old) if apart(at, old) => {
                    said.push(format!("{named}: {}, was {}", place(at, t), figures(old, t)));
                }
                Some(_) => {}
            }
        }
        let gone = was.cylinders.iter().filter(|c| now.at(c.cylinder).is_none());
        said.extend(gone.map(|old| format!("{named}: {} is gone", place(old, t))));
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
fn place(at: &AtCylinder, t: &Terminal) -> String {
    let whose = at.cylinder.map_or_else(|| "deck".to_owned(), |n| format!("cylinder {n}"));
    format!("{whose} {}", figures(at, t))
}

fn figures(at: &AtCylinder, t: &Terminal) -> String {
    let one = |r: &borewright_planner::plan::check::Asked| {
        Some(format!("{} {}", r.of.words(), t.signed(r.expected?, Digits::Fine)))
    };
    at.readings.iter().filter_map(one).collect::<Vec<_>>().join(" ")
}
