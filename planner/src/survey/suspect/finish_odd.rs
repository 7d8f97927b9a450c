//! A tolerance of the finished bore that cannot be measured, or is none.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::Verdict;
use crate::plan::sentence::mm;
use crate::say;

/// Either side of a size nothing is left to say go by where the tolerance is under so many u (ISO 14253-1, 95 %).
const GUARD: f64 = 1.65;

/// No finished bore is given more, mm either side. Common practice, no source.
const MOST_MM: f64 = 0.05;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let (tolerance, u) = (asked.job.finish.tolerance_mm, asked.job.instruments.diameter_mm);
    let least = GUARD * u;
    let (found, likely) = if tolerance < least - 1e-9 {
        let found = say!(
            "the finished bore is asked within {} either side, and {} is the least that these instruments can prove",
            mm(tolerance, 4),
            mm(least, 4)
        );
        (found, "a digit slipped, or a finer gauge than `instruments.diameter` says")
    } else if tolerance > MOST_MM + 1e-9 {
        let found = say!(
            "the finished bore is asked within {} either side, which is no tolerance of a running fit",
            mm(tolerance, 3)
        );
        (found, "a digit slipped, or another unit")
    } else {
        return Vec::new();
    };
    vec![Suspicion {
        code: "finish_tolerance",
        verdict: Verdict::Hold,
        subject: "finish".into(),
        found,
        likely: likely.into(),
        ask: "what is `finish.tolerance` to be, and with which gauge is it measured?".into(),
        evidence: figures([("tolerance", tolerance), ("least", least)]),
        cylinders: asked.job.block.banks.iter().flat_map(|b| &b.sites).map(|s| s.cylinder).collect(),
    }]
}
