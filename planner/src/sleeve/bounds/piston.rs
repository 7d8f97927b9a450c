//! A piston that none is, that is not this engine's, or that meets sleeve or head. Each is a hold. All bounds here are common practice
//! without a source, set beyond where any piston lies.

use super::{COLDEST_AT_WORK_C, Missed, holds};
use crate::job::Job;
use crate::plan::SleeveFit;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{Sentence, before_mm, celsius, mm};
use crate::say;
use crate::sleeve::judge::SAME;

/// Skirts run with clearances within these, as shares of the bore.
const CLEARANCE: [f64; 2] = [0.000_3, 0.003];
/// A skirt that comes out of the sleeve by more than this at the bottom rocks on its edge, mm.
const SKIRT_OUT_MM: f64 = 15.0;
/// An oil ring nearer to the crown than this share of the bore has no rings above it.
const OIL_RING: f64 = 0.08;
/// A crown nearer to the head than this touches it at speed, mm.
const CROWN_MM: f64 = 0.4;

/// Everything of a piston that is out of bounds.
pub(super) fn limits(job: &Job, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = running(job, fit);
    limits.extend(drawn(job));
    limits.extend(cold(job));
    limits
}

/// A piston whose oil ring leaves the sleeve, whose rod is shorter than its stroke, or whose crown meets the head.
fn running(job: &Job, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    if let Some(clearance) = job.finish.clearance_mm {
        let [least, most] = CLEARANCE.map(|share| share * job.finish.bore_mm);
        if clearance < least - SAME || clearance > most + SAME {
            let text = say!(
                "the piston is given {} of clearance in the finished bore, usual are {} to {}: a skirt with less seizes, with \
                 more it breaks",
                mm(clearance, 3),
                before_mm(least, 3),
                mm(most, 3)
            );
            limits.push(holds("clearance_odd", "skirt", Missed::length(clearance, least), text));
        }
    }
    let Some(piston) = job.engine.piston.as_ref() else { return limits };
    if piston.rod_mm < piston.stroke_mm - SAME {
        let text = say!(
            "the rod is {} long and the stroke {}: no crank turns so",
            mm(piston.rod_mm, 1),
            mm(piston.stroke_mm, 1)
        );
        limits.push(holds("rod_short", "crank", Missed::length(piston.rod_mm, piston.stroke_mm), text));
    }
    let Some(stack) = fit.stack else {
        let text = say!(
            "a rod of {} with a stroke of {} does not reach across the axis offset of a bank: no crank turns so",
            mm(piston.rod_mm, 1),
            mm(piston.stroke_mm, 1)
        );
        limits.push(holds("rod_short", "crank", Missed::length(piston.rod_mm, piston.stroke_mm), text));
        return limits;
    };
    if stack.ring_hold < -SAME {
        let text = say!(
            "the oil ring stands {} below the sleeve's end at bottom dead centre: it comes out",
            mm(-stack.ring_hold, 1)
        );
        limits.push(holds("ring_out", "bottom dead centre", Missed::length(stack.ring_hold, 0.0), text));
    }
    if stack.skirt_out > SKIRT_OUT_MM + SAME {
        let text = say!(
            "the skirt comes {} out of the sleeve at bottom dead centre, over {}: it rocks on the sleeve's edge",
            mm(stack.skirt_out, 1),
            mm(SKIRT_OUT_MM, 0)
        );
        limits.push(holds(
            "skirt_hangs",
            "bottom dead centre",
            Missed::length(stack.skirt_out, SKIRT_OUT_MM),
            text,
        ));
    }
    let gap = stack.crown_gap;
    if piston.gasket_mm.is_some() && gap > SAME && gap < CROWN_MM - SAME {
        let text = say!(
            "{} are left between crown and head with the gasket between, under {}: they touch at speed",
            mm(gap, 2),
            mm(CROWN_MM, 1)
        );
        limits.push(holds("crown_near", "top dead centre", Missed::length(gap, CROWN_MM), text));
    }
    limits
}

/// Figures of a piston that none has: its skirt ends above the pin, its oil ring lies below the pin or at the crown.
fn drawn(job: &Job) -> Vec<SleeveLimit> {
    let Some(piston) = job.engine.piston.as_ref() else { return Vec::new() };
    let (pin, ring, skirt) = (piston.pin_height_mm, piston.oil_ring_mm, piston.skirt_mm);
    let least = OIL_RING * job.finish.bore_mm;
    let mut limits = Vec::new();
    let mut odd = |[value, bound]: [f64; 2], text: Sentence| {
        limits.push(holds("piston_odd", "piston", Missed::length(value, bound), text));
    };
    if skirt < pin + SAME {
        let text = say!(
            "the skirt ends {} below the crown and the pin stands {} below it: the pin would be out of the piston",
            mm(skirt, 1),
            mm(pin, 1)
        );
        odd([skirt, pin], text);
    }
    if ring > pin + SAME {
        let text = say!(
            "the oil ring lies {} below the crown, under the pin at {}: is `piston.oil_ring` this piston's?",
            mm(ring, 1),
            mm(pin, 1)
        );
        odd([ring, pin], text);
    }
    if ring < least - SAME {
        let text = say!(
            "the oil ring lies {} below the crown, under {}: no ring has room above it",
            mm(ring, 1),
            mm(least, 1)
        );
        odd([ring, least], text);
    }
    limits
}

/// A piston that is said to be colder at work than what it runs in.
fn cold(job: &Job) -> Option<SleeveLimit> {
    let piston = job
        .engine
        .piston
        .as_ref()
        .filter(|piston| piston.clearance_mm.is_some() && piston.temperature_stated)?;
    let at = &job.engine.running;
    let least = at.sleeve_c.max(at.block_c).max(COLDEST_AT_WORK_C);
    (piston.temperature_c < least - SAME).then(|| {
        let text = say!(
            "the piston is said to be at {} at work and what it runs in at {}: it takes the heat and is the hotter of the two; its \
             clearance at work is not judged so",
            celsius(piston.temperature_c, 0),
            celsius(least, 0)
        );
        holds("piston_cold", "at work, °C", Missed::plain(piston.temperature_c, least), text)
    })
}

/// A skirt or crown that touches.
pub(super) fn touches(fit: &SleeveFit) -> Vec<SleeveLimit> {
    let Some(stack) = fit.stack else { return Vec::new() };
    let mut limits = Vec::new();
    if let Some(hot) = stack.clearance.map(|c| c.hot).filter(|hot| *hot <= SAME) {
        let text = say!("the skirt touches at work: {} of clearance left on diameter", mm(hot, 3));
        limits.push(holds("skirt_touches", "at work", Missed::length(hot, 0.0), text));
    }
    let gap = stack.crown_gap;
    let proud = stack.crown_top < -SAME;
    if proud && gap <= SAME {
        let text = say!(
            "the crown stands {} above the deck at top dead centre, and nothing is known to keep it off the head: say `piston.gasket`",
            mm(-stack.crown_top, 2)
        );
        let text = if gap == stack.crown_top {
            text
        } else {
            say!(
                "the crown touches the head at top dead centre: {} are left with the gasket between",
                mm(gap, 2)
            )
        };
        limits.push(holds("crown_touches", "top dead centre", Missed::length(gap, 0.0), text));
    }
    limits
}
