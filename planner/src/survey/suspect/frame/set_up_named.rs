//! A set-up whose name contains that of another bank than its readings are of.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use borewright_geometry::sample::count;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let (job, banks) = (asked.job, &asked.job.block.banks);
    let names = |set_up: &str, bank: &str| set_up.split(|c: char| !c.is_alphanumeric()).any(|w| w == bank);
    let odd = job.set_ups.iter().filter_map(|set_up| {
        let own = &banks.get(set_up.bank)?.name;
        let other = banks.iter().find(|b| b.name != *own && names(&set_up.name, &b.name))?;
        (!names(&set_up.name, own)).then(|| Suspicion {
            code: "set_up_named",
            verdict: Verdict::Hold,
            subject: Subject::bank(own),
            found: say!("its set-up is called `{}`", plain(&set_up.name, 40)),
            likely: say!(
                "a set-up copied from bank {}: its name, or its readings and places too",
                plain(&other.name, 40)
            ),
            ask: say!("which bank was up when this set-up was read? Name it so"),
            evidence: figures([("bank", count(set_up.bank + 1))]),
            cylinders: banks[set_up.bank].sites.iter().map(|s| s.cylinder).collect(),
        })
    });
    odd.collect()
}
