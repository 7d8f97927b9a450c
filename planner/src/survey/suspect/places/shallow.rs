//! Depths that leave a part of the bore unread: circles near the deck alone, and a worn top that nobody read.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;

/// The lowest circle of several is at least this far down, as a share of the bore. Common practice, no source.
pub(in crate::survey::suspect) const DOWN: f64 = 0.2;
/// The uppermost circle of a bore that is cut into its own worn metal is no farther down, as a share of the bore: it is worn where
/// the rings run, near the deck. Common practice, no source.
const TOP: f64 = 0.35;
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
            code: Code::DepthsShallow,
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
            cylinders: vec![cylinder].into(),
        });
    }
    found
}

/// Bores that run in the block's own metal, and were read below the worn part alone: clean up rests on the farthest metal read.
pub(super) fn of_top(asked: &Asked<'_>) -> Vec<Suspicion> {
    let parent = &asked.job.block.parent;
    if parent.liner.is_some() {
        return Vec::new();
    }
    let length = parent.bore_length_mm;
    let of = |cylinder: u32| {
        let own = asked.circles.iter().filter(|c| c.cylinder == cylinder).map(|c| c.depth_mm);
        let top = own.min_by(f64::total_cmp).filter(|top| *top > TOP * length)?;
        Some(Suspicion {
            code: Code::DepthsShallow,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            found: say!(
                "its uppermost circle was read {} deep in a bore of {} that runs in the block's own metal",
                mm(top, 1),
                mm(length, 1)
            ),
            likely: "the worn part, near the deck, was not read: how far the metal reaches there is guessed"
                .into(),
            ask: "how large and where is the bore in the travel of the rings? Read it there too".into(),
            evidence: figures([("uppermost", top), ("length", length)]),
            cylinders: vec![cylinder].into(),
        })
    };
    asked.job.block.cylinders().into_iter().filter_map(of).collect()
}
