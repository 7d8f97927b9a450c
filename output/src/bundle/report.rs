//! Everything that a report is written as, in memory: the command puts it on the disk.

use borewright_planner::as_left::AsLeft;
use borewright_planner::job::Job;

use crate::drawings;
use crate::paper::text::Fonts;
use crate::sheets;
use crate::{Artifact, OutputError, report_json};

/// Writes a report as files: `report.json`, the sheet `report.pdf`, and each picture under `figures/`. Equal jobs and
/// records give equal bytes.
///
/// # Errors
/// Where a figure cannot be printed or a drawing leaves its page.
pub fn report_bundle(job: &Job, left: &AsLeft) -> Result<Vec<Artifact>, OutputError> {
    let fonts = Fonts::load()?;
    let pictures = drawings::as_left(job, left, fonts)?;
    let sheet = sheets::report_sheet(job, left, &pictures, fonts)?;
    let mut artifacts = vec![
        Artifact::new("report.json".to_owned(), report_json(left)?),
        Artifact::new("report.pdf".to_owned(), sheet),
    ];
    for picture in &pictures {
        let bytes = drawings::svg(&picture.figure, fonts)?.into_bytes();
        artifacts.push(Artifact::new(format!("figures/{}.svg", picture.name), bytes));
    }
    Ok(artifacts)
}
