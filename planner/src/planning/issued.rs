//! Lists that stay as they were issued before the work had begun.

use super::{Done, Planning};
use crate::choose::Decision;
use crate::passes::Schedule;
use crate::plan::moves::{Issued, MoveList};
use crate::plan::{Pass, rounded};

/// Keeps each list of which nothing has changed as the plan of the whole work issued it, byte for byte; the others
/// keep their numbers.
pub(super) fn issued_before(
    lists: &mut [MoveList],
    before: &Planning,
    staged: &Schedule,
    done: &Done,
    now: &Decision,
) {
    let passes = |of: &Schedule, n: u32| -> Vec<Pass> {
        of.passes.iter().filter(|p| p.cylinder == n).cloned().map(rounded::pass).collect()
    };
    let untouched = |n: &u32| {
        let verdict = now.positions.bores.iter().find(|b| b.site.cylinder == *n).map(|b| b.verdict);
        let then = before.plan.cylinders.iter().find(|c| c.cylinder == *n).map(|c| c.verdict);
        verdict == then && !done.steps.contains_key(n) && passes(staged, *n) == passes(&before.staged, *n)
    };
    for list in lists {
        let alike = |l: &&MoveList| l.bank == list.bank && l.stage == list.stage;
        let own = before.lists.iter().filter(alike).find(|l| l.cylinders == list.cylinders);
        match own.filter(|l| l.cylinders.iter().all(untouched)) {
            Some(same) => {
                *list = same.clone();
                list.issued = Some(Issued {
                    fingerprint: before.plan.fingerprint.clone(),
                    verdict: before.plan.verdict,
                    release: before.plan.release.clone(),
                });
            }
            None => {
                let first = |l: &&MoveList| list.cylinders.iter().any(|n| l.cylinders.contains(n));
                let number = before.lists.iter().filter(alike).find(first).map(|l| l.number);
                list.number = number.unwrap_or(list.number);
            }
        }
    }
}
