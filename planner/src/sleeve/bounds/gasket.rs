//! A combustion seal that seals nothing.
//! Each is a hold. All bounds here are common practice without a source, set beyond where any part of an engine lies.

use super::{Missed, holds, spacing_mm};
use crate::job::{Job, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{before_mm, mm, signed_mm};
use crate::say;
use crate::sleeve::judge::SAME;

/// A combustion seal narrower than this, or with less than this on the sleeve, seals nothing, mm.
const RING_MM: f64 = 1.0;

/// The hold of a combustion seal too narrow to seal or as wide as the bores are apart, or one that stands on the joint of a plain
/// sleeve.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let ring = job.block.fire_ring?;
    let width = (ring.outside_mm - ring.inside_mm) / 2.0;
    if width < RING_MM - SAME {
        let text = say!(
            "the gasket's ring is {} in {}, {} wide: a digit slipped?",
            before_mm(ring.inside_mm, 2),
            mm(ring.outside_mm, 2),
            mm(width, 2)
        );
        return Some(holds("ring_odd", "fire ring", Missed::length(width, RING_MM), text));
    }
    if let Some(spacing) = spacing_mm(job).filter(|spacing| ring.outside_mm > spacing - SAME) {
        let text = say!(
            "the gasket's ring is {} outside, and bores are {} apart: rings of two bores would lie in each other",
            mm(ring.outside_mm, 2),
            mm(spacing, 2)
        );
        return Some(holds("ring_odd", "fire ring", Missed::length(ring.outside_mm, spacing), text));
    }
    let top = sleeve.body.first().filter(|_| sleeve.foot().is_some())?;
    let on_sleeve = (top.diameter_mm - ring.inside_mm).min(ring.outside_mm - ring.inside_mm) / 2.0;
    (on_sleeve < RING_MM - SAME).then(|| {
        let text = say!(
            "of the gasket's ring, {} inside, {} stand on the sleeve of {}: its joint with the block lies under the ring or \
             inside it, and gas gets behind the sleeve",
            mm(ring.inside_mm, 2),
            signed_mm(on_sleeve, 2),
            mm(top.diameter_mm, 2)
        );
        holds("ring_over_joint", "fire ring", Missed::length(on_sleeve, RING_MM), text)
    })
}
