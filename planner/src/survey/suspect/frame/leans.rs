//! A set-up that leans so far from the spindle that no bore cut in it stands square to the crank, whatever the job limits.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;

/// The most that a bank's Z leans from the machine's over the length of a bore, mm: three times what a shop allows itself.
/// Common practice, no source.
const MOST_MM: f64 = 0.15;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let leans = asked.journal_axis.iter().map(|axis| (axis, axis.squareness.x.hypot(axis.squareness.y)));
    leans
        .filter(|(_, leans)| *leans > MOST_MM)
        .filter_map(|(axis, leans)| {
            let set_up = asked.job.set_ups.iter().find(|s| s.name == axis.set_up)?;
            Some(Suspicion {
                code: Code::SetUpLeans,
                verdict: Verdict::Hold,
                subject: Subject::set_up(&set_up.name),
                found: say!(
                    "the bank leans {} from the spindle over {} of bore, over {}: every bore would be cut out of square by that",
                    mm(leans, 3),
                    mm(asked.job.block.parent.bore_length_mm, 0),
                    mm(MOST_MM, 2)
                ),
                likely: "a block that was not levelled, or a deck or axis read wrongly".into(),
                ask: "level the bank to the spindle and read axis, deck and bores again".into(),
                evidence: figures([("leans", leans), ("most", MOST_MM)]),
                cylinders: asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder).collect(),
            })
        })
        .collect()
}
