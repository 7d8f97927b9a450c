//! The job as it left: found, asked, cut, finished, and what nobody measured. `borewright/report/1`, mm and degrees.
//!
//! In: the job with its record, and the plan that the shop worked by. Out: every place that is measured with what was
//! read there, each bore from found to finished, what happened and who let what through. Nothing here is planned anew.

mod bore;
mod happened;
mod place;
mod size;
#[cfg(test)]
mod tests;
mod words;

use std::collections::BTreeMap;

use serde::Serialize;

use crate::job::Job;
use crate::plan::check::Check;
use crate::plan::sentence::Sentence;
use crate::plan::{Release, Verdict};
use crate::planning;
use crate::record::paper::PaperRelease;
use crate::record::{Paper, Standing, as_cut, cut, noted};
use crate::say;
use crate::survey::{self, PlanError, TorquePlate, plate};

pub use bore::{BoreLeft, CutLeft, FoundBore};
pub use happened::{Happened, Hold, Struck};
pub use place::{Lay, Place, Unread};
pub use size::{Sizes, Uncertain};

/// Digits of a fingerprint that two papers are told apart by.
const SHORT: usize = 12;

/// A job as it left.
#[derive(Debug, Clone, Serialize)]
pub struct AsLeft {
    /// `borewright/report/1`.
    pub format: &'static str,
    /// The job's number.
    pub job: String,
    /// Free text.
    pub customer: Option<String>,
    /// The block's name.
    pub block: String,
    /// The machine's name.
    pub machine: String,
    /// Always `mm`.
    pub units: &'static str,
    /// Fingerprint of the plan that the shop worked by.
    pub fingerprint: String,
    /// Its first twelve digits.
    pub short: String,
    /// The verdict that the plan was issued with: `go`, `hold` or `stop`.
    pub plan_verdict: String,
    /// Who released the plan, and why.
    pub release: Option<PaperRelease>,
    /// Files that are no longer what the plan was made from.
    pub changed: Vec<String>,
    /// `go`: all measured and as asked. `hold`: something is open. `stop`: something is not as asked.
    pub verdict: Verdict,
    /// What keeps it from go, each in a sentence.
    pub open: Vec<Sentence>,
    /// For the customer, in words that anyone reads.
    pub says: Vec<Sentence>,
    /// Lines of the record that count.
    pub lines: usize,
    /// The first and the last instant in the record; empty where there is none.
    pub from_to: [String; 2],
    /// What the finished bore was to be, and within what either side, mm.
    pub finish: [f64; 2],
    /// The bores, in the order of the block.
    pub cylinders: Vec<BoreLeft>,
    /// Sizes, depths and heights, each check at each bore.
    pub sizes: Vec<Sizes>,
    /// Every reading that the plan asks for, with what was read.
    pub places: Vec<Place>,
    /// What the work waited for and nobody read.
    pub not_measured: Vec<Unread>,
    /// What the torque plate did to the bores, where their shape was read with it off and on.
    pub torque_plate: Option<TorquePlate>,
    /// What held or stopped something, of the plan and of the work, and who let it through.
    pub holds: Vec<Hold>,
    /// What happened and was decided, in the order of the record.
    pub events: Vec<Happened>,
    /// Readings and events that were struck, with why and by whom.
    pub struck: Vec<Struck>,
    /// Notes of which nobody said whether they tell of damage, as questions that keep it open.
    pub asked: Vec<Sentence>,
    /// What of the record's file must be known.
    pub told: Vec<Sentence>,
    /// Whether the plan was made with a record of which nothing is left.
    #[serde(skip)]
    gone: bool,
    /// The tool of each check's step, where one of the machine file's was used.
    #[serde(skip)]
    tools: BTreeMap<u32, String>,
}

impl AsLeft {
    /// The finished bore of a cylinder: as honed.
    #[must_use]
    pub fn finished(&self, cylinder: u32) -> Option<&Sizes> {
        let mut own = self.sizes.iter().filter(|s| s.cylinder == Some(cylinder));
        own.rfind(|s| s.what == crate::plan::check::What::Bore)
    }

    /// The tool that cut what a check measures.
    #[must_use]
    pub fn tool(&self, check: u32) -> Option<&str> {
        self.tools.get(&check).map(String::as_str)
    }

