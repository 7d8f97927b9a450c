//! A plan together with what it was made from, and the way through: job to survey, positions, passes, plan.

mod basis;
mod begun;
mod cylinders;
mod fingerprint;
mod issued;
mod judged;
mod listed;
mod seen;
mod written;

pub use basis::basis;
pub use seen::Seen;

use rayon::prelude::*;

use begun::{Done, record_sum};
use fingerprint::{cylinder_fingerprint, fingerprint};
use judged::judge;
use listed::list;
use written::write_down;

use crate::job::{Job, SetUpPlacement};
use crate::log::{self, Log};
use crate::passes::Schedule;
use crate::plan::moves::MoveList;
use crate::plan::{Finding, NearLimit, Plan, Prior, Release, Subject, Verdict};
use crate::record::{Paper, Standing, WorkFinding, as_cut, cut, unlike};
use crate::say;
use crate::survey::{self, PlanError};

/// A finished plan, its job, and its moves.
#[derive(Debug, Clone)]
pub struct Planning {
    /// The job it was made from.
    pub job: Job,
    /// The plan; its `lists` are filled in by the output side, which writes them.
    pub plan: Plan,
    /// The coordinate lists as data; withheld cylinders are not in them.
    pub lists: Vec<MoveList>,
    /// For each set-up of the job, its placement in the bank frame; `None` where the readings came in
    /// the bank frame already.
    pub placements: Vec<Option<SetUpPlacement>>,
    /// The limits that rounding a centre could cross.
    pub near: Vec<NearLimit>,
    /// The schedule of the whole work, with the steps that are done.
    pub staged: Schedule,
    /// What it was decided from; `None` of one made by hand.
    pub seen: Option<Seen>,
}

impl Planning {
    /// This planning without the lists that do not prove, at stop; `unproven` has the number and the reason of
    /// each.
    #[must_use]
    pub fn without(&self, unproven: &[(u32, String)]) -> Self {
        let mut left = self.clone();
        for (number, why) in unproven {
            let Some(list) = self.lists.iter().find(|l| l.number == *number) else { continue };
            left.plan.findings.push(Finding {
                code: "list_not_proven",
                verdict: Verdict::Stop,
                subject: Subject::bank(&list.bank),
                text: say!(
                    "the list {number} {} does not prove and is not kept: {why}. This is a fault of the program, \
                     not of the job: tell whoever keeps it, and cut nothing of this bank",
                    list.stage.word()
                ),
            });
        }
        // What comes after a list that is not kept would meet stock that is still there.
        let lost: Vec<&MoveList> =
            self.lists.iter().filter(|l| unproven.iter().any(|(number, _)| *number == l.number)).collect();
        left.lists.retain(|l| !lost.iter().any(|gone| gone.bank == l.bank && gone.stage <= l.stage));
        left.plan.passes.retain(|p| !lost.iter().any(|gone| gone.bank == p.bank && gone.stage <= p.stage));
        for cylinder in left.plan.cylinders.iter_mut().filter(|c| lost.iter().any(|gone| gone.bank == c.bank))
        {
            cylinder.withheld |= !left.lists.iter().any(|l| l.cylinders.contains(&cylinder.cylinder));
        }
        left.plan.verdict = Verdict::Stop;
        left.plan.fingerprint = String::new();
        let prior = left.plan.prior.take();
        left.plan.fingerprint = fingerprint(&left.plan);
        left.plan.prior = prior;
        left
    }
}

/// Plans a checked job.
///
/// # Errors
/// Readings that make no axis, plane or circle.
pub fn plan(job: Job, release: Option<Release>) -> Result<Planning, PlanError> {
    plan_with(job, release, None)
}

/// Plans a job beside what its block's family says: what of the block is unlike its family is a finding, and
/// changes nothing else.
///
/// # Errors
/// Readings that make no axis, plane or circle.
pub fn plan_with(job: Job, release: Option<Release>, prior: Option<Prior>) -> Result<Planning, PlanError> {
    // If nothing was measured, `once` reports it.
    let prior = prior.map(|prior| prior.against(&nothing_cut(&job))).transpose()?;
    let prior = prior.as_ref();
    if job.log.entries.is_empty() && job.log.told.is_empty() {
        return once(job, release, prior, None);
    }
    let job = Job { kept_sleeve: kept_sleeve(&job), ..job };
    let whole = once(nothing_cut(&job), release.clone(), prior, None)?;
    let Some(paper) = asked_of_all(&job, &whole, prior)? else { return Ok(whole) };
    let standing = Standing::of(&job.log, &paper.checks, job.units).made_from(paper.made_from());
    let cut = cut::cut(&job, &paper, &standing);
    let mut done = Done {
        findings: as_cut::findings(Some(&job), &paper, &standing).iter().map(WorkFinding::told).collect(),
        steps: cut.done,
        decks: cut.decks,
        taken: standing.places(),
        record_sum: record_sum(&job.log, &standing),
    };
    let job = Job { cut: cut.bores, ..job };
    let planned = once(job.clone(), release.clone(), prior, Some(Begun { whole: &whole, done: &done }))?;
    // The plan may now ask for another sleeve than the one cut for; the record is then judged once more against
    // that.
    let now = Paper::of(&planned.plan);
    let unlike = now.map(|now| unlike::findings(&job, &paper, &now, &standing)).unwrap_or_default();
    if unlike.is_empty() {
        return Ok(planned);
    }
    done.findings.extend(unlike.iter().map(WorkFinding::told));
    once(job, release, prior, Some(Begun { whole: &whole, done: &done }))
}

