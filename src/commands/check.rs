//! `check`: the shop lead's page; writes nothing.

use super::{plan, print, prior};
use crate::args::{CheckArgs, Format};
use crate::place::Place;
use crate::status::{Failure, Status, shown};
use crate::terminal;

pub(super) fn run(asked: &CheckArgs) -> Result<Status, Failure> {
    let path = asked.job.path.as_path();
    let cache = asked.cache.folder.as_deref();
    let prior =
        asked.prior.as_deref().map(|place| prior::of_job(&Place::of(place)?, cache, path)).transpose()?;
    let before = plan::before(&plan::beside(path).join("plan.json"));
    let known = before.as_deref().and_then(plan::Before::of);
    let planning = plan::planned(path, None, prior, &known.iter().collect::<Vec<_>>())?;
    match asked.printed.format {
        Format::Json => print(&borewright_output::plan_json(&planning.plan)?)?,
        Format::Text => {
            let t = terminal::as_asked(asked.telling, planning.job.sheet_units);
            let mut page = borewright_output::check_page(&planning, &t, &shown(path));
            if let Some(prior) = &planning.plan.prior {
                page.push_str(&borewright_output::prior_section(prior, &t));
            }
            if let Some(before) = before {
                page.push_str(&borewright_output::stale(&before, &planning.plan, &t));
            }
            print(page.as_bytes())?;
        }
    }
    Ok(planning.plan.verdict.into())
}
