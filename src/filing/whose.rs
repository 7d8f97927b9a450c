//! Which records are of one job: of the same number, and of the same customer and block or with everything read alike.

use std::collections::BTreeMap;

use borewright_archive::{Archive, Record, Summary};
use borewright_planner::family::{Block, Figures, Filed, by_block};
use borewright_planner::read::bounds::MOST_PLAN_BYTES;
use borewright_planner::read::name::folded;
use borewright_planner::record::Whose;

use super::figures::{NAME, parsed};
use crate::status::Failure;

/// Numbers of records, those of one job together, oldest first. `figures` is asked only where one number stands under
/// several names.
///
/// # Errors
/// What `figures` refuses.
pub(crate) fn of_one_job(
    all: &[(u32, &Summary)],
    figures: &mut dyn FnMut(u32) -> Result<Option<Figures>, Failure>,
) -> Result<Vec<Vec<u32>>, Failure> {
    let mut by_number: BTreeMap<String, Vec<Filed>> = BTreeMap::new();
    for (number, summary) in all {
        let own = by_number.entry(folded(&summary.told("job"))).or_default();
        own.push(of_names(*number, summary));
    }
    for own in by_number.values_mut() {
        let is_first =
            |one: &Filed, first: &Filed| first.is_of(&one.block.job, &one.customer, &one.figures.block);
        if own.iter().all(|one| own.first().is_some_and(|first| is_first(one, first))) {
            continue;
        }
        for one in own {
            if let Some(read) = figures(one.block.record)? {
                one.figures = read;
            }
        }
    }
    let filed: Vec<Filed> = by_number.into_values().flatten().collect();
    let numbers = |block: Vec<&Filed>| block.iter().map(|one| one.block.record).collect();
    Ok(by_block(&filed).into_iter().map(numbers).collect())
}

/// Whose a record is, by its summary and the tables that it was read from.
pub(crate) fn whose(record: &Record) -> Whose {
    let names = ["job", "customer", "block"].map(|what| record.summary.told(what));
    let inputs: Vec<(&str, String)> =
        record.files.iter().filter_map(|f| Some((f.called.as_deref()?, f.sha256.to_string()))).collect();
    let inputs = inputs.iter().map(|(name, sum)| (*name, sum.as_str()));
    Whose::of([&names[0], &names[1], &names[2]], inputs)
}

/// What a summary alone says of whose a record is.
fn of_names(number: u32, summary: &Summary) -> Filed {
    Filed {
        block: Block { record: number, at: String::new(), job: summary.told("job") },
        customer: summary.told("customer"),
        figures: Figures { block: summary.told("block"), ..Figures::default() },
    }
}

/// The figures of a record; `None` where it has none that can be read.
///
/// # Errors
/// The archive went away.
pub(crate) fn figures_in(archive: &Archive, record: &Record) -> Result<Option<Figures>, Failure> {
    let Some(entry) = record.file(NAME).filter(|entry| entry.bytes <= MOST_PLAN_BYTES) else {
        return Ok(None);
    };
    let mut bytes = Vec::new();
    if archive.give_back(entry, &mut bytes).is_err() {
        archive.still_there()?;
        return Ok(None);
    }
    Ok(parsed(&bytes))
}
