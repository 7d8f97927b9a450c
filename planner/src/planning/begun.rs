//! What is behind a work that was begun, and how the rest of it stays as it was.

use std::collections::BTreeMap;

use super::SAME_MM;
use crate::job::Job;
use crate::log::{self, Log};
use crate::passes::Schedule;
use crate::plan::{Finding, Pass, Stage};
use crate::record::{Standing, released_line};

/// The sum that the next plan looks for in the record: one that is missed stays missed until somebody lets that through.
pub(super) fn record_sum(log: &Log, standing: &Standing) -> Option<String> {
    let missed = log.missed.clone().filter(|_| released_line(standing, log::WHOLE).is_none());
    missed.or_else(|| Some(log.last_sum.clone()).filter(|sum| !sum.is_empty()))
}

/// What is behind the work, and what of it must be told.
pub(super) struct Done {
    pub(super) findings: Vec<Finding>,
    /// Steps of each cylinder: above the first of each two, up to the second.
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
            Stage::Deck => self.decks.contains(&pass.step),
            _ => self
                .steps
                .get(&pass.cylinder)
                .is_some_and(|spans| spans.iter().any(|[above, to]| pass.step > *above && pass.step <= *to)),
        }
    }
}

/// Keeps every cylinder that nothing touched as it was planned before: passes, figures and words.
///
/// A bank is roughed with common diameters, so that a bore measured as cut would move those of its neighbours by
/// thousandths that mean nothing: roughing stays as it was for all, and every later pass of the cylinders that the
/// record says nothing of.
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
            let [x, y] = [pass.x, pass.y];
            // A neighbour of what is cut may have had to give way.
            if (x - same.x).hypot(y - same.y) < SAME_MM {
                *pass = same.clone();
            }
        }
    }
}
