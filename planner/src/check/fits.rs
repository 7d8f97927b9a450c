//! Agreement between a job's files, checked before anything is worked out.

use super::checker::Checker;
use crate::files::{IndexSpanFile, JobFile};
use crate::job::{Block, Finish, Sleeve};
use crate::read::fault::plain;
use crate::read::quantity as q;

/// An index farther off the described angle than this is another one, degrees.
const MOST_SPAN_ERROR_DEG: f64 = 1.0;

/// No tool may be sent below the room that the block describes, and no pocket below the bore's end and that room.
pub(super) fn fits_block(
    c: &mut Checker<'_>,
    file: &JobFile,
    sleeves: &[Sleeve],
    block: &Block,
    deck_cut_mm: f64,
) {
    let below = block.parent.floor_mm();
    for (sleeve, given) in sleeves.iter().zip(&file.sleeves.value) {
        let deepest = sleeve.body.last().map_or(0.0, |s| s.to_mm).max(sleeve.length_mm) + deck_cut_mm;
        // A length typed in inches comes out a rounding longer.
        if deepest > below + 1e-3 {
            let found = format!("sleeve `{}` down to {deepest:.3} mm", plain(&sleeve.name, 40));
            let expected = format!(
                "at most {below:.3} mm: the bore of {} mm and the room of {} mm below it",
                block.parent.bore_length_mm, block.parent.room_below_mm
            );
            c.fault(given.place, "sleeves", found, &expected);
        }
    }
}

/// A span is the turn between two banks, and near what the block describes.
pub(super) fn fits_span(c: &mut Checker<'_>, span: &IndexSpanFile, block: &Block) {
    let [one, other] = block.banks.as_slice() else {
        let found = format!("an index span for a block with {} bank", block.banks.len());
        c.fault(span.angle.place, "index_span.angle", found, "it only for a block with two banks");
        return;
    };
    let described = (one.angle_deg - other.angle_deg).abs();
    // An angle that cannot be read is told as a fault elsewhere.
    let read = crate::read::measure::angle_deg(&span.angle.value.0).unwrap_or(described);
    if (read - described).abs() > MOST_SPAN_ERROR_DEG && q::BANK_ANGLE.holds(read) {
        let found = format!("{read} degrees");
        let expected = format!(
            "within {MOST_SPAN_ERROR_DEG} degree of the {described} between the banks: the turn from one bank up to the other"
        );
        c.fault(span.angle.place, "index_span.angle", found, &expected);
    }
}

/// A sleeve must hold the finished bore: metal to cut, and a wall left.
pub(super) fn fits_finish(c: &mut Checker<'_>, file: &JobFile, sleeves: &[Sleeve], finish: &Finish) {
    for (sleeve, given) in sleeves.iter().zip(&file.sleeves.value) {
        let name = plain(&sleeve.name, 40);
        let key = "sleeves";
        if sleeve.bore_mm > finish.bore_mm - finish.hone_stock_mm {
            let found = format!("sleeve `{name}` with a bore of {} mm", sleeve.bore_mm);
            let most = finish.bore_mm - finish.hone_stock_mm;
            c.fault(
                given.place,
                key,
                found,
                &format!("a bore of at most {most:.3} mm, so that the finish bore cuts"),
            );
        }
        let grooves = sleeve.body.iter().flat_map(|s| &s.o_rings).map(|o| o.groove_diameter_mm);
        let groove = grooves.fold(f64::INFINITY, f64::min);
        let thinnest = sleeve.body.iter().map(|s| s.diameter_mm).fold(f64::INFINITY, f64::min);
        if thinnest <= finish.bore_mm {
            let found = format!("sleeve `{name}` of {thinnest} mm outside");
            c.fault(
                given.place,
                key,
                found,
                &format!("an outside larger than the finished bore of {} mm", finish.bore_mm),
            );
        } else if groove <= finish.bore_mm {
            let found = format!("sleeve `{name}` with a groove of {groove} mm");
            let expected = format!("grooves larger than the finished bore of {} mm", finish.bore_mm);
            c.fault(given.place, key, found, &expected);
        }
    }
}
