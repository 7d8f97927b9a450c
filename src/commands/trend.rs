//! `trend`: what the blocks of a family have in common, and what the next one will be like.

use std::path::Path;

use borewright_planner::family;
use borewright_planner::job::SheetUnits;

use super::{index, print};
use crate::args::{Format, TrendArgs};
use crate::filing;
use crate::folder;
use crate::place::Place;
use crate::status::{self, Failure, Status};

pub(super) fn run(asked: &TrendArgs, place: &Place) -> Result<Status, Failure> {
    let trend = of(&asked.family, place, asked.cache.folder.as_deref())?;
    if let Some(out) = &asked.out {
        super::survey::keep_plan(out)?;
        status::remark(&folder::write(out, &borewright_output::trend_bundle(&trend)?)?);
    }
    match asked.printed.format {
        Format::Json => print(&borewright_output::trend_json(&trend)?)?,
        Format::Text => {
            let mut page = borewright_output::trend_page(&trend, &crate::terminal::plainly(SheetUnits::Mm));
            if let Some(out) = &asked.out {
                page.push_str(&format!("\nwritten to {}: trend.json, figures\n", status::shown(out)));
            }
            print(page.as_bytes())?;
        }
    }
    Ok(Status::Go)
}

/// The trend of a family as the archive has it.
///
/// # Errors
/// No such family, and what the archive or the index refuses.
pub(super) fn of(family: &str, place: &Place, cache: Option<&Path>) -> Result<family::Trend, Failure> {
    let archive = filing::archive(place, false)?;
    let index = index::open(cache, place, &archive)?;
    let asked = index::asked(index, (cache, place), &archive, &filing::family_query(family))?;
    let mut index = asked.index;
    index::remark_unread(&index, &asked.unread)?;
    let (filed, without) = filing::of_family(&archive, &mut index, &asked.found)?;
    if without > 0 {
        status::remark(&[format!(
            "{without} records of the family have no figures that can be read: left out"
        )]);
    }
    if filed.is_empty() {
        return Err(Failure::Archived {
            place: place.told(),
            found: format!("no block of the family `{}`", status::shown(Path::new(family))),
            expected: "a family that was filed: `find` lists what there is",
        });
    }
    Ok(family::trend(family, &filed))
}
