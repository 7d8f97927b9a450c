//! Everything that a survey is written as, in memory: the command puts it on the disk.

use borewright_planner::job::Job;
use borewright_planner::read::source::sha256_hex;
use borewright_planner::report::SurveyReport;

use crate::drawings::{self, Subject};
use crate::paper::text::Fonts;
use crate::sheets;
use crate::{Artifact, OutputError, survey_json};

/// Writes a survey as files: `survey.json`, the sheet `survey.pdf`, and each picture under `figures/`. Equal
/// surveys give equal bytes.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub fn survey_bundle(job: &Job, report: &SurveyReport) -> Result<Vec<Artifact>, OutputError> {
    let json = survey_json(report)?;
    let fingerprint = sha256_hex(&json);
    let fonts = Fonts::load()?;
    let pictures = drawings::all(&Subject { job, report, fonts })?;
    let sheet = sheets::survey_sheet(job, report, fonts, &fingerprint)?;
    let mut artifacts =
        vec![Artifact::new("survey.json".to_owned(), json), Artifact::new("survey.pdf".to_owned(), sheet)];
    for picture in &pictures {
        let bytes = drawings::svg(&picture.figure, fonts)?.into_bytes();
        artifacts.push(Artifact::new(format!("figures/{}.svg", picture.name), bytes));
    }
    Ok(artifacts)
}

#[cfg(test)]
mod tests;
