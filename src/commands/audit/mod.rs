//! `audit`: an archive held against itself, and planned again.

mod halfway;
mod page;
mod plans;
mod progress;

use std::path::{Path, PathBuf};

use borewright_archive::{Level, Time, Witness};
use borewright_planner::job::SheetUnits;

use self::halfway::{Kept, State, Watching};
use self::page::Done;
use self::progress::Progress;
use super::known::Known;
use super::print;
use crate::args::{AuditArgs, Format};
use crate::cache;
use crate::filing;
use crate::place::Place;
use crate::status::{self, Failure, Status};
use crate::terminal;

/// Audits an archive, from where an audit was broken off if one was, and prints what came of it.
pub(super) fn run(asked: &AuditArgs, place: &Place) -> Result<Status, Failure> {
    let archive = filing::archive(place, false)?;
    let now = asked.at.unwrap_or_else(Time::now);
    let mut kept = Kept::at(cache_folder(asked.cache.as_deref(), place));
    let before = if asked.afresh { None } else { State::broken_off(&kept, &archive, now) };
    let begun = before.as_ref().map(|b| b.begun);
    let mut state = before.unwrap_or_else(|| State::new(&archive, now));
    let mut progress = Progress::default();
    let known = Known::of(asked.cache.as_deref(), place);
    if let Some(behind) = known.behind(&archive)? {
        status::remark(&[format!("{}: {behind}; {}", place.told(), known.way_out())]);
    }
    let seen = kept.seen().into_iter().chain(known.head()).max_by_key(|head| head.number);
    let witness = Witness { logged: asked.logged.clone(), seen };
    let scratch =
        tempfile::tempdir().map_err(|source| Failure::Disk { path: std::env::temp_dir(), source })?;
    let from = state.content.clone();
    let mut watching = Watching { progress: &mut progress, kept: &mut kept, state: &mut state };
    let audit = archive.audit(&witness, scratch.path(), from, &mut watching)?;
    if !asked.without_plans {
        for number in state.plans.done + 1..=audit.read_to {
            progress.of_plans(number - 1, audit.read_to);
            state.plans.next(&archive, number)?;
            kept.halfway(&state);
        }
    }
    progress.end();
    let plans = (!asked.without_plans).then_some(&state.plans);
    let done = Done { audit: &audit, plans, at: now, begun };
    kept.ended(audit.head.filter(|_| audit.worst() < Some(Level::Fault)));
    match asked.printed.format {
        Format::Json => print(done.json()?.as_bytes())?,
        Format::Text => print(done.page(&place.told(), &terminal::plainly(SheetUnits::Mm)).as_bytes())?,
    }
    Ok(match done.worst() {
        None | Some(Level::Note) => Status::Go,
        Some(Level::Doubt) => Status::Hold,
        Some(Level::Fault) => Status::Stop,
    })
}

/// Where an audit remembers; nowhere where there is no such folder, which is told.
fn cache_folder(given: Option<&Path>, place: &Place) -> Option<PathBuf> {
    match cache::folder(given, place) {
        Ok(folder) => Some(folder),
        Err(why) => {
            status::remark(&[format!("{why}; this audit remembers nothing")]);
            None
        }
    }
}
