//! `explain`: where a figure comes from; writes nothing.

use borewright_planner::explain;
use borewright_planner::job::SheetUnits;
use borewright_planner::plan::sentence::Units;

use super::{plan, print};
use crate::args::{ExplainArgs, Format};
use crate::status::{Failure, Status};
use crate::terminal;

pub(super) fn run(asked: &ExplainArgs) -> Result<Status, Failure> {
    let planning = plan::planned(&asked.job.path, None, None, &[])?;
    let units = match planning.job.sheet_units {
        SheetUnits::Mm => Units::Metric,
        SheetUnits::In => Units::Inch,
        SheetUnits::Both => Units::Both,
    };
    let t = terminal::plainly(planning.job.sheet_units);
    match explain::explain(&planning, &asked.what) {
        Ok(accounts) => match asked.printed.format {
            Format::Json => print(&borewright_output::explained_json(&accounts, units)?)?,
            Format::Text => print(borewright_output::explain_page(&accounts, &t).as_bytes())?,
        },
        Err(unasked) if asked.what.is_empty() => match asked.printed.format {
            Format::Json => print(&borewright_output::unasked_json(&unasked)?)?,
            Format::Text => print(borewright_output::unasked_page(&unasked, &t).as_bytes())?,
        },
        Err(unasked) => return Err(Failure::Asked(borewright_output::unasked_page(&unasked, &t))),
    }
    Ok(Status::Go)
}
