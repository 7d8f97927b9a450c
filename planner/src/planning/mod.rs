//! A plan together with what it was made from, and the way through: job to survey, positions, passes, plan.

mod basis;
mod begun;
mod cylinders;
mod fingerprint;
mod issued;
mod seen;

pub use basis::basis;
pub use seen::Seen;

use borewright_geometry::clock::distance_mm;
use rayon::prelude::*;

use begun::{Done, left_alone, record_sum};
use cylinders::cylinders;
use fingerprint::{cylinder_fingerprint, fingerprint};
use issued::issued_before;

use crate::checks;
use crate::choose::{self, Decision};
use crate::job::{Job, SetUpPlacement};
use crate::limits;
use crate::log::{self, Log};
use crate::machine;
use crate::passes::{self, Missing, Schedule};
use crate::place::{Positions, Seated};
use crate::plan::moves::MoveList;
use crate::plan::rounding::plan as round;
use crate::plan::{
    FORMAT, Finding, Input, NearLimit, Pass, Plan, Prior, Release, SleeveChoice, Stage, StageTime, Subject,
    Verdict, WorstMargin, rounded,
};
use crate::record::{Paper, Standing, WorkFinding, as_cut, cut, unlike};
use crate::say;
use crate::survey::{self, PlanError, Survey};
use crate::trace;

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

/// What is decided of a job: where its bores go, by which passes, and what speaks against it.
#[derive(Debug)]
struct Judged {
    decision: Decision,
    schedule: Schedule,
    findings: Vec<Finding>,
}

impl Judged {
    /// The cylinders that may be cut.
    fn cleared(&self, survey: &Survey, released: bool) -> Vec<u32> {
        // A stop of the datum itself stops every cylinder; a hold of it waits for a release.
        let datum = survey.findings.iter().map(|f| f.verdict).max().unwrap_or(Verdict::Go);
        let lets = |verdict| verdict == Verdict::Go || (verdict == Verdict::Hold && released);
        let bores = self.decision.positions.bores.iter();
        bores.filter(|b| lets(b.verdict) && lets(datum)).map(|b| b.site.cylinder).collect()
    }

    /// Takes the places of all cylinders but these out of their reasons, and out of the findings that say the same.
    fn withhold(&mut self, may_cut: &[u32]) {
        for bore in &mut self.decision.positions.bores {
            if may_cut.contains(&bore.site.cylinder) {
                continue;
            }
            let told = bore.why.own().to_string();
            bore.why.withhold();
            let own = |f: &&mut Finding| f.subject.is_cylinder(bore.site.cylinder) && f.text == *told;
            for finding in self.findings.iter_mut().filter(own) {
                finding.text = bore.why.own();
            }
        }
    }
}

/// Decides on a job that was surveyed.
fn judge(
    job: &Job,
    survey: &Survey,
    prior: Option<&Prior>,
    begun: Option<Begun<'_>>,
) -> Result<Judged, PlanError> {
    let mut decision = choose::choose(job, survey).ok_or(PlanError::NothingMeasured)?;
    let mut suspicions = survey.suspicions.clone();
    let cut_at = |cylinder, depth| decision.positions.cut_mm(cylinder, depth);
    suspicions.extend(survey::witness_suspicions(&survey::witness(job, survey, &cut_at)));
    decision.doubt(&suspicions);
    let off = |b: &Seated| distance_mm(b.planned_mm, b.true_mm);
    let moved = decision.positions.bores.iter().map(|b| (b.site.cylinder, off(b))).collect();
    let chosen = decision.findings.clone();
    let mut heard = Heard { job, decision, findings: Vec::new() };
    // A hold of the datum holds every bore: `Judged::cleared`.
    heard.take(survey.findings.clone(), |_| Holds::NoBore);
    // `doubt` held their bores.
    heard.take(suspicions.iter().map(survey::Suspicion::finding), |_| Holds::NoBore);
    // What the plate does to a bore is the lead's to decide before it is cut.
    let plates = survey::plate::torque_plate(job, survey);
    heard.take(plates.iter().flat_map(survey::plate::findings), |_| Holds::ItsBores);
    // A block unlike its family may have been misread, and is held until it was read again.
    heard.take(prior.map(Prior::findings).unwrap_or_default(), |_| Holds::ItsBores);
    // A bore that nobody measured has no place that could be held.
    heard.take(unmeasured(job, survey), |_| Holds::NoBore);
    // Notes on what nobody read again.
    heard.take(survey::few::findings(job, survey, &moved), |_| Holds::NoBore);
    heard.take(limits::position_untold(job, &moved), |_| Holds::ItsBores);
    // `choose` held theirs.
    heard.take(chosen, |_| Holds::NoBore);
    let mut schedule = passes::stage(job, survey, &heard.decision.positions, &heard.decision.fit);
    schedule.findings.extend(machine::reach(job, &schedule.passes));
    // A load, a mandrel or a clamp in the way holds every bore of its bank; a stage that cannot be made leaves the
    // stages before it.
    let told = |f: &Finding| f.verdict == Verdict::Go || Missing::is(f);
    heard.take(schedule.findings.clone(), |f| if told(f) { Holds::NoBore } else { Holds::ItsBores });
    if let Some(Begun { whole, done }) = begun {
        // Heard after the work is staged: a bore that its record stops changes no step of the others. Told behind the survey's.
        let rest = heard.findings.split_off(survey.findings.len());
        // A note on the record as a whole concerns no bore; a hold may concern any.
        let noted = |f: &Finding| f.verdict == Verdict::Go && matches!(f.subject, Subject::Whole(_));
        heard.take(done.findings.clone(), |f| if noted(f) { Holds::NoBore } else { Holds::ItsBores });
        heard.findings.extend(rest);
        left_alone(&mut schedule, &whole.staged.passes, job);
    }
    let Heard { decision, findings, .. } = heard;
    Ok(Judged { decision, schedule, findings })
}

/// What a finding does to bores, beside being told.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Holds {
    /// Every bore that it concerns comes to its verdict.
    ItsBores,
    /// Nothing here: it is a note, or its bores are held elsewhere.
    NoBore,
}

/// The decision while findings are heard: the only way by which one is told, so that none is told and forgot to hold.
struct Heard<'a> {
    job: &'a Job,
    decision: Decision,
    findings: Vec<Finding>,
}

impl Heard<'_> {
    fn take(&mut self, found: impl IntoIterator<Item = Finding>, holds: impl Fn(&Finding) -> Holds) {
        for finding in found {
            if holds(&finding) == Holds::ItsBores {
                self.decision.hold(self.job, &finding);
            }
            self.findings.push(finding);
        }
    }
}

/// The schedule of the whole work, and the lists of what is still to be cut of it; what the machine does not reach
/// is taken out of `may_cut`, and what is behind or not cleared out of the schedule.
fn list(
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

/// The plan as it is printed and kept, without its fingerprints; and the positions that it was made from.
fn write_down(
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

/// Centres this near are one, mm.
const SAME_MM: f64 = 1e-6;

/// Cylinders that nobody measured are a hold: their neighbours' bridges are not judged.
fn unmeasured(job: &Job, survey: &Survey) -> Vec<Finding> {
    let sites = job.block.banks.iter().flat_map(|b| &b.sites);
    sites
        .filter(|s| !survey.cylinders.contains_key(&s.cylinder))
        .map(|s| Finding {
            code: "not_measured",
            verdict: Verdict::Hold,
            subject: Subject::cylinder(s.cylinder),
            text: "not measured: it is not planned, and no bridge or flange gap towards it is judged".into(),
        })
        .collect()
}
