//! Checks what a sleeve stands by: a flange with its protrusion, or a step of the parent.

use super::checker::Checker;
use crate::files::{FlangeFile, FootFile, KindWord, SleeveFile};
use crate::job::{Flange, Foot, Stands};
use crate::read::quantity as q;

/// Either side of a flange's thickness unless stated, mm. Common practice, no source.
const FLANGE_TOLERANCE_MM: f64 = 0.005;
/// Friction of a dry sleeve in its pocket unless stated: DIN 7190 has 0.10 and up for dry iron shrunk in; from memory.
const FRICTION: f64 = 0.10;

/// The flange or the step that a sleeve stands by; `None` where it has neither, both, or a wrong value, which is
/// told.
pub(super) fn stands(c: &mut Checker<'_>, file: &SleeveFile) -> Option<Stands> {
    match (&file.flange, &file.step) {
        (Some(flange), None) => {
            for (key, place) in of_a_foot(file) {
                let found = format!("`{key}` beside a flange");
                c.fault(place, key, found, "it only for a sleeve that stands on a `step`");
            }
            self::flange(c, file, flange)
        }
        (None, Some(step)) => {
            if let Some(protrusion) = &file.protrusion {
                let found = "a protrusion of a sleeve without a flange".into();
                let place = c.key_place(protrusion.min.place, "protrusion");
                c.fault(place, "protrusion", found, "`stand`: how far it is left proud to be cut flush");
            }
            if file.kind.value == KindWord::Wet {
                let found = "a wet sleeve that stands on a step".into();
                c.fault(file.kind.place, "kind", found, "`dry`, or a flange");
            }
            foot(c, file, step)
        }
        (Some(_), Some(step)) => {
            let place = c.key_place(step.inside.place, "step");
            c.fault(place, "step", "a step beside a flange".into(), "one or the other");
            None
        }
        (None, None) => {
            let expected = "a `flange` with its `protrusion`, or a `step` of the parent that it stands on";
            let help = "a sleeve that stands on nothing sinks: see docs/formats.md, Sleeve".to_owned();
            let found = "neither a flange nor a step".into();
            c.fault_with_help(file.name.place, "flange", found, expected, Some(help));
            None
        }
    }
}

/// The keys that only a sleeve on a step has, as far as they are given.
fn of_a_foot(file: &SleeveFile) -> Vec<(&'static str, crate::read::fault::Place)> {
    let stand = file.stand.as_ref().map(|at| ("stand", at.place));
    let friction = file.friction.as_ref().map(|at| ("friction", at.place));
    stand.into_iter().chain(friction).collect()
}

/// The flange that a sleeve stands by, with its protrusion, in mm; `None` where a value is wrong or the protrusion
/// missing, which is told.
fn flange(c: &mut Checker<'_>, file: &SleeveFile, given: &FlangeFile) -> Option<Stands> {
    let diameter = c.length("flange.diameter", &given.diameter, q::BORE);
    let thickness = c.length("flange.thickness", &given.thickness, q::FLANGE_THICKNESS);
    let clearance = c.length("flange.clearance", &given.clearance, q::CLEARANCE);
    let flats = c.length_if_given("flange.flats", given.flats.as_ref(), q::BORE);
    let fillet = c.length_if_given("flange.fillet", given.fillet.as_ref(), q::EDGE);
    let tolerance = c.length_if_given("flange.tolerance", given.tolerance.as_ref(), q::TOLERANCE);
    let Some(protrusion) = &file.protrusion else {
        let place = c.key_place(given.diameter.place, "flange");
        let found = "a flange without a protrusion".into();
        c.fault(place, "protrusion", found, "`min` and `max` of the flange above the deck once seated");
        return None;
    };
    let min = c.length("protrusion.min", &protrusion.min, q::PROTRUSION);
    let max = c.length("protrusion.max", &protrusion.max, q::PROTRUSION);
    if let (Some(min), Some(max)) = (min, max)
        && min > max
    {
        c.fault(protrusion.min.place, "protrusion.min", format!("{min} mm"), "min no larger than max");
    }
    Some(Stands::Flange(Flange {
        diameter_mm: diameter?,
        thickness_mm: thickness?,
        clearance_mm: clearance?,
        flats_mm: flats?,
        fillet_mm: fillet?,
        tolerance_mm: tolerance?.unwrap_or(FLANGE_TOLERANCE_MM),
        protrusion_min_mm: min?,
        protrusion_max_mm: max?,
    }))
}

fn foot(c: &mut Checker<'_>, file: &SleeveFile, given: &FootFile) -> Option<Stands> {
    let inside = c.length("step.inside", &given.inside, q::BORE);
    let height = c.length("step.height", &given.height, q::STEP_HEIGHT);
    let proud = c.length_if_given("stand", file.stand.as_ref(), q::STAND);
    let friction = match &file.friction {
        None => Some(FRICTION),
        Some(at) => c.number("friction", at, q::FRICTION),
    };
    Some(Stands::Foot(Foot {
        inside_mm: inside?,
        height_mm: height?,
        proud_mm: proud?.unwrap_or(0.0),
        friction: friction?,
    }))
}
