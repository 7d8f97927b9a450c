//! Stock of the finish bore and the hone, and a plate that gives way.
//! Each is a hold. All bounds here are common practice without a source, set beyond where any part of an engine lies.

use super::{Missed, holds};
use crate::job::{Job, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{mm, signed_mm};
use crate::say;
use crate::sleeve::judge::SAME;

/// A finishing cut thinner than this rubs, mm a side. Common practice, no source.
pub(crate) const LEAST_CUT_MM: f64 = 0.05;
/// A finish bore that takes less than this a side does not reach all round the sleeve's own bore, mm.
const FINISH_MM: f64 = 0.10;
/// The least stock with which a hone takes off the marks of the finish bore, mm on diameter: bored to Ra 1.6 they
/// are some 0.008 deep.
const HONE_MM: f64 = 0.02;
/// The most stock that is left for a hone, mm on diameter: more is bored.
const HONE_MOST_MM: f64 = 0.25;
/// A torque plate thinner than this bends where a head would not, mm, in iron; one of aluminium wants 50.
const PLATE_MM: f64 = 40.0;

/// A finish bore that does not reach all round, and a hone with nothing to take.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let stock = (job.finish.bore_mm - job.finish.hone_stock_mm - sleeve.bore_mm) / 2.0;
    // Stock too small for an edge to cut has a hold of its own.
    if stock.abs() <= SAME || (LEAST_CUT_MM - SAME..FINISH_MM - SAME).contains(&stock) {
        let text = say!(
            "the finish bore takes {} a side off the sleeve's own bore, under {}: it does not clean up all round, and the bore \
             stays where the sleeve's maker put it",
            signed_mm(stock, 3),
            mm(FINISH_MM, 2)
        );
        limits.push(holds("finish_stock", "finish bore", Missed::length(stock, FINISH_MM), text));
    }
    let hone = job.finish.hone_stock_mm;
    if hone < HONE_MM - SAME {
        let text = say!(
            "{} on diameter are left for the hone, under {}: the marks of the finish bore stay",
            mm(hone, 3),
            mm(HONE_MM, 2)
        );
        limits.push(holds("hone_stock", "hone", Missed::length(hone, HONE_MM), text));
    }
    if hone > HONE_MOST_MM + SAME {
        let text = say!(
            "{} on diameter are left for the hone, over {}: that is bored, and a hone would follow what is out of place",
            mm(hone, 3),
            mm(HONE_MOST_MM, 2)
        );
        limits.push(holds("hone_stock", "hone", Missed::length(hone, HONE_MOST_MM), text));
    }
    if let Some(plate) = job.finish.plate_mm.filter(|plate| *plate < PLATE_MM - SAME) {
        let text = say!(
            "a torque plate of {} gives way where a head would not, under {} of iron (50 of aluminium): what is bored and honed \
             round under it is not round under the head",
            mm(plate, 1),
            mm(PLATE_MM, 0)
        );
        limits.push(holds("plate_thin", "torque plate", Missed::length(plate, PLATE_MM), text));
    }
    limits
}

/// The finish bore's stock in this sleeve. What its tip's nose makes of it is judged with the passes.
pub(super) fn thin_cut(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let stock = (job.finish.bore_mm - job.finish.hone_stock_mm - sleeve.bore_mm) / 2.0;
    if stock <= SAME || stock >= LEAST_CUT_MM - SAME {
        return None;
    }
    let text = say!(
        "finish bore: {} a side are left in the sleeve, at least {}: the edge would rub",
        mm(stock, 3),
        mm(LEAST_CUT_MM, 2)
    );
    Some(holds("chip", "finish bore", Missed::length(stock, LEAST_CUT_MM), text))
}
