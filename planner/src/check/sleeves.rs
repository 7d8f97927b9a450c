//! The candidate sleeves of a job, and those measured one by one.

use super::checker::Checker;
use super::figures::SomeAllowances;
use super::gathered::Files;
use super::{measured, sleeve};
use crate::files::{JobFile, SleeveFile};
use crate::job::{Depths, MeasuredSleeve, Sleeve};
use crate::material::Material;
use crate::read::bounds::MOST_TABLE_BYTES;
use crate::read::fault::plain;
use crate::read::source::Source;

/// Most candidate sleeves of a job.
const MOST_SLEEVES: usize = 12;

/// The candidate sleeves in the job's order; `None` where one of them is wrong or their number is. Two of one name
/// are told. `own` are the metals of job and block together, `metals` those of the job alone.
pub(super) fn sleeves(
    source: &Source,
    file: &JobFile,
    files: &mut Files,
    [own, metals]: [&[Material]; 2],
    jacket: Option<Depths>,
) -> Option<Vec<Sleeve>> {
    let given = &file.sleeves;
    if given.value.is_empty() || given.value.len() > MOST_SLEEVES {
        let found = format!("{} sleeves", given.value.len());
        let expected = format!("1 to {MOST_SLEEVES} candidate sleeves");
        files.faults.push(source.fault(Some(given.place), "sleeves", found, expected));
        return None;
    }
    let mut sleeves: Vec<Sleeve> = Vec::new();
    for (i, name) in given.value.iter().enumerate() {
        let key = format!("sleeves[{i}]");
        let checked = files.described(source, &key, name, |source, file: &SleeveFile| {
            sleeve::check(source, file, own, metals, jacket)
        });
        let Some((_, _, Some(sleeve))) = checked else { continue };
        if let Some(other) = sleeves.iter().find(|s| as_read(&s.name) == as_read(&sleeve.name)) {
            let own = plain(&sleeve.name, 40);
            let found = if other.name == sleeve.name {
                format!("the sleeve `{own}` a second time")
            } else {
                format!("the sleeve `{own}` beside `{}`, which reads alike", plain(&other.name, 40))
            };
            files.faults.push(source.fault(
                Some(name.place),
                &key,
                found,
                "sleeves with names of their own".into(),
            ));
        }
        sleeves.push(sleeve);
    }
    (sleeves.len() == given.value.len()).then_some(sleeves)
}

/// A name as it is read off a box: no case, no blanks, O and 0, l and 1 alike; what stands between its figures counts, as in 10.5.
fn as_read(name: &str) -> String {
    let one = |c: char| match c {
        'o' => '0',
        'i' | 'l' => '1',
        other => other,
    };
    name.to_lowercase().chars().filter(|c| !c.is_whitespace()).map(one).collect()
}

/// The sleeves as measured one by one, none where the job names no table of them; `None` where it is wrong, which is told.
/// `own` and `shop` are the allowances of the job and of its shop: each pocket must have something left to finish to its
/// own sleeve.
pub(super) fn measured(
    c: &mut Checker<'_>,
    source: &Source,
    file: &JobFile,
    files: &mut Files,
    sleeves: &Option<Vec<Sleeve>>,
    (own, shop): (SomeAllowances, SomeAllowances),
) -> Option<Vec<MeasuredSleeve>> {
    let Some(name) = &file.sleeves_measured else { return Some(Vec::new()) };
    let read = sleeves.as_ref().and_then(|sleeves| {
        let table = files.open(source, "sleeves_measured", name, MOST_TABLE_BYTES)?;
        files.keep(measured::check(&table, sleeves, file.units))
    });
    if own.pocket_mm(shop) == Some(0.0) {
        let found = "sleeves measured one by one, and no allowance for the pocket's finishing pass".into();
        let expected = "`allowances.pocket` above nothing: each bore is finished to its own sleeve";
        c.fault(name.place, "sleeves_measured", found, expected);
    }
    read
}
