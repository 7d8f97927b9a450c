//! `survey`: what the readings say of the block as it came in; writes nothing unless told where.

use std::path::Path;

use super::print;
use crate::args::{Format, Telling};
use crate::folder;
use crate::status::{self, Failure, Status};
use crate::terminal;

pub(super) fn run(
    path: &Path,
    out: Option<&Path>,
    telling: Telling,
    format: Format,
) -> Result<Status, Failure> {
    let job = borewright_planner::load(path)?;
    let report = borewright_planner::report::report(&job)?;
    if let Some(out) = out {
        let artifacts = borewright_output::survey_bundle(&job, &report)?;
        keep_plan(out)?;
        status::remark(&folder::write(out, &artifacts)?);
    }
    match format {
        Format::Json => print(&borewright_output::survey_json(&report)?)?,
        Format::Text => {
            let t = terminal::as_asked(telling, job.sheet_units);
            let mut page = borewright_output::survey_page(
                &report,
                job.block.parent.bore_length_mm,
                &t,
                &status::shown(path),
            );
            if let Some(out) = out {
                let place = status::shown(out);
                page.push_str(&format!("\nwritten to {place}: survey.json, survey.pdf, figures\n"));
            }
            print(page.as_bytes())?;
        }
    }
    Ok(report.verdict().into())
}

/// A folder is replaced whole: a plan must not give way to a survey.
pub(super) fn keep_plan(out: &Path) -> Result<(), Failure> {
    let plan = out.join("plan.json");
    if std::fs::symlink_metadata(&plan).is_ok() {
        return Err(Failure::Place {
            path: plan,
            found: "a plan".into(),
            expected: "a folder of the survey's own",
        });
    }
    Ok(())
}
