//! The plan of what was decided and listed, as it is printed and kept.

use super::Begun;
use super::cylinders::cylinders;
use super::judged::Judged;
use crate::checks;
use crate::job::Job;
use crate::passes::{self, Schedule};
use crate::place::Positions;
use crate::plan::moves::MoveList;
use crate::plan::rounding::plan as round;
use crate::plan::{FORMAT, Input, Plan, Release, SleeveChoice, StageTime, Verdict, WorstMargin, rounded};
use crate::survey::Survey;

/// The plan as it is printed and kept, without its fingerprints; and the positions that it was made from.
pub(super) fn write_down(
    job: &Job,
    survey: &Survey,
    Judged { decision, schedule, findings }: Judged,
    (may_cut, release): (&[u32], Option<Release>),
    (staged, lists): (&Schedule, &[MoveList]),
    begun: Option<Begun<'_>>,
) -> (Plan, Positions) {
    let worst_finding = findings.iter().map(|f| f.verdict).max().unwrap_or(Verdict::Go);
    let verdict = decision.verdict().max(worst_finding);
    let plan = Plan {
        format: FORMAT,
        job: job.number.clone(),
        units: "mm",
        fingerprint: String::new(),
        verdict,
        // A release of a plan at go releases nothing, and is dropped so that papers of the plan without it stay
        // good.
        release: release.filter(|_| verdict != Verdict::Go),
        findings,
        journal_axis: survey.journal_axis.iter().map(rounded::axis).collect(),
        as_bored: rounded::as_bored(&survey.as_bored),
        banks: survey.banks.iter().map(rounded::bank).collect(),
        cylinders: cylinders(job, survey, &decision, may_cut),
        times: passes::times(&schedule.passes)
            .into_iter()
            .map(|t| StageTime { work: round(t.work), handling: round(t.handling), ..t })
            .collect(),
        checks: {
            let told = begun.map_or(lists, |begun| &begun.whole.lists);
            let own = checks::checks(job, survey, &decision.positions, staged, told);
            match begun {
                None => own,
                Some(Begun { whole, done }) => checks::with_taken(own, &whole.plan.checks, &done.taken),
            }
        },
        passes: schedule.passes.into_iter().map(rounded::pass).collect(),
        sleeves: decision.choices.into_iter().map(|choice| told(choice, may_cut)).collect(),
        prior: None,
        lists: Vec::new(),
        inputs: job.inputs.iter().map(|i| Input { file: i.name.clone(), sha256: i.sha256.clone() }).collect(),
        record_sum: begun.and_then(|begun| begun.done.record_sum.clone()),
        files: Vec::new(),
        seal: String::new(),
    };
    (plan, decision.positions)
}

/// A candidate's result without what would tell the places of cylinders that are withheld.
fn told(mut choice: SleeveChoice, may_cut: &[u32]) -> SleeveChoice {
    let told = |n: u32| may_cut.contains(&n);
    choice.fit.assigned.retain(|own| told(own.cylinder));
    choice.fit.flats.retain(|pair| told(pair.front) && told(pair.rear));
    SleeveChoice {
        largest_pocket: round(choice.largest_pocket),
        worst: choice.worst.map(|w| WorstMargin { margin: round(w.margin), u: round(w.u), ..w }),
        fit: choice.fit.rounded(),
        ..choice
    }
}
