//! `plan`: decides, writes everything, says what it came to.

use std::path::{Path, PathBuf};

use borewright_planner::plan::Release;

use super::print;
use crate::args::Format;
use crate::folder;
use crate::status::{self, Failure, Status};

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
    let before = before(&out.join("plan.json"));
    status::remark(&folder::write(&out, &bundle.artifacts)?);
    match format {
        Format::Json => print(&borewright_output::plan_json(&bundle.plan)?)?,
        Format::Text => {
            let mut text = borewright_output::summary(&planning, &bundle, &status::shown(&out));
            if let Some(before) = before {
                text.push_str(&borewright_output::changes(&before, &planning, &bundle.plan));
                text.push_str(&borewright_output::change_card(&before, &planning, &bundle.plan));
            }
            // The list of files can push the first line off a small terminal.
            text.push_str(&format!("{}\n", bundle.plan.verdict.word().to_uppercase()));
            print(text.as_bytes())?;
        }
    }
    Ok(bundle.plan.verdict.into())
}

/// The plan that was written there before, if it can be read and is no larger than a plan.
pub(crate) fn before(path: &Path) -> Option<String> {
    const MOST_BYTES: u64 = 64 * 1024 * 1024;
    let small = path.metadata().is_ok_and(|m| m.is_file() && m.len() <= MOST_BYTES);
    small.then(|| std::fs::read_to_string(path).ok()).flatten()
}

/// `out` in the job's folder.
pub(super) fn beside(job: &Path) -> PathBuf {
    let folder = if job.is_dir() { job } else { job.parent().unwrap_or(job) };
    folder.join("out")
}
