//! Which of several sleeves.

use super::positions::Positions;
use crate::job::Job;
use crate::plan::{SleeveChoice, Verdict};
use crate::read::fault::plain;
use crate::words;

/// The smallest pocket (largest diameter below the flange) that ends at go, then at hold, then the largest.
pub(super) fn choose(candidates: &[Positions]) -> Option<usize> {
    let largest = |i: &usize| candidates[*i].pocket.largest_mm();
    let smallest_at = |verdict: Verdict| {
        (0..candidates.len())
            .filter(|i| candidates[*i].verdict() == verdict)
            .min_by(|a, b| largest(a).total_cmp(&largest(b)))
    };
    smallest_at(Verdict::Go)
        .or_else(|| smallest_at(Verdict::Hold))
        .or_else(|| (0..candidates.len()).max_by(|a, b| largest(a).total_cmp(&largest(b))))
}

/// Each candidate's result, and why it was chosen or not.
pub(super) fn describe(job: &Job, candidates: &[Positions], chosen: usize) -> Vec<SleeveChoice> {
    let alone = candidates.len() == 1;
    candidates
        .iter()
        .enumerate()
        .map(|(i, candidate)| {
            let verdict = candidate.verdict();
            let worst = worst(candidate);
            let why = if i == chosen {
                match (alone, verdict) {
                    (true, Verdict::Go) => "the only candidate; it ends at go".into(),
                    (true, _) => format!("the only candidate; it ends at {}: {worst}", verdict.word()),
                    (false, Verdict::Go) => "the smallest pocket that ends at go".into(),
                    (false, Verdict::Hold) => {
                        format!("no candidate ends at go; the smallest pocket at hold: {worst}")
                    }
                    (false, Verdict::Stop) => {
                        format!("every candidate ends at stop; the largest pocket: {worst}")
                    }
                }
            } else if verdict > candidates[chosen].verdict() {
                format!("ends at {}: {worst}", verdict.word())
            } else if verdict == Verdict::Stop {
                format!("ends at stop too, with a smaller pocket: {worst}")
            } else {
                format!("ends at {} too, with a larger pocket to cut", verdict.word())
            };
            SleeveChoice {
                sleeve: job.sleeves[candidate.sleeve].name.clone(),
                chosen: i == chosen,
                verdict,
                largest_pocket: candidate.pocket.largest_mm(),
                why,
            }
        })
        .collect()
}

/// The worst limit of the worst cylinder.
fn worst(candidate: &Positions) -> String {
    let worst = candidate
        .bores
        .iter()
        .filter(|b| b.verdict == candidate.verdict())
        .flat_map(|b| b.limits.iter().map(move |l| (b, l)))
        .max_by(|a, b| a.1.verdict.cmp(&b.1.verdict).then(b.1.margin.total_cmp(&a.1.margin)));
    worst.map_or_else(String::new, |(bore, limit)| {
        format!(
            "cylinder {}, {} ({}), margin {:.3} mm",
            bore.site.cylinder,
            words::limit(limit.limit),
            plain(&limit.feature, 50),
            limit.margin
        )
    })
}
