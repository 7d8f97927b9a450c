//! `survey`: what the readings say of the block as it came in; writes nothing.

use std::path::Path;

use super::print;
use crate::args::Format;
use crate::status::{Failure, Status};

pub(super) fn run(path: &Path, format: Format) -> Result<Status, Failure> {
    let job = borewright_planner::load(path)?;
    let report = borewright_planner::survey::report(&job)?;
    match format {
        Format::Json => print(&borewright_output::survey_json(&report)?)?,
        Format::Text => print(borewright_output::survey_page(&report).as_bytes())?,
    }
    Ok(report.verdict().into())
}
