//! Walls that were read near the deck alone: behind the rest of the pocket nobody knows what is left.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::places::DOWN;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let length = asked.job.block.parent.bore_length_mm;
    let of = |cylinder: u32| {
        let walls = asked.job.set_ups.iter().flat_map(|s| &s.walls).filter(|w| w.cylinder == cylinder);
        let read = walls.filter(|w| w.wall_mm.is_some()).map(|w| w.depth_mm);
        let deepest = read.max_by(f64::total_cmp).filter(|deepest| *deepest < DOWN * length)?;
        Some(Suspicion {
            code: "depths_shallow",
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            found: say!("its deepest wall was read {} down in a bore of {}", mm(deepest, 1), mm(length, 1)),
            likely:
                "depths in another unit, or read near the deck alone: nobody read the metal behind the rest"
                    .into(),
            ask: "how deep were its walls read? Read them along the whole pocket".into(),
            evidence: figures([("deepest", deepest), ("length", length)]),
            cylinders: vec![cylinder],
        })
    };
    asked.job.block.cylinders().into_iter().filter_map(of).collect()
}
