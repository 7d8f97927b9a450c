//! A work that was begun: what of it is done, and how the rest stays as it was planned.

use borewright_geometry::clock::distance_mm;

use std::collections::BTreeMap;

use super::SAME_MM;
use crate::job::Job;
use crate::log::{self, Log};
use crate::passes::Schedule;
use crate::plan::{Finding, Pass, Stage};
use crate::record::{Standing, released_line};

/// The sum that the next plan looks for in the record. A missing one is kept, so that it is missed again until its
/// loss is released.
pub(super) fn record_sum(log: &Log, standing: &Standing) -> Option<String> {
    let missed = log.missed.iter().find(|sum| released_line(standing, log::WHOLE, sum).is_none());
    missed.cloned().or_else(|| Some(log.last_sum.clone()).filter(|sum| !sum.is_empty()))
}

/// What of the work is done, and what of that must be told.
pub(super) struct Done {
    pub(super) findings: Vec<Finding>,
    /// Steps of each cylinder that are done, as pairs: above the first, up to the second.
    pub(super) steps: BTreeMap<u32, Vec<[u32; 2]>>,
    /// Steps of whole banks.
    pub(super) decks: Vec<u32>,
    /// Checks and bores that have readings.
    pub(super) taken: Vec<(u32, Option<u32>)>,
    /// Sum of the last line of the record that counts.
    pub(super) record_sum: Option<String>,
}

impl Done {
    pub(super) fn is_behind(&self, pass: &Pass) -> bool {
        match pass.stage {
            // Sleeves cut flush are looked at one by one.
            Stage::Deck if !pass.is_sleeves_flush() => self.decks.contains(&pass.step),
            _ => self
                .steps
                .get(&pass.cylinder)
                .is_some_and(|spans| spans.iter().any(|[above, to]| pass.step > *above && pass.step <= *to)),
        }
    }
}

/// Keeps every cylinder that nothing touched as it was planned before: passes, figures and words.
///
/// A bank is roughed with common diameters, so measuring one cut bore would change its neighbours' by thousandths
/// that mean nothing. Roughing therefore stays as it was for all, and so does every later pass of cylinders that
/// have no entry in the record.
pub(super) fn left_alone(schedule: &mut Schedule, before: &[Pass], job: &Job) {
    let frame = |passes: &[Pass]| {
        let mut steps: Vec<(u32, Stage, String, String)> =
            passes.iter().map(|p| (p.step, p.stage, p.bank.clone(), p.feature.clone())).collect();
        steps.dedup();
        steps
    };
    if frame(&schedule.passes) != frame(before) {
        return;
    }
    for pass in &mut schedule.passes {
        let touched = job.cut.contains_key(&pass.cylinder);
        let same = before.iter().find(|p| p.step == pass.step && p.cylinder == pass.cylinder);
        if let Some(same) = same.filter(|_| !touched || pass.stage == Stage::Rough) {
            // A neighbour of what is cut may have had to give way.
            if distance_mm([pass.x, pass.y], [same.x, same.y]) < SAME_MM {
                *pass = same.clone();
            }
        }
    }
}
