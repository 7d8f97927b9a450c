//! `shop`: how well the shop cuts, over its jobs; writes nothing.

use std::path::{Path, PathBuf};

use borewright_planner::as_left::AsLeft;
use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::shop::shop;

use super::{print, report};
use crate::args::Format;
use crate::filing;
use crate::place::Place;
use crate::status::{self, Failure, Status};
use crate::terminal;

/// Prints how the shop cut over some jobs and those of an archive, each job once.
pub(super) fn run(jobs: &[PathBuf], archive: Option<&Path>, format: Format) -> Result<Status, Failure> {
    let mut all: Vec<(Job, AsLeft)> = Vec::new();
    for job in jobs {
        all.push(report::of(job, None)?);
    }
    if let Some(place) = archive {
        let (filed, without) = filing::as_left(&filing::archive(&Place::of(place)?, false)?)?;
        status::remark(&without);
        all.extend(filed);
    }
    // A job that is given twice, or lies in a folder and in the archive, counts once: as it was named first.
    let mut seen: Vec<String> = Vec::new();
    all.retain(|(job, _)| {
        let new = !seen.contains(&job.number);
        seen.push(job.number.clone());
        new
    });
    if all.is_empty() {
        return Err(Failure::Said {
            found: "no job".into(),
            expected: "job folders, or `--archive PLACE` with jobs that were filed",
        });
    }
    let said = shop(&all);
    match format {
        Format::Json => print(&borewright_output::shop_json(&said)?)?,
        Format::Text => {
            let inches = all.iter().all(|(job, _)| job.sheet_units == SheetUnits::In);
            let t = terminal::plainly(if inches { SheetUnits::In } else { SheetUnits::Mm });
            print(borewright_output::shop_page(&said, &t)?.as_bytes())?;
        }
    }
    let doubted = said.claims.iter().any(|c| c.says == "claims_too_little");
    Ok(if doubted { Status::Hold } else { Status::Go })
}
