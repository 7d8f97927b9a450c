//! What an archive says of a job's block before it is planned.

use std::path::Path;

use borewright_planner::Named;
use borewright_planner::family;
use borewright_planner::plan::Prior;

use super::index;
use crate::filing;
use crate::place::Place;
use crate::status::{self, Failure};

/// The family's word on the next block of it; the job's own earlier records are not asked.
///
/// # Errors
/// A place that is no archive, and what it or the index refuses; a family that nobody filed is an answer.
pub(super) fn of(
    place: &Place,
    cache: Option<&Path>,
    family: &str,
    own: Option<&Named>,
) -> Result<Prior, Failure> {
    let archive = filing::archive(place, false)?;
    let index = index::open(cache, place, &archive)?;
    let asked = index::asked(index, (cache, place), &archive, &filing::family_query(family))?;
    let mut index = asked.index;
    index::remark_unread(&index, &asked.unread)?;
    let (mut filed, without) = filing::of_family(&archive, &mut index, &asked.found)?;
    if without > 0 {
        let said = "records of the family have no figures that can be read: left out";
        status::remark(&[format!("{without} {said}")]);
    }
    if let Some(own) = own {
        let is_own = |one: &&family::Filed| one.is_of(&own.number, &own.customer, &own.block);
        let of_others = family::by_block(&filed).into_iter().filter(|block| !block.iter().any(is_own));
        filed = of_others.flatten().cloned().collect();
    }
    Ok(Prior::of(&family::trend(family, &filed)))
}

/// What the family of a job's block says of the next one, by what its files say of whose it is and of which family.
///
/// # Errors
/// As [`of`], and a block without a family.
pub(super) fn of_job(place: &Place, cache: Option<&Path>, path: &Path) -> Result<Prior, Failure> {
    let own = borewright_planner::job_named(path)?;
    let Some(family) = own.family.as_deref().filter(|f| !f.trim().is_empty()) else {
        return Err(Failure::Place {
            path: path.to_owned(),
            found: "a block of no family".to_owned(),
            expected: "`family` in its block file: --prior asks the archive for blocks of the same",
        });
    };
    of(place, cache, family, Some(&own))
}
