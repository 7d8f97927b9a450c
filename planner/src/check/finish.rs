//! Checks the finished bore: its size or piston, what the hone takes, the plate, the roughness asked.

use super::checker::Checker;
use crate::files::{JobFile, RoughnessFile};
use crate::job::Finish;
use crate::read::quantity as q;

/// Left for the hone on diameter unless stated, mm. Common practice, no source.
const HONE_STOCK_MM: f64 = 0.06;
/// Tolerance of the finished bore unless stated, mm. Common practice, no source.
const TOLERANCE_MM: f64 = 0.010;

/// The finished bore in mm; `None` where a value is wrong, which is told.
pub(super) fn finish(c: &mut Checker<'_>, file: &JobFile) -> Option<Finish> {
    let given = &file.finish.value;
    let stock = c.length_if_given("finish.hone_stock", given.hone_stock.as_ref(), q::HONE_STOCK);
    let tolerance = c.length_if_given("finish.tolerance", given.tolerance.as_ref(), q::TOLERANCE);
    let plate = c.length_if_given("finish.plate", given.plate.as_ref(), q::PLATE);
    let roughness = match &given.roughness {
        None => Some(None),
        Some(given) => roughness(c, given).map(Some),
    };
    let mut stated = None;
    let bore = match (&given.bore, &given.piston, &given.clearance) {
        (Some(bore), None, None) => c.length("finish.bore", bore, q::BORE),
        (None, Some(piston), Some(clearance)) => {
            let piston = c.length("finish.piston", piston, q::BORE);
            let clearance = c.length("finish.clearance", clearance, q::PISTON_CLEARANCE);
            stated = clearance;
            piston.zip(clearance).map(|(piston, clearance)| piston + clearance)
        }
        (bore, piston, clearance) => {
            let first = [bore, piston, clearance].into_iter().flatten().next();
            let place = first.map_or(file.finish.place, |at| at.place);
            let found = match (bore, piston, clearance) {
                (Some(_), _, _) => "a bore beside a piston or clearance",
                (None, Some(_), None) => "a piston without its clearance",
                (None, None, Some(_)) => "a clearance without its piston",
                _ => "neither bore nor piston",
            };
            c.fault(place, "finish", found.into(), "`bore`, or `piston` with `clearance`");
            None
        }
    };
    Some(Finish {
        bore_mm: bore?,
        clearance_mm: stated,
        hone_stock_mm: stock?.unwrap_or(HONE_STOCK_MM),
        tolerance_mm: tolerance?.unwrap_or(TOLERANCE_MM),
        plate_mm: plate?,
        roughness_um: roughness?,
    })
}

/// Least and most.
fn roughness(c: &mut Checker<'_>, given: &RoughnessFile) -> Option<[f64; 2]> {
    let most = c.number("finish.roughness.most", &given.most, q::ROUGHNESS);
    let least = match &given.least {
        None => Some(0.0),
        Some(at) => c.number("finish.roughness.least", at, q::ROUGHNESS),
    };
    let (least, most) = (least?, most?);
    if least >= most {
        let place = given.least.as_ref().map_or(given.most.place, |at| at.place);
        c.fault(place, "finish.roughness", format!("{least} to {most}"), "a least below the most");
        return None;
    }
    Some([least, most])
}
