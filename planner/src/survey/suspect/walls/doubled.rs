//! Walls of one bore that are twice, or half, what other bores of its bank have at the same places.

use super::beside::beside_others;
use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::SetUp;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, median};

/// How near the median ratio must lie to twice or half, and each single one (`EACH`): an echo counted twice doubles
/// every wall alike, a core that stands aside does not.
const MIDDLE: f64 = 0.15;
const EACH: f64 = 0.30;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().flat_map(of_set_up).collect()
}

/// Asks about each bore of a set-up whose walls are all twice, or all half, the median of its bank's other bores at
/// the same places.
fn of_set_up(set_up: &SetUp) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (n, at) in beside_others(set_up, |read| read > 0.0) {
        let ratios: Vec<f64> = at.iter().map(|[own, others]| own / others).collect();
        let near = |ratio: f64, times: f64, within: f64| (ratio / times - 1.0).abs() <= within;
        let middle = median(ratios.clone());
        let all_near =
            |times: f64| near(middle, times, MIDDLE) && ratios.iter().all(|r| near(*r, times, EACH));
        let Some((times, word)) =
            [(2.0, "twice"), (0.5, "half")].into_iter().find(|(times, _)| all_near(*times))
        else {
            continue;
        };
        found.push(Suspicion {
            code: Code::WallOdd,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(n),
            found: say!(
                "all its {} walls are {word} what other bores of its bank have at the same places",
                ratios.len()
            ),
            likely: "an echo counted twice or cut in half, or a gauge set to another sound speed".into(),
            ask: say!("read the walls of cylinder {n} again with the gauge set on a step of known thickness"),
            evidence: figures([("times", times), ("rows", count(ratios.len()))]),
            cylinders: vec![n],
        });
    }
    found
}
