//! What `survey` prints: `borewright/survey/1`, mm and degrees.

use serde::Serialize;

use super::form::{self, BoreForm};
use super::heights::{self, Heights};
use super::pattern::{self, AsBoredStory};
use super::plate::{self, TorquePlate};
use super::reversal::{self, Reversal};
use super::suspect::Suspicion;
use super::temperature::{self, Correction};
use crate::fixture::{self, FixtureBudget};
use crate::job::Job;
use crate::plan::{Finding, JournalAxis, Verdict};
use crate::planning::PlanError;

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
    /// Block or set-up, where two sets of the same bores were read.
    pub reversal: Option<Reversal>,
    /// What holding the block costs, where the job names a fixture.
    pub fixture: Option<FixtureBudget>,
    /// What was typed and is hard to believe, each with its likely cause and a question.
    pub suspicions: Vec<Suspicion>,
    /// What bringing the readings to 20 °C would change, where both temperatures were given; nothing is changed.
    pub temperature: Option<Correction>,
    /// What a reader must know.
    pub findings: Vec<Finding>,
}

impl SurveyReport {
    /// The worst of its findings.
    #[must_use]
    pub fn verdict(&self) -> Verdict {
        self.findings.iter().map(|f| f.verdict).max().unwrap_or(Verdict::Go)
    }
}

/// Surveys a checked job.
///
/// # Errors
/// Readings that make no axis, plane or circle.
pub fn report(job: &Job) -> Result<SurveyReport, PlanError> {
    let survey = super::survey(job).map_err(PlanError::Readings)?;
    if survey.cylinders.is_empty() {
        return Err(PlanError::NothingMeasured);
    }
    let mut findings = survey.findings.clone();
    findings.extend(survey.suspicions.iter().map(Suspicion::finding));
    let torque_plate = plate::torque_plate(job, &survey);
    findings.extend(torque_plate.iter().flat_map(plate::findings));
    Ok(SurveyReport {
        format: "borewright/survey/1",
        job: job.number.clone(),
        block: job.block.name.clone(),
        units: "mm",
        bores: form::bores(job, &survey),
        journal_axis: survey.journal_axis.iter().map(crate::planning::rounded_axis).collect(),
        as_bored: pattern::story(job, &survey),
        heights: heights::heights(job, &survey),
        torque_plate,
        reversal: reversal::reversal(job, &survey),
        fixture: fixture::budget(job),
        suspicions: survey.suspicions.clone(),
        temperature: temperature::correction(job),
        findings,
    })
}
