//! `shop`: how well the shop cuts, over its jobs; writes nothing.

use std::path::{Path, PathBuf};

use borewright_planner::as_left::AsLeft;
use borewright_planner::job::{Job, SheetUnits};
use borewright_planner::read::fault::plain;
use borewright_planner::read::name::alike;
use borewright_planner::shop::{Shop, shop};

use super::known::Known;
use super::{print, report};
use crate::args::Format;
use crate::filing;
use crate::place::Place;
use crate::status::{self, Failure, Status};
use crate::terminal;

/// A job as it left, and where it came from.
struct Own {
    job: Job,
    left: AsLeft,
    from: Origin,
}

/// Where a job came from.
enum Origin {
    /// A folder, as it was named.
    Folder(String),
    /// A record of the archive.
    Record(u32),
}

impl Origin {
    fn words(&self) -> String {
        match self {
            Self::Folder(name) => plain(name, 200),
            Self::Record(number) => format!("record {number}"),
        }
    }
}

impl Own {
    /// Whether another is the same job. What was read of two folders tells two blocks of one number apart, as where a number was
    /// forgotten; a record of the archive may be from before a reading was put right.
    fn is(&self, other: &Self) -> bool {
        let [own, its] = [&self.job, &other.job].map(Job::whose);
        let are_folders = matches!((&self.from, &other.from), (Origin::Folder(_), Origin::Folder(_)));
        own.is(&its) && (!are_folders || own.reads_as(&its))
    }
}

/// Prints how the shop cut over some jobs and those of an archive, each job once.
pub(super) fn run(
    jobs: &[PathBuf],
    (archive, cache): (Option<&Path>, Option<&Path>),
    format: Format,
) -> Result<Status, Failure> {
    let mut all: Vec<Own> = Vec::new();
    for path in jobs {
        let (job, left) = report::of(path, None)?;
        all.push(Own { job, left, from: Origin::Folder(status::shown(path)) });
    }
    if let Some(place) = archive {
        let place = Place::of(place)?;
        let archive = filing::archive(&place, false)?;
        Known::remark(cache, &place, &archive)?;
        let (filed, without) = filing::as_left(&archive)?;
        status::remark(&without);
        all.extend(filed.into_iter().map(|(record, job, left)| Own {
            job,
            left,
            from: Origin::Record(record),
        }));
    }
    let all = each_once(all);
    if all.is_empty() {
        return Err(Failure::Said {
            found: "no job".into(),
            expected: "job folders, or `--archive PLACE` with jobs that were filed",
        });
    }
    let names = names(&all);
    let all: Vec<(Job, AsLeft)> = all.into_iter().map(|own| (own.job, own.left)).collect();
    let said = Shop { jobs: names, ..shop(&all) };
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

/// A job that is given twice, or lies in a folder and in the archive, counts once: as it was named first. What is left out is said.
fn each_once(all: Vec<Own>) -> Vec<Own> {
    let mut kept: Vec<Own> = Vec::with_capacity(all.len());
    let mut left_out = Vec::new();
    for own in all {
        match kept.iter().find(|first| first.is(&own)) {
            Some(first) => left_out.push(format!(
                "{}: job {} as in {}: it counts once, as it is there",
                own.from.words(),
                plain(&own.job.number, 60),
                first.from.words()
            )),
            None => kept.push(own),
        }
    }
    status::remark(&left_out);
    kept
}

/// What each job is called: its number, and where several have it, where each came from.
fn names(all: &[Own]) -> Vec<String> {
    let number = |own: &Own| plain(&own.job.number, 60);
    all.iter()
        .map(|own| {
            let count = all.iter().filter(|other| alike(&other.job.number, &own.job.number)).count();
            if count > 1 { format!("{} ({})", number(own), own.from.words()) } else { own.job.number.clone() }
        })
        .collect()
}