/// What the record is judged by: the plan of the whole work, and of the bores that it may not cut what they would be asked
/// were they cleared. What was cut there is judged all the same. `None` where it cannot be written.
fn asked_of_all(job: &Job, whole: &Planning, prior: Option<&Prior>) -> Result<Option<Paper>, PlanError> {
    let paper = Paper::of(&whole.plan);
    let held = whole.plan.cylinders.iter().any(|c| c.withheld);
    match paper {
        Some(paper) if held => {
            let cleared = made(nothing_cut(job), None, prior, None, true)?;
            Ok(Some(
                Paper::of(&cleared.plan).map_or_else(|| paper.clone(), |of_all| paper.asking_too(&of_all)),
            ))
        }
        paper => Ok(paper),
    }
}

/// The plan that there would be with nothing cut: the record names its checks, which are those of the whole work.
///
/// # Errors
/// Readings that make no axis, plane or circle.
pub(crate) fn whole(
    job: &Job,
    release: Option<Release>,
    prior: Option<&Prior>,
) -> Result<Planning, PlanError> {
    let prior = prior.map(|prior| prior.clone().against(&nothing_cut(job))).transpose()?;
    once(nothing_cut(&Job { kept_sleeve: kept_sleeve(job), ..job.clone() }), release, prior.as_ref(), None)
}

fn nothing_cut(job: &Job) -> Job {
    let mut job = Job { log: Log::default(), ..job.clone() };
    job.inputs.retain(|input| input.name != log::FILE);
    job
}

/// The candidate that the work has begun with.
fn kept_sleeve(job: &Job) -> Option<usize> {
    let said = Standing::of(&job.log, &[], job.units);
    said.events.iter().rev().filter(|e| e.struck.is_none()).find_map(|e| {
        let value = e.fields.get("value");
        let number = job.measured.iter().find(|m| m.number == value).map(|m| m.sleeve);
        let candidate = || job.sleeves.iter().position(|s| s.name == value);
        (e.what == log::Word::Sleeve).then(|| number.or_else(candidate)).flatten()
    })
}

/// Centres this near are one, mm.
const SAME_MM: f64 = 1e-6;

/// A work that was begun.
#[derive(Clone, Copy)]
struct Begun<'a> {
    /// The plan of the whole work.
    whole: &'a Planning,
    /// What of it is done.
    done: &'a Done,
}

/// Plans once.
fn once(
    job: Job,
    release: Option<Release>,
    prior: Option<&Prior>,
    begun: Option<Begun<'_>>,
) -> Result<Planning, PlanError> {
    made(job, release, prior, begun, false)
}

/// Plans once; `cleared`: as if every bore might be cut, for what would be asked there and for nothing else.
fn made(
    job: Job,
    release: Option<Release>,
    prior: Option<&Prior>,
    begun: Option<Begun<'_>>,
    cleared: bool,
) -> Result<Planning, PlanError> {
    let survey = survey::survey(&job).map_err(PlanError::Readings)?;
    if survey.cylinders.is_empty() {
        return Err(PlanError::NothingMeasured);
    }
    let mut judged = judge(&job, &survey, prior, begun)?;
    let mut may_cut = if cleared {
        judged.decision.positions.bores.iter().map(|b| b.site.cylinder).collect()
    } else {
        judged.cleared(&survey, release.is_some())
    };
    let (staged, lists) = list(&job, &survey, &mut judged, &mut may_cut, begun);
    judged.withhold(&may_cut);
    let near = basis::near(&judged.decision.positions, job.machine.list_units);
    let (mut plan, positions) =
        write_down(&job, &survey, judged, (&may_cut, release), (&staged, &lists), begun);
    let own: Vec<String> = plan.cylinders.par_iter().map(|c| cylinder_fingerprint(&plan, c)).collect();
    for (cylinder, own) in plan.cylinders.iter_mut().zip(own) {
        cylinder.fingerprint = own;
    }
    plan.fingerprint = fingerprint(&plan);
    // Set after the fingerprint is taken, so that blocks filed since do not invalidate sheets already printed.
    plan.prior = prior.cloned();
    let placements = survey.placements.clone();
    let seen = Some(Seen { survey, positions });
    Ok(Planning { job, plan, lists, placements, near, staged, seen })
}
