//! A set-up whose name, or the name of one of its tables, contains that of another bank than its readings are of.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{Bank, SetUp};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().filter_map(|set_up| of(asked, set_up)).collect()
}

fn of(asked: &Asked<'_>, set_up: &SetUp) -> Option<Suspicion> {
    let banks = &asked.job.block.banks;
    let own = &banks.get(set_up.bank)?.name;
    // The bank that some words name, where they do not name the set-up's own.
    let other = |words: &str| {
        let names = |bank: &str| words.split(|c: char| !c.is_alphanumeric()).any(|word| word == bank);
        banks.iter().find(|b| b.name != *own && names(&b.name)).filter(|_| !names(own))
    };
    // A file's name is seldom written as the bank is, and a number in it is mostly no bank.
    let other_of_file = |file: &str| {
        let file = file.to_lowercase();
        let words: Vec<&str> = file.split(|c: char| !c.is_alphanumeric()).collect();
        let names = |b: &Bank| {
            let name = b.name.to_lowercase();
            name.chars().any(char::is_alphabetic) && words.contains(&name.as_str())
        };
        let own = banks.get(set_up.bank).is_some_and(names);
        banks
            .iter()
            .enumerate()
            .find(|(index, b)| *index != set_up.bank && names(b))
            .map(|(_, b)| b)
            .filter(|_| !own)
    };
    let by_name = other(&set_up.name).map(|bank| {
        let found = say!("its set-up is called `{}`", plain(&set_up.name, 40));
        let likely = say!(
            "a set-up copied from bank {}: its name, or its readings and places too",
            plain(&bank.name, 40)
        );
        (found, likely, say!("which bank was up when this set-up was read? Name it so"))
    });
    let (found, likely, ask) = by_name.or_else(|| {
        let file = |path: &str| path.rsplit(['/', '\\']).next().map(str::to_owned);
        let (table, path, bank) = set_up
            .files
            .iter()
            .filter(|(table, _)| table.places())
            .find_map(|(table, path)| Some((table.key(), path, other_of_file(&file(path)?)?)))?;
        let found = say!("its table `{table}` is `{}`", plain(path, 60));
        let likely = say!("the table of bank {}", plain(&bank.name, 40));
        Some((
            found,
            likely,
            say!("of which bank is this table? Give it its bank's name, or name the other file"),
        ))
    })?;
    Some(Suspicion {
        code: Code::SetUpNamed,
        verdict: Verdict::Hold,
        subject: Subject::bank(own),
        found,
        likely,
        ask,
        evidence: figures([("bank", count(set_up.bank + 1))]),
        cylinders: banks[set_up.bank].sites.iter().map(|s| s.cylinder).collect(),
    })
}
