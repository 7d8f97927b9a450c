//! `plan`: decides, writes everything, says what it came to.

use std::path::{Path, PathBuf};

use borewright_planner::plan::Release;

use super::print;
use crate::args::Format;
use crate::folder;
use crate::status::{Failure, Status};

pub(super) fn run(
    path: &Path,
    out: Option<&Path>,
    release: Option<&Release>,
    format: Format,
) -> Result<Status, Failure> {
    let job = borewright_planner::load(path)?;
    let planning = borewright_planner::plan_job(job, release.cloned())?;
    let bundle = borewright_output::bundle(&planning)?;
    let out = out.map_or_else(|| beside(path), Path::to_owned);
    folder::write(&out, &bundle.artifacts)?;
    match format {
        Format::Json => print(&borewright_output::plan_json(&bundle.plan)?)?,
        Format::Text => {
            print(borewright_output::summary(&planning, &bundle, &out.display().to_string()).as_bytes())?
        }
    }
    Ok(bundle.plan.verdict.into())
}

/// `out` in the job's folder.
fn beside(job: &Path) -> PathBuf {
    let folder = if job.is_dir() { job } else { job.parent().unwrap_or(job) };
    folder.join("out")
}
