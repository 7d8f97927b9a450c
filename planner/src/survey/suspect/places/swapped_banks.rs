//! A bank's bores stand at the other bank's stations: off by the stagger, all alike.

use super::evidence::{explains, figures, rms};
use super::{Asked, Suspicion};
use crate::plan::sentence::{before_mm, signed_mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;

/// Asks about each set-up whose bores stand where the other bank's are, by their places along; only of two banks
/// with as many bores each.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let [first, second] = asked.job.block.banks.as_slice() else { return Vec::new() };
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        let (own, other) = if set_up.bank == 0 { (first, second) } else { (second, first) };
        let stands = asked.readings.as_typed(index);
        if own.sites.len() != other.sites.len() || stands.len() < 2 {
            continue;
        }
        // The same place in the row, in the other bank.
        let swapped: Vec<f64> = stands
            .iter()
            .filter_map(|s| {
                let row = own.sites.iter().position(|site| site.cylinder == s.cylinder)?;
                Some(s.true_mm[0] + s.off_mm[0] - other.sites[row].x_mm)
            })
            .collect();
        let typed_mm = rms(stands.iter().map(|s| s.off_mm[0]));
        let swapped_mm = rms(swapped.iter().copied());
        if !explains(typed_mm, swapped_mm) {
            continue;
        }
        let stagger = other.sites[0].x_mm - own.sites[0].x_mm;
        found.push(Suspicion {
            code: Code::BanksSwapped,
            verdict: Verdict::Hold,
            subject: Subject::bank(&own.name),
            found: say!("every bore stands {} off along the bank, which is the stagger: the readings fit the bank {} \
             within {}", signed_mm(stagger, 2), other.name, before_mm(swapped_mm, 3)),
            likely: say!("the tables of the banks {} and {} swapped", own.name, other.name),
            ask: say!(
                "which bank was up when these were read? The side towards the valley changes with it; touch the first bore of the bank {} before anything else",
                own.name
            ),
            evidence: figures([("stagger", stagger), ("rms_as_typed", typed_mm), ("rms_swapped", swapped_mm)]),
            cylinders: stands.iter().map(|s| s.cylinder).collect(),
        });
    }
    found
}
