//! Circles that were all read near the deck: how a bore leans at its lower end rests on them.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;

/// The lowest circle of several is at least this far down, as a share of the bore. Common practice, no source.
const DOWN: f64 = 0.2;
/// Depths nearer to each other than this are one, mm.
const SAME_MM: f64 = 1.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let length = asked.job.block.parent.bore_length_mm;
    let mut found = Vec::new();
    for cylinder in asked.job.block.cylinders() {
        let own = asked.circles.iter().filter(|c| c.cylinder == cylinder).map(|c| c.depth_mm);
        let Some([least, most]) = borewright_geometry::sample::ends(&own.collect::<Vec<_>>()) else {
            continue;
        };
        // One depth alone has a word of its own: nothing is known of the lean then.
        if most - least <= SAME_MM || most >= DOWN * length {
            continue;
        }
        found.push(Suspicion {
            code: "depths_shallow",
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            found: say!(
                "its lowest circle was read {} deep in a bore of {}",
                mm(most, 1),
                mm(length, 1)
            ),
            likely: "depths in another unit, or read near the deck alone: where the bore leans to below is guessed".into(),
            ask: "how deep were its circles read? One near the lower end tells how it leans".into(),
            evidence: figures([("deepest", most), ("length", length)]),
            cylinders: vec![cylinder],
        });
    }
    found
}
