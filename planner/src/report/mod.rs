//! The survey report that `survey` prints: `borewright/survey/1`, mm and degrees.

use serde::Serialize;

use crate::choose;
use crate::job::Job;
use crate::place::{self, FreeZone, Positions};
use crate::plan::rounded;
use crate::plan::{Finding, Input, JournalAxis, Verdict};
use crate::survey::angle::{self, IncludedAngle};
use crate::survey::corrections::{self, Adjustment};
use crate::survey::fixture::{self, FixtureBudget};
use crate::survey::form::{self, BoreForm};
use crate::survey::heights::{self, Heights};
use crate::survey::pattern::{self, AsBoredStory};
use crate::survey::plate::{self, TorquePlate};
use crate::survey::profile::{self, AxisLine, Profile};
use crate::survey::reversal::{self, Reversal};
use crate::survey::sets::{self, Sets};
use crate::survey::suspect::Suspicion;
use crate::survey::temperature::{self, Correction};
use crate::survey::witness::{self, WitnessCentre};
use crate::survey::{self, PlanError, Survey};

/// A survey as it is written and printed.
#[derive(Debug, Clone, Serialize)]
pub struct SurveyReport {
    /// `borewright/survey/1`.
    pub format: &'static str,
    /// The job's number.
    pub job: String,
    /// The block's name.
    pub block: String,
    /// Always `mm`.
    pub units: &'static str,
    /// The bores, bank by bank, front to rear, each surface that was read.
    pub bores: Vec<BoreForm>,
    /// The journal axis of each machine set-up.
    pub journal_axis: Vec<JournalAxis>,
    /// How the bores stand, and what of that can be told.
    pub as_bored: AsBoredStory,
    /// Liner heights, where read.
    pub heights: Option<Heights>,
    /// What the torque plate does to the bores, where their shape was read with it off and on.
    pub torque_plate: Option<TorquePlate>,
    /// The rounds of measuring, where there are several, and what another one would settle.
    pub sets: Sets,
    /// The included angle, block and index, where both banks were read.
    pub included_angle: Option<IncludedAngle>,
    /// Parent holes by the arcs of iron that cuts have left, where those were read.
    pub witness: Vec<WitnessCentre>,
    /// Block or set-up, where two sets of the same bores were read.
    pub reversal: Option<Reversal>,
    /// What the machinist is asked to put right in the set-ups, each with what it leaves.
    pub corrections: Vec<Adjustment>,
    /// What holding the block costs, where the job names a fixture.
    pub fixture: Option<FixtureBudget>,
    /// Readings and descriptions that are hard to believe, each with its likely cause and a question.
    pub suspicions: Vec<Suspicion>,
    /// What bringing the readings to 20 °C would change, where both temperatures were given; nothing is changed.
    pub temperature: Option<Correction>,
    /// Where each bore's centre could be planned with the sleeve that the plan would choose.
    pub free_zone: Vec<FreeZone>,
    /// What a reader must know.
    pub findings: Vec<Finding>,
    /// The files read.
    pub inputs: Vec<Input>,
    /// The profiles round the bores, for drawing.
    #[serde(skip)]
    pub profiles: Vec<Profile>,
    /// The journal axis of each machine set-up, for drawing.
    #[serde(skip)]
    pub axis_lines: Vec<AxisLine>,
}

impl SurveyReport {
    /// The worst of its findings.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.findings.iter().map(|f| f.verdict).max().unwrap_or(Verdict::Go)
    }

    /// The findings that ask nothing of a kind that a suspicion already asks.
    pub fn beside_suspicions(&self) -> impl Iterator<Item = &Finding> {
        let asked = |finding: &Finding| self.suspicions.iter().any(|s| s.code.word() == finding.code);
        self.findings.iter().filter(move |finding| !asked(finding))
    }
}

/// Surveys a checked job.
///
/// # Errors
/// Readings that make no axis, plane or circle.
pub fn report(job: &Job) -> Result<SurveyReport, PlanError> {
    let survey = survey::survey(job).map_err(PlanError::Readings)?;
    if survey.cylinders.is_empty() {
        return Err(PlanError::NothingMeasured);
    }
    let mut decision = choose::choose(job, &survey);
    if let Some(decision) = &mut decision {
        decision.doubt(&survey.suspicions);
    }
    Ok(of(job, &survey, decision.as_ref().map(|d| &d.positions)))
}

/// The report of a survey in hand; `positions` are those solved from it, where any were.
pub(crate) fn of(job: &Job, survey: &Survey, positions: Option<&Positions>) -> SurveyReport {
    let mut suspicions = survey.suspicions.clone();
    let seen = witness(job, survey, positions);
    suspicions.extend(witness::suspicions(&seen));
    let mut findings = survey.findings.clone();
    findings.extend(suspicions.iter().map(Suspicion::finding));
    let torque_plate = plate::torque_plate(job, survey);
    findings.extend(torque_plate.iter().flat_map(plate::findings));
    let reversal = reversal::reversal(job, &survey.circles, &survey.rounds);
    SurveyReport {
        format: "borewright/survey/1",
        job: job.number.clone(),
        block: job.block.name.clone(),
        units: "mm",
        bores: form::bores(job, survey),
        journal_axis: survey.journal_axis.iter().map(rounded::axis).collect(),
        as_bored: pattern::story(job, survey),
        heights: heights::heights(job, survey),
        torque_plate,
        sets: sets::sets(job, &survey.circles, &survey.rounds, reversal.is_some()),
        included_angle: angle::included_angle(job, &survey.circles, &survey.rounds, reversal.as_ref()),
        corrections: corrections::corrections(job, survey, reversal.as_ref()),
        reversal,
        fixture: fixture::budget(job),
        witness: seen,
        suspicions,
        temperature: temperature::correction(job),
        free_zone: positions.map(|p| place::free_zones(job, survey, p)).unwrap_or_default(),
        findings,
        inputs: job.inputs.iter().map(|i| Input { file: i.name.clone(), sha256: i.sha256.clone() }).collect(),
        profiles: profile::profiles(job, survey),
        axis_lines: profile::axis_lines(job, survey),
    }
}

/// The arcs that were read; the cuts were made where the plan puts them unless a row says otherwise.
fn witness(job: &Job, survey: &Survey, positions: Option<&Positions>) -> Vec<WitnessCentre> {
    if job.set_ups.iter().all(|s| s.witness.is_empty()) {
        return Vec::new();
    }
    let cut_at = |cylinder, depth| positions.and_then(|p| p.cut_mm(cylinder, depth));
    witness::witness(job, survey, &cut_at)
}
