//! `plan`: decides, writes everything, says what it came to.

use std::path::{Path, PathBuf};

use borewright_planner::Planning;
use borewright_planner::job::SheetUnits;
use borewright_planner::plan::{Prior, Release, Verdict, cylinder_words};
use borewright_planner::read::bounds::MOST_PLAN_BYTES;
use borewright_planner::read::fault::plain;
use borewright_planner::record::named_bores;

use super::{print, prior};
use crate::args::{Format, PlanArgs, Told};
use crate::folder;
use crate::place::Place;
use crate::status::{self, Failure, Status};
use crate::terminal;

/// Plans a job, writes its folder and prints the summary, with what changed since the plan before.
pub(super) fn run(asked: &PlanArgs) -> Result<Status, Failure> {
    let (path, format) = (asked.job.path.as_path(), asked.printed.format);
    let cache = asked.cache.folder.as_deref();
    let prior =
        asked.prior.as_deref().map(|place| prior::of_job(&Place::of(place)?, cache, path)).transpose()?;
    // Where no thread is to be had, the first sheet reads them.
    drop(std::thread::Builder::new().spawn(borewright_output::read_faces));
    let out = asked.out.clone().unwrap_or_else(|| beside(path));
    let sums = folder::Sums::ahead(&out);
    let before = before(&out.join("plan.json"));
    let known = before.as_deref().and_then(Before::of);
    // A plan that is written elsewhere knows no more lines gone than the one beside the job.
    let beside = self::before(&beside(path).join("plan.json")).as_deref().and_then(Before::of);
    let knows: Vec<&Before> = known.iter().chain(&beside).collect();
    let planning = match planned(path, asked.release.clone(), prior.clone(), &knows) {
        Ok(planning) => planning,
        Err(failure) => {
            // Nothing measured is no plan, and the very moment to know which walls to read first.
            if let (Some(prior), Format::Text) = (&prior, format) {
                let t = terminal::as_asked(asked.telling, SheetUnits::Mm);
                print(borewright_output::prior_section(prior, &t).trim_start().as_bytes())?;
            }
            return Err(failure);
        }
    };
    is_of_all(&planning)?;
    if let Some(other) = known.filter(|known| known.job != planning.job.number) {
        replaced(&out, &other.job, asked.out.is_some())?;
    }
    let bundle = borewright_output::bundle(&planning)?;
    status::remark(&folder::write_over(&out, &bundle.artifacts, &sums)?);
    match format {
        Format::Json => print(&borewright_output::plan_json(&bundle.plan)?)?,
        Format::Text => {
            let t = terminal::as_asked(asked.telling, planning.job.sheet_units);
            let mut text = borewright_output::summary(&planning, &bundle, &t, &status::shown(&out));
            if let Some(before) = before {
                text.push_str(&borewright_output::changes(&before, &planning, &bundle.plan, &t));
                text.push_str(&borewright_output::change_card(&before, &planning, &bundle.plan, &t));
            }
            if let Some(prior) = &bundle.plan.prior {
                text.push_str(&borewright_output::prior_section(prior, &t));
            }
            text.push_str(&stays_in(asked.telling.units, planning.job.sheet_units));
            // The list of files can push the first line off a small terminal.
            text.push_str(&format!("{}\n", bundle.plan.verdict.word().to_uppercase()));
            print(text.as_bytes())?;
        }
    }
    let verdict = bundle.plan.verdict;
    // The process ends here, and all of it with it: giving back some hundred thousand pieces one by one only takes time.
    std::mem::forget((planning, bundle));
    Ok(verdict.into())
}

/// Asks that a release which names bores names all that it lets through: who looked at one spoke of that one.
///
/// # Errors
/// One that names some of them.
fn is_of_all(planning: &Planning) -> Result<(), Failure> {
    let Some(release) = &planning.plan.release else { return Ok(()) };
    let banks = planning.job.block.banks.iter();
    let banks: Vec<(&str, Vec<u32>)> = banks
        .map(|bank| (bank.name.as_str(), bank.sites.iter().map(|site| site.cylinder).collect()))
        .collect();
    let named = named_bores(&release.why, &banks);
    let let_through = planning.plan.cylinders.iter().filter(|c| c.verdict == Verdict::Hold && !c.withheld);
    let others: Vec<u32> = let_through.map(|c| c.cylinder).filter(|n| !named.contains(n)).collect();
    if named.is_empty() || others.is_empty() {
        return Ok(());
    }
    let named: Vec<u32> = named.into_iter().collect();
    Err(Failure::Said {
        found: format!(
            "a release that names {}, of a plan that holds {} too",
            cylinder_words(&named),
            cylinder_words(&others)
        ),
        expected: "a release of all that is held: look at those as well and name all of them, or name none",
    })
}

/// What is said where a page is told in other units than the sheets are printed in.
fn stays_in(asked: Option<Told>, own: SheetUnits) -> String {
    let words = match own {
        SheetUnits::Mm => "mm",
        SheetUnits::In => "inches",
        SheetUnits::Both => "both units",
    };
    if terminal::units(asked, own) == own {
        String::new()
    } else {
        format!("cards stay in {words}: `sheet_units` of the job\n")
    }
}

/// What is asked of the plan that was written there before.
#[derive(serde::Deserialize)]
pub(super) struct Before {
    job: String,
    record_sum: Option<String>,
}

impl Before {
    /// From the file's text; `None` of one that is no plan.
    pub(super) fn of(text: &str) -> Option<Self> {
        serde_json::from_str(text).ok()
    }

    /// Whether it was made with a record.
    pub(super) fn knows_a_record(&self) -> bool {
        self.record_sum.is_some()
    }
}

/// Says that another job's plan lies where this one is to be written: beside the job it came with a copied folder or an old
/// number and gives way, elsewhere it may be the only one.
///
/// # Errors
/// A place that was named.
fn replaced(out: &Path, job: &str, named: bool) -> Result<(), Failure> {
    let found = format!("the plan of job {}", plain(job, 40));
    if named {
        let expected = "a new folder, or one with a plan of this job: choose another place with --out";
        return Err(Failure::Place { path: out.to_owned(), found, expected });
    }
    status::remark(&[format!("{} had {found}: it is replaced by this job's", status::shown(out))]);
    Ok(())
}

/// A job's plan, beside what its family says where that was asked; `before` are the plans that were made last.
pub(super) fn planned(
    path: &Path,
    release: Option<Release>,
    prior: Option<Prior>,
    before: &[&Before],
) -> Result<Planning, Failure> {
    let mut job = borewright_planner::load(path)?;
    // Another job's plan in this place knows nothing of this record.
    let own = before.iter().filter(|b| b.job == job.number);
    own.filter_map(|b| b.record_sum.as_ref()).for_each(|sum| job.log.miss(sum));
    borewright_planner::record::tell_beside(
        beside(path).parent().unwrap_or(path),
        &job.whose(),
        &mut job.log,
    );
    super::ahead::remark(&job.log);
    Ok(borewright_planner::plan_job_with(job, release, prior)?)
}

/// The plan that was written there before, if it can be read and is no larger than a plan.
pub(crate) fn before(path: &Path) -> Option<String> {
    let small = path.metadata().is_ok_and(|m| m.is_file() && m.len() <= MOST_PLAN_BYTES);
    small.then(|| std::fs::read_to_string(path).ok()).flatten()
}

/// `out` in the job's folder.
pub(super) fn beside(job: &Path) -> PathBuf {
    let folder = if job.is_dir() { job } else { job.parent().unwrap_or(job) };
    folder.join("out")
}
