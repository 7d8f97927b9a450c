//! A length in coolant, or a seal against it, of a block whose jacket nobody described: a hold.

use super::{Missed, holds};
use crate::job::{Job, Sleeve, SleeveKind};
use crate::plan::fit::SleeveLimit;
use crate::read::fault::plain;
use crate::say;

/// Wet lengths and O-rings rest on where the jacket is.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let sealed = sleeve.kind == SleeveKind::Wet;
    let wet = sleeve.body.iter().find(|step| step.wet || (sealed && !step.o_rings.is_empty()))?;
    job.block.parent.jacket.is_none().then(|| {
        let text = say!(
            "{} stands in coolant or seals against it, and the block's description has no jacket: whether metal stands where \
             it is cut, and whether its rings seal, rests on `parent.jacket`",
            plain(&wet.name, 40)
        );
        holds("jacket_not_described", &wet.name, Missed::NO_FIGURE, text)
    })
}
