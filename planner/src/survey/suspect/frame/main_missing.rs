//! A main that the description does not have: the one that nobody reads may be the one that is bent.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, ends};

/// Mains stand evenly, within this. Common practice, no source.
const TIMES: f64 = 1.5;

/// A bore reaches no farther beyond the last main than this share of their steps. Common practice, no source.
const BEYOND: f64 = 0.3;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let block = &asked.job.block;
    let mut mains: Vec<f64> = block.journal_axis.mains.iter().map(|m| m.x_mm).collect();
    mains.sort_by(f64::total_cmp);
    let steps: Vec<f64> = mains.windows(2).map(|w| w[1] - w[0]).collect();
    let asks = |found, off: f64| Suspicion {
        code: Code::MainMissing,
        verdict: Verdict::Hold,
        subject: Subject::whole("journal axis"),
        found,
        likely: "a main left out of the description, and so of the reading: it may be the one that is bent"
            .into(),
        ask: "how many mains has the block, and where do they stand? Read the axis at each".into(),
        evidence: figures([("off", off), ("mains", count(mains.len()))]),
        cylinders: block.cylinders().into(),
    };
    if let Some([least, most]) =
        ends(&steps).filter(|[least, most]| steps.len() > 1 && *most > TIMES * least + 1e-6)
    {
        let found = say!("two mains stand {} apart, and others {}", before_mm(most, 1), mm(least, 1));
        return vec![asks(found, most - least)];
    }
    let step = ends(&steps).map_or(0.0, |[least, _]| least);
    let Some([first, last]) = ends(&mains).filter(|_| mains.len() > 2) else { return Vec::new() };
    let sites = block.banks.iter().flat_map(|bank| &bank.sites);
    let beyond = sites.map(|s| (s.x_mm - last).max(first - s.x_mm)).max_by(f64::total_cmp);
    match beyond.filter(|beyond| *beyond > BEYOND * step) {
        Some(beyond) => {
            vec![asks(say!("a bore stands {} beyond the last of the mains", mm(beyond, 1)), beyond)]
        }
        None => Vec::new(),
    }
}
