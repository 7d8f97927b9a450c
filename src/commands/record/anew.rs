//! A touch check taken back whole, once the datum was picked up anew.

use borewright_planner::plan::check::What;
use borewright_planner::read::fault::plain;
use borewright_planner::record::{is_named, noted};

use super::strike::{strike_fields, taken_back};
use super::{Bench, answered, check_of, refused};
use crate::status::{self, Failure, Status};

/// Strikes every reading of a touch check that counts, in one write: what was read against a zero that is no more says nothing
/// of the new one. Gives what to say, and where the work stands by the reason.
///
/// Of a touch check alone: metal that was cut is not picked up anew.
pub(super) fn anew(bench: &Bench<'_>, number: u32) -> Result<(String, Status), Failure> {
    let check = check_of(bench, number)?;
    if check.what != What::Touch {
        let found = format!("CHECK {number}, {}", check.what.words());
        return Err(refused(
            found,
            "a touch check: of what is cut, a reading that is wrong is struck by its line",
        ));
    }
    let [by, why] = [&bench.args.by, &bench.args.because].map(|text| text.as_deref().unwrap_or_default());
    if !is_named(by, why) {
        let found = format!("`{}` by `{}`", plain(why, 60), plain(by, 30));
        return Err(refused(
            found,
            "who picked the datum up anew (`--by`), and why (`--because`) in two words or more",
        ));
    }
    let added = bench.file.add_all(|log| {
        let standing = bench.standing(log);
        let own = standing.readings.iter().filter(|r| r.check == number && r.struck.is_none());
        let entries = own.filter_map(|read| log.entries.iter().find(|e| e.line == read.line));
        entries.map(|entry| strike_fields(bench, entry, (by, why))).collect()
    })?;
    let Some(log) = added else {
        return Err(refused(format!("CHECK {number}, of which nothing counts"), "a check that was read"));
    };
    let standing = bench.standing(&log);
    let text = format!(
        "what was read of CHECK {number} is struck and stays readable: {}\nread it again whole: borewright record {} {number}\n",
        plain(why, 200),
        status::shown(&bench.args.job.path)
    );
    let damage = standing.strikes.last().and_then(|own| noted::of_strike(&standing, own));
    let held = answered::held(bench, &standing, (None, Some(&check.bank)));
    Ok(taken_back(bench, text, damage, &held))
}
