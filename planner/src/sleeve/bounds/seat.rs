//! Ledges, flanges, steps and registers that carry or locate nothing.
//! Each is a hold. The figures stated here are common practice without a source, set beyond where any part of an engine lies.

use super::{Missed, holds, spacing_mm};
use crate::job::{Job, Sleeve};
use crate::plan::SleeveFit;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{celsius, mm, signed_mm};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;

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

/// What carries or locates nothing, in the order in which it is told.
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

/// The ledge: more than its metal bears for good under the most that the bolts pull; nothing left of the clamp at
/// the least.
pub(super) fn clamped(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let ledge = sleeve.seat_word();
    let at_c = job.engine.running.block_c;
    let metal = plain(&job.block.parent.material.name, 40);
    if let Some(pressure) = fit.seat.pressure_most {
        let text = match fit.seat.bears {
            None => Some(say!("bearing pressure on the {} {pressure:.1} MPa at the most, and what {} bears at {} is not known", ledge, metal, celsius(at_c, 0))),
            Some(bears) => (pressure > bears + SAME).then(|| {
                say!("bearing pressure on the {} is {pressure:.1} MPa at the most, {} bears {bears:.1} MPa at {} ({}): the sleeve sinks", ledge, metal, celsius(at_c, 0), fit.seat.bears_by.unwrap_or("yield"))
            }),
        };
        limits.extend(text.map(|text| {
            holds("seat_yield", "ledge at work, MPa", Missed::plain(pressure, fit.seat.bears), text)
        }));
    }
    if let Some(left) = fit.seat.pressure_at_peak.filter(|left| *left < -SAME) {
        let text = say!(
            "peak gas pressure can take off more than the bolts hold the sleeve down with: {left:.1} MPa left on the ledge"
        );
        limits.push(holds("clamp_at_peak", "seat at peak pressure, MPa", Missed::plain(left, 0.0), text));
    }
    limits
}

/// A flange that rides its fillet on the ledge's edge: an edge broken by less than the fillet meets it.
pub(super) fn fillet(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let chamfer = job.allowances.ledge_chamfer_mm;
    let fillet = sleeve.flange()?.fillet_mm.filter(|fillet| *fillet > chamfer + SAME)?;
    let text = say!(
        "the sleeve's fillet of {} rides on the ledge's edge, broken {}: a flange that rides cracks",
        mm(fillet, 2),
        mm(chamfer, 2)
    );
    Some(holds("fillet_rides", "under the flange", Missed::length(fillet, chamfer), text))
}
