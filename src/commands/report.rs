//! `report`: the job as it left, written where it is filed with the job.

use std::path::{Path, PathBuf};

use borewright_planner::as_left::{AsLeft, as_left};
use borewright_planner::job::Job;
use borewright_planner::record::Paper;

use super::print;
use crate::args::Format;
use crate::folder;
use crate::status::{self, Failure, Status};
use crate::terminal;

/// Where a report lies unless told otherwise: what is in it is filed with the job, and no new plan takes it away.
const ROOM: &str = "report";

pub(super) fn run(
    path: &Path,
    plan: Option<&Path>,
    out: Option<&Path>,
    format: Format,
) -> Result<Status, Failure> {
    let (job, left) = of(path, plan)?;
    let artifacts = borewright_output::report_bundle(&job, &left)?;
    let out = out.map_or_else(|| folder_of(path).join(ROOM), Path::to_owned);
    super::survey::keep_plan(&out)?;
    status::remark(&folder::write(&out, &artifacts)?);
    match format {
        Format::Json => print(&borewright_output::report_json(&left)?)?,
        Format::Text => {
            let mut page = borewright_output::report_page(&job, &left, &terminal::plainly(job.sheet_units))?;
            let place = status::shown(&out);
            page.push_str(&format!("written to {place}:\n  report.json, report.pdf, figures\n"));
            print(page.as_bytes())?;
        }
    }
    Ok(left.verdict.into())
}

/// A job and how it left, by the plan that lies with it unless another is named.
pub(crate) fn of(path: &Path, plan: Option<&Path>) -> Result<(Job, AsLeft), Failure> {
    let mut job = borewright_planner::load(path)?;
    let folder = folder_of(path);
    borewright_planner::record::tell_beside(&folder, &job.whose(), &mut job.log);
    let plan = plan.map_or_else(|| folder.join("out").join("plan.json"), Path::to_owned);
    let paper = Paper::read(&plan)?;
    super::record::of_job(&plan, &paper, &job)?;
    let left = as_left(&job, &paper, paper.changed(&folder))?;
    Ok((job, left))
}

fn folder_of(job: &Path) -> PathBuf {
    if job.is_dir() {
        return job.to_owned();
    }
    match job.parent() {
        Some(parent) if !parent.as_os_str().is_empty() => parent.to_owned(),
        _ => PathBuf::from("."),
    }
}
