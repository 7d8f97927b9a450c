//! The schedule of the whole work, and the lists of what of it is still to be cut.

use super::Begun;
use super::SAME_MM;
use super::issued::issued_before;
use super::judged::Judged;
use crate::job::Job;
use crate::machine;
use crate::passes::Schedule;
use crate::plan::moves::MoveList;
use crate::plan::{Pass, Stage, Subject};
use crate::survey::Survey;
use crate::trace;

/// The schedule of the whole work, and the lists of what is still to be cut of it; what the machine does not reach
/// is taken out of `may_cut`, and what is behind or not cleared out of the schedule.
pub(super) fn list(
    job: &Job,
    survey: &Survey,
    judged: &mut Judged,
    may_cut: &mut Vec<u32>,
    begun: Option<Begun<'_>>,
) -> (Schedule, Vec<MoveList>) {
    let Judged { decision, schedule, findings } = judged;
    // Cylinders that may not be cut are staged too, for the findings of their passes, and then withheld.
    schedule.keep(may_cut);
    match begun {
        None => schedule.number(),
        Some(begun) => schedule.number_as(&begun.whole.staged),
    }
    let staged = schedule.clone();
    // Numbers are those of the whole work; what is behind it is in no list.
    if let Some(Begun { done, .. }) = begun {
        let behind: Vec<Pass> = schedule.passes.extract_if(.., |pass| done.is_behind(pass)).collect();
        for pass in schedule.passes.iter_mut().filter(|p| p.stage == Stage::Pocket) {
            let below = |b: &&Pass| b.cylinder == pass.cylinder && b.stage == Stage::Pocket;
            pass.ledge = behind.iter().filter(below).any(|b| b.to > pass.to + SAME_MM);
        }
    }
    let mut lists = trace::trace(job, survey, &decision.positions, schedule);
    trace::minutes(&mut lists, &mut schedule.passes);
    if let Some(Begun { whole, done }) = begun {
        issued_before(&mut lists, whole, &staged, done, decision);
    }
    let beyond = machine::travel(job, survey, &lists);
    let out_of_reach = |bank: &str| beyond.iter().any(|f| f.subject == Subject::bank(bank));
    lists.retain(|list| !out_of_reach(&list.bank));
    may_cut.retain(|n| !job.site(*n).is_some_and(|(bank, _)| out_of_reach(&job.bank(bank).name)));
    findings.extend(beyond);
    // The numbers stay: lists have them.
    schedule.keep(may_cut);
    (staged, lists)
}
