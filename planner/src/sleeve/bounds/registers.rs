//! Dry registers at the ends of their tolerances: hoop stress, play, tightness. Each is a hold.

use super::{Missed, holds};
use crate::job::{Job, Sleeve, SleeveKind};
use crate::plan::SleeveFit;
use crate::plan::fit::{Register, SleeveLimit};
use crate::plan::sentence::{celsius, mm};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;

/// The most play of a wet sleeve's register with O-rings, mm. Common practice, no source.
const LOOSEST_MM: f64 = 0.15;
/// Interference over which no register is pressed, mm on diameter: sleeves without a flange take up to 0.10. Common
/// practice, no source.
const TIGHTEST_MM: f64 = 0.13;

/// Every one of them, in the order in which they are told.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits: Vec<SleeveLimit> = fit.registers.iter().filter_map(|r| hoop(job, r)).collect();
    limits.extend(fit.registers.iter().filter_map(|r| loose(sleeve, fit, r)));
    limits.extend(fit.registers.iter().filter_map(tight));
    limits
}

/// Hoop stress over yield in any ring, cold or at work.
fn hoop(job: &Job, register: &Register) -> Option<SleeveLimit> {
    if register.interference.most <= 0.0 {
        return None;
    }
    let name = plain(&register.feature, 40);
    let (value, text) = match (register.hoop_ratio, register.hoop_ratio_at_most) {
        (Some(ratio), _) if ratio > 1.0 + SAME => (
            Some(ratio),
            say!("{}: hoop stress reaches {ratio:.2} of yield: the fit breaks or yields a part", name),
        ),
        (Some(_), _) => return None,
        (None, Some(most)) if most > 1.0 + SAME => (
            Some(most),
            say!(
                "{}: no wall was read, and hoop stress may reach {most:.2} of yield with the wall that is there",
                name
            ),
        ),
        (None, Some(_)) => return None,
        (None, None) => (
            None,
            say!(
                "{}: hoop stress cannot be held against a yield that is not known at {}",
                name,
                celsius(job.engine.running.block_c.max(job.engine.running.sleeve_c), 0)
            ),
        ),
    };
    Some(holds("hoop_yield", &register.feature, Missed::plain(value, 1.0), text))
}

/// A dry register that the loose ends of its tolerances leave without interference at 20 °C.
///
/// Of a wet sleeve a register with O-rings may be loose, as such sleeves are made, while another one grips.
fn loose(sleeve: &Sleeve, fit: &SleeveFit, register: &Register) -> Option<SleeveLimit> {
    let grips = |r: &Register| r.interference.least > SAME;
    if grips(register) {
        return None;
    }
    let step = sleeve.body.iter().find(|s| s.name == register.feature);
    let sealed = step.is_some_and(|s| !s.o_rings.is_empty());
    let least = register.interference.least;
    if let Some(step) = step.filter(|step| step.drawn_tight && sealed) {
        let text = say!(
            "{}: it is drawn {} tight, and at the loose end of its tolerances has {} of play: is a digit of `interference` off? A \
             register that is meant to be loose has a `clearance` or a `fit`",
            plain(&register.feature, 40),
            mm(step.interference_mm, 3),
            mm(-least, 3)
        );
        return Some(holds("loose_register", &register.feature, Missed::length(least, 0.0), text));
    }
    if sleeve.kind == SleeveKind::Wet && sealed && fit.registers.iter().any(grips) {
        return (least < -LOOSEST_MM - SAME).then(|| {
            let text = say!(
                "{}: at the loose end of its tolerances it has {} of play, over {}: the sleeve rocks in it, and its O-rings are \
                 pumped dry",
                plain(&register.feature, 40),
                mm(-least, 3),
                mm(LOOSEST_MM, 2)
            );
            holds("loose_register", &register.feature, Missed::length(least, -LOOSEST_MM), text)
        });
    }
    let text = say!(
        "{}: at the loose end of its tolerances {} at {}: nothing but the {} keeps the sleeve from shuffling",
        plain(&register.feature, 40),
        if least < -SAME { say!("a gap of {}", mm(-least, 3)) } else { "no interference".into() },
        celsius(20.0, 0),
        sleeve.stop_word()
    );
    Some(holds("loose_register", &register.feature, Missed::length(least, 0.0), text))
}

/// The hold of a register so tight that it may split casting or sleeve, and that no heat of a shop is sure to open.
fn tight(register: &Register) -> Option<SleeveLimit> {
    let most = register.interference.most;
    (most > TIGHTEST_MM + SAME).then(|| {
        let text = say!(
            "{}: at the tight end of its tolerances {} tight, over {}: no dry register is pressed so",
            plain(&register.feature, 40),
            mm(most, 3),
            mm(TIGHTEST_MM, 2)
        );
        holds("tight_register", &register.feature, Missed::length(most, TIGHTEST_MM), text)
    })
}
