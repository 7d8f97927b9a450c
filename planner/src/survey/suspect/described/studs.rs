//! The studs of a bank, and what is asked about them.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Stud;
use crate::plan::sentence::Sentence;
use crate::plan::{Subject, Verdict};
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

pub(super) fn of<'a>(asked: &Asked<'a>, bank: usize) -> Vec<&'a Stud> {
    asked.job.block.studs.iter().filter(|s| s.bank == bank).collect()
}

pub(super) fn asks(
    asked: &Asked<'_>,
    banks: &[usize],
    found: Sentence,
    likely: &str,
    studs: usize,
) -> Suspicion {
    let names: Vec<String> = banks.iter().map(|b| asked.job.bank(*b).name.clone()).collect();
    Suspicion {
        code: Code::StudOdd,
        verdict: Verdict::Hold,
        subject: match names.as_slice() {
            [one] => Subject::bank(one),
            all => Subject::whole(format!("banks {}", all.join(" and "))),
        },
        found,
        likely: likely.into(),
        ask: "where do the head studs stand? One that is told in the wrong place guards nothing".into(),
        evidence: figures([("studs", count(studs))]),
        cylinders: banks.iter().flat_map(|b| &asked.job.bank(*b).sites).map(|s| s.cylinder).collect(),
    }
}
