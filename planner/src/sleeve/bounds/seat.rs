//! Ledges, flanges, steps and registers that carry or locate nothing.
//! Each is a hold. All bounds here are common practice without a source, set beyond where any part of an engine lies.

use super::{Missed, holds, spacing_mm};
use crate::job::{Job, Sleeve};
use crate::plan::SleeveFit;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{mm, signed_mm};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::limit::SAME;

/// A ledge or step narrower than this carries nothing, mm.
const LEDGE_MM: f64 = 1.0;
/// A ledge narrower than this at the flats lets the flange down between two bores, mm.
const FLATS_MM: f64 = 0.5;
/// A flange thinner than this breaks off under the clamp, mm.
const FLANGE_MM: f64 = 3.0;
/// A step of the parent lower than this breaks under a plain sleeve, mm.
const STEP_MM: f64 = 1.5;
/// A recess stays this far from the finished bore beside it, mm.
const BESIDE_MM: f64 = 1.0;
/// A register shorter than this locates nothing, mm.
const REGISTER_MM: f64 = 3.0;

/// Every one of them, in the order in which they are told.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = seat(job, sleeve, fit);
    limits.extend(flange_reaches(job, sleeve));
    limits.extend(registers(sleeve));
    limits
}

/// What of ledge, flange and step is too thin to carry a sleeve, each a hold.
fn seat(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let width = fit.seat.width;
    let on = sleeve.seat_word();
    if width > 0.0 && width < LEDGE_MM - SAME {
        let text =
            say!("the {on} is {} wide, under {}: the sleeve drops through it", mm(width, 2), mm(LEDGE_MM, 1));
        limits.push(holds("ledge_narrow", on, Missed::length(width, LEDGE_MM), text));
    }
    let flats = sleeve.flange().and_then(|f| f.flats_mm).zip(sleeve.body.first());
    if let Some((flats, body)) = flats {
        let width = (flats - body.diameter_mm) / 2.0;
        if width < FLATS_MM - SAME {
            let text = say!(
                "at the flats the {on} is {} wide, under {}: nothing carries the flange between two bores",
                signed_mm(width, 2),
                mm(FLATS_MM, 1)
            );
            limits.push(holds("ledge_narrow", "at the flats", Missed::length(width, FLATS_MM), text));
        }
    }
    if let Some(flange) = sleeve.flange().filter(|f| f.thickness_mm < FLANGE_MM - SAME) {
        let text = say!(
            "the flange is {} thick, under {}: it breaks off under the clamp",
            mm(flange.thickness_mm, 2),
            mm(FLANGE_MM, 1)
        );
        limits.push(holds("flange_thin", "flange", Missed::length(flange.thickness_mm, FLANGE_MM), text));
    }
    if let Some(foot) = sleeve.foot() {
        let height = job.left_below_mm(sleeve).min(foot.height_mm);
        if height < STEP_MM - SAME {
            let text = say!(
                "the step under the sleeve may be {} high, under {}: it breaks",
                mm(height, 2),
                mm(STEP_MM, 1)
            );
            limits.push(holds("step_low", "below the sleeve", Missed::length(height, STEP_MM), text));
        }
    }
    limits
}

/// A recess that reaches into the finished bore beside it: flats part the flanges, and what is cut for them is round.
fn flange_reaches(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let flange = sleeve.flange()?;
    let spacing = spacing_mm(job)?;
    let recess = flange.diameter_mm + flange.clearance_mm;
    let (left, bore) = (spacing - recess / 2.0, job.finish.bore_mm / 2.0 + BESIDE_MM);
    (left < bore - SAME).then(|| {
        let text = say!(
            "a recess of {} is cut round to {} from the next bore's axis, which is {} away: it would stand in that bore or its gasket's \
             ring. Is `flange.diameter` a digit off?",
            mm(recess, 2),
            mm(left, 2),
            mm(spacing, 2)
        );
        holds("flange_reaches", "flange", Missed::length(left, bore), text)
    })
}

/// Registers too short to locate anything.
fn registers(sleeve: &Sleeve) -> Vec<SleeveLimit> {
    let mut from = sleeve.flange().map_or(0.0, |f| f.thickness_mm);
    let mut limits = Vec::new();
    for step in &sleeve.body {
        let length = step.to_mm - from;
        if !step.wet && length < REGISTER_MM - SAME {
            let text = say!(
                "{} is {} long, under {}: it locates nothing",
                plain(&step.name, 40),
                mm(length, 2),
                mm(REGISTER_MM, 1)
            );
            limits.push(holds("register_short", &step.name, Missed::length(length, REGISTER_MM), text));
        }
        from = step.to_mm;
    }
    limits
}
