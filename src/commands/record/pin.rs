//! What the program itself writes down once a pocket is begun.

use borewright_planner::plan::Stage;
use borewright_planner::plan::check::{Check, What};
use borewright_planner::record::{AS_PLANNED, CANDIDATE, Log, Standing, Word, basis_words, pocket_words};

use super::Bench;
use super::fields::about;
use crate::status::Failure;

/// Writes down, once anything of a pocket is measured, where it is cut and for which sleeve: no later plan moves it or
/// gives the sleeve to another bore.
pub(super) fn pin(bench: &Bench<'_>, log: Log, check: &Check, cylinder: Option<u32>) -> Result<Log, Failure> {
    let cutting = check.stage <= Stage::Pocket && !matches!(check.what, What::Touch | What::Position);
    let Some(cylinder) = cylinder.filter(|_| cutting) else { return Ok(log) };
    let mut log = log;
    let planned = bench.paper.cylinders.iter().find(|c| c.cylinder == cylinder).and_then(|c| c.planned);
    if let Some(at) = planned {
        let place = format!("{:.6} {:.6}", at.x, at.y);
        let has = |standing: &Standing| {
            standing
                .events
                .iter()
                .any(|e| e.what == Word::Place && e.struck.is_none() && e.cylinder == Some(cylinder))
        };
        // What is cut by now is of this pocket, whatever the sleeve's file will say.
        let sleeve = bench.paper.sleeve_of(cylinder).map(|(name, _)| name);
        let pocket = bench.job.as_ref().zip(sleeve).and_then(|(job, name)| pocket_words(job, name));
        let basis = bench.job.as_ref().map(|job| basis_words(job, cylinder));
        let of = [pocket, basis].into_iter().flatten().collect::<Vec<String>>().join("; ");
        log = once(bench, log, (Word::Place, cylinder, &place, &of), has)?;
    }
    match bench.paper.sleeve_of(cylinder).filter(|_| check.stage == Stage::Pocket) {
        Some((_, Some(number))) => {
            let has = |s: &Standing| s.pinned(cylinder).is_some() || s.pinned_to(number).is_some();
            once(bench, log, (Word::Sleeve, cylinder, number, ""), has)
        }
        Some((name, None)) => {
            let has = |s: &Standing| s.pinned(cylinder).is_some() || s.candidate(cylinder).is_some();
            once(bench, log, (Word::Sleeve, cylinder, name, CANDIDATE), has)
        }
        None => Ok(log),
    }
}

/// Writes an event of the program's own down, unless it is there.
fn once(
    bench: &Bench<'_>,
    log: Log,
    (what, cylinder, value, of): (Word, u32, &str, &str),
    has: impl Fn(&Standing) -> bool,
) -> Result<Log, Failure> {
    let added = bench.file.add(|log| {
        if has(&bench.standing(log)) {
            return Ok(None);
        }
        let mut fields = about(bench)?;
        for (column, text) in [
            ("cylinder", cylinder.to_string().as_str()),
            ("reading", what.word()),
            ("value", value),
            ("note", AS_PLANNED),
            ("of", of),
            ("depth", ""),
            ("clock", ""),
            ("temperature", ""),
            ("instrument", ""),
        ] {
            fields.set(column, text);
        }
        Ok(Some(fields))
    })?;
    Ok(added.unwrap_or(log))
}
