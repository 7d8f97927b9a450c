//! What an archive says of a job's block before it is planned.

use std::path::Path;

use borewright_archive::Index;
use borewright_planner::family::{self, Figures};
use borewright_planner::plan::Prior;
use borewright_planner::plan::prior::Block;

use super::find;
use crate::filing;
use crate::place::Place;
use crate::status::{self, Failure};

/// The family's word on the next block of it; the job's own earlier records are not asked.
///
/// # Errors
/// A place that is no archive, and what it or the index refuses; a family that nobody filed is an answer.
pub(super) fn of(place: &Place, cache: Option<&Path>, family: &str, job: &str) -> Result<Prior, Failure> {
    let archive = filing::archive(place, false)?;
    let (mut index, _) = Index::open(&find::index(cache, place)?, &archive, &mut find::watch)?;
    let (mut filed, without): (Vec<(Block, Figures)>, usize) =
        filing::of_family(&archive, &mut index, family)?;
    if without > 0 {
        let said = "records of the family have no figures that can be read: left out";
        status::remark(&[format!("{without} {said}")]);
    }
    filed.retain(|(block, _)| block.job != job);
    Ok(Prior::of(&family::trend(family, &filed)))
}

/// What the family of a job's block says of the next one, by the job's number and the family that its files name.
///
/// # Errors
/// As [`of`], and a block without a family.
pub(super) fn of_job(place: &Place, cache: Option<&Path>, path: &Path) -> Result<Prior, Failure> {
    let (job, family) = borewright_planner::job_family(path)?;
    let Some(family) = family.filter(|f| !f.trim().is_empty()) else {
        return Err(Failure::Place {
            path: path.to_owned(),
            found: "a block of no family".to_owned(),
            expected: "`family` in its block file: --prior asks the archive for blocks of the same",
        });
    };
    of(place, cache, &family, &job)
}
