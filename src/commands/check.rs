//! `check`: the shop lead's page; writes nothing.

use std::path::Path;

use super::print;
use crate::args::Format;
use crate::status::{Failure, Status};

pub(super) fn run(path: &Path, format: Format) -> Result<Status, Failure> {
    let job = borewright_planner::load(path)?;
    let planning = borewright_planner::plan_job(job, None)?;
    match format {
        Format::Json => print(&borewright_output::plan_json(&planning.plan)?)?,
        Format::Text => {
            let mut page = borewright_output::check_page(&planning);
            if let Some(before) = super::plan::before(&super::plan::beside(path).join("plan.json")) {
                page.push_str(&borewright_output::stale(&before, &planning.plan));
            }
            print(page.as_bytes())?;
        }
    }
    Ok(planning.plan.verdict.into())
}
