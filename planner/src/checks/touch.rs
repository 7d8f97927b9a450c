//! The touch check of a list as readings: X and Y at two bores, Z at the deck.

use super::worked::{self, Wide};
use crate::passes::{Schedule, TouchNumber};
use crate::plan::check::{Asked, AtCylinder, Check, Of, What, numbered};
use crate::plan::moves::{MoveList, Touch};

/// Two readings of a mandrel differ by no more than this, mm, while it stands as it stood. Common practice, no source.
pub const MANDREL_MM: f64 = 0.010;

/// The touch checks of all lists, one number a bank and stage.
pub(super) fn touches(schedule: &Schedule, lists: &[MoveList]) -> Vec<Check> {
    let one = |TouchNumber { bank, stage, number }: &TouchNumber| {
        let mut cylinders: Vec<AtCylinder> = Vec::new();
        for touch in lists.iter().filter(|l| l.bank == *bank && l.stage == *stage).flat_map(|l| &l.touch) {
            let at = AtCylinder { cylinder: touch.cylinder, readings: readings(touch) };
            if !cylinders.iter().any(|c| c.cylinder == at.cylinder) {
                cylinders.push(at);
            }
        }
        let check = Check {
            check: *number,
            what: What::Touch,
            stage: *stage,
            bank: bank.clone(),
            step: None,
            feature: "datum".to_owned(),
            cylinders,
        };
        (!check.cylinders.is_empty()).then_some(check)
    };
    schedule.touch_numbers.iter().filter_map(one).collect()
}

fn readings(touch: &Touch) -> Vec<Asked> {
    let axes = [(Of::X, touch.x_mm), (Of::Y, touch.y_mm), (Of::Z, touch.z_mm)];
    let told = axes.into_iter().filter_map(|(of, at)| Some((of, at?)));
    let asked = told.enumerate().map(|(told, (of, at))| {
        let asked = Asked::within(of, at, touch.within_mm);
        let asked = worked::expected(asked, touch.worked.get(told).cloned());
        worked::within(asked, Wide::Touch, touch.within_mm)
    });
    numbered(asked.collect())
}