    /// How a sleeve stands against the deck, the last time that it was measured.
    #[must_use]
    pub fn protrusion(&self, cylinder: u32) -> Option<&Sizes> {
        let mut own = self.sizes.iter().filter(|s| s.cylinder == Some(cylinder));
        own.rfind(|s| s.what == crate::plan::check::What::Protrusion)
    }
}

/// What everything below rests on.
struct Bench<'a> {
    job: &'a Job,
    paper: &'a Paper,
    standing: Standing,
}

/// Puts together what there is of a job.
///
/// # Errors
/// Readings that make no survey.
pub fn as_left(job: &Job, paper: &Paper, changed: Vec<String>) -> Result<AsLeft, PlanError> {
    // A line that the plan was made with is missed where the record has it no more.
    let mut known = job.clone();
    paper.record_sum.iter().for_each(|sum| known.log.miss(sum));
    let job = &known;
    let survey = survey::survey(job).map_err(PlanError::Readings)?;
    let release = paper.release.as_ref().map(|r| Release { who: r.who.clone(), why: r.why.clone() });
    let whole = planning::whole(job, release, paper.prior.as_ref())?;
    let checks = all_checks(&paper.checks, &whole.plan.checks);
    let paper = &paper.asking(checks);
    let standing = Standing::of(&job.log, &paper.checks, job.units).made_from(paper.made_from());
    let bench = Bench { job, paper, standing };
    let places = place::places(&bench);
    let sizes = size::sizes(&bench, &places);
    let not_measured = place::unread(&places);
    let cut = cut::cut(job, paper, &bench.standing);
    let holds = happened::holds(paper, as_cut::findings(Some(job), paper, &bench.standing));
    let cylinders = bore::bores(&bench, &survey, &cut, (&places, &holds));
    let times = || job.log.entries.iter().map(|e| e.fields.get("at")).filter(|at| !at.is_empty());
    let tool = |step: Option<u32>| {
        whole.plan.passes.iter().find(|p| Some(p.step) == step).and_then(|p| p.tool.clone())
    };
    let tools = paper.checks.iter().filter_map(|c| Some((c.check, tool(c.step)?))).collect();
    let mut left = AsLeft {
        format: "borewright/report/1",
        job: job.number.clone(),
        customer: job.customer.clone(),
        block: job.block.name.clone(),
        machine: job.machine.name.clone(),
        units: "mm",
        fingerprint: paper.fingerprint.clone(),
        short: paper.fingerprint.chars().take(SHORT).collect(),
        plan_verdict: paper.verdict.clone(),
        release: paper.release.clone(),
        changed,
        verdict: Verdict::Go,
        open: Vec::new(),
        says: Vec::new(),
        lines: job.log.entries.len(),
        from_to: [times().min(), times().max()].map(|at| at.unwrap_or_default().to_owned()),
        finish: [job.finish.bore_mm, job.finish.tolerance_mm],
        cylinders,
        sizes,
        places,
        not_measured,
        torque_plate: plate::torque_plate(job, &survey),
        holds,
        events: happened::events(&bench.standing),
        struck: happened::struck(&bench, &job.log),
        asked: noted::questions(&bench.standing).map(|(_, text)| text).collect(),
        told: bench.standing.told.iter().map(|t| say!("line {}: {}", t.line, t.text)).collect(),
        tools,
        gone: job.log.is_gone(),
    };
    (left.verdict, left.open) = words::verdict(&left);
    left.says = words::says(&left);
    Ok(left)
}

/// The checks of the paper, and those of the whole work that it no longer asks for because their step is done: one
/// that was skipped must show as not measured.
fn all_checks(paper: &[Check], whole: &[Check]) -> Vec<Check> {
    let same = |a: &Check, b: &Check| a.check == b.check && a.name() == b.name();
    // Where the two plans rest on other inputs or another release, their numbers mean other places.
    let alike = paper.iter().all(|own| whole.iter().any(|w| same(own, w)));
    if !alike {
        return paper.to_vec();
    }
    let mut all = Vec::new();
    for check in whole {
        let own = paper.iter().find(|own| own.check == check.check);
        let mut cylinders = check.cylinders.clone();
        for at in own.iter().flat_map(|own| &own.cylinders) {
            // As it was asked on the paper.
            match cylinders.iter_mut().find(|c| c.cylinder == at.cylinder) {
                Some(same) => *same = at.clone(),
                None => cylinders.push(at.clone()),
            }
        }
        all.push(Check { cylinders, ..own.unwrap_or(check).clone() });
    }
    all
}
