//! Physical bounds of a sleeve, judged whether the job limits them or not. Each is a hold, which the lead may
//! release.
//!
//! Only what the job carries is judged: a seat where the job gives head bolts, a fillet where the sleeve states one.

use super::{Missed, holds};
use crate::job::{Job, Sleeve, SleeveKind};
use crate::material::Material;
use crate::plan::SleeveFit;
use crate::plan::fit::{ORingFit, Register, SleeveLimit, Unjudged};
use crate::plan::sentence::{Sentence, celsius, mm};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::limit::{SAME, thinnest};

/// Colder than liquid nitrogen no sleeve gets, degrees Celsius.
const COLDEST_C: f64 = -195.0;
/// The most play of a wet sleeve's register with O-rings, mm. Common practice, no source.
const LOOSEST_MM: f64 = 0.15;
/// Interference over which no register is pressed, mm on diameter: sleeves without a flange take up to 0.10. Common
/// practice, no source.
const TIGHTEST_MM: f64 = 0.13;
/// Squeeze outside which an O-ring leaks or is cut, shares. Common practice of static radial glands, no source.
pub const SQUEEZE_ENDS: [f64; 2] = [0.08, 0.35];
/// Stretch over which an O-ring ages and creeps, a share. Common practice, no source.
pub const STRETCH_MOST: f64 = 0.08;
/// Fill of a hot gland over which rubber has nowhere to go, a share. Common practice, no source.
pub const HOT_FILL_MOST: f64 = 0.95;
/// A finishing cut thinner than this rubs, mm a side. Common practice, no source.
pub(crate) const LEAST_CUT_MM: f64 = 0.05;

/// Every hold of these bounds, and the stops of what cannot be made at all.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    limits.extend(seat(job, sleeve, fit));
    limits.extend(fit.registers.iter().filter_map(|r| hoop(job, r)));
    limits.extend(fit.registers.iter().filter_map(|r| loose(sleeve, fit, r)));
    limits.extend(fit.registers.iter().filter_map(tight));
    limits.extend(wall(job, sleeve));
    limits.extend(fit.o_rings.iter().flat_map(o_ring));
    limits.extend(holding(job, fit));
    limits.extend(fillet(job, sleeve));
    limits.extend(finish_cut(job, sleeve));
    limits.extend(piston(fit));
    limits.extend(cold(fit));
    limits
}

/// The ledge: more than its metal bears for good under the most that the bolts pull; nothing left of the clamp at
/// the least.
fn seat(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
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

/// The finished sleeve's wall.
fn wall(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let least = job.allowances.sleeve_wall_mm;
    let (name, wall) = thinnest(job, sleeve).filter(|(_, wall)| *wall < least - SAME)?;
    let text = say!(
        "{}: the finished sleeve's wall is {} at the least, under {} (`allowances.sleeve_wall`)",
        plain(name, 40),
        mm(wall, 3),
        mm(least, 3)
    );
    Some(holds("thin_sleeve", name, Missed::length(wall, least), text))
}

/// An O-ring at the ends of its tolerances.
fn o_ring(ring: &ORingFit) -> Vec<SleeveLimit> {
    let place = say!("at {} in {}", mm(ring.depth, 1), ring.feature);
    let told = say!("O-ring at {} in {}", mm(ring.depth, 1), plain(&ring.feature, 40));
    let mut limits = Vec::new();
    let loosest = ring.least.squeeze.min(ring.aside[0]);
    let tightest = ring.most.squeeze.max(ring.aside[1]);
    let [least, most] = SQUEEZE_ENDS;
    if loosest < least - SAME {
        let text = say!(
            "{}: squeezed {:.1} % at the least, under {:.0} %: it leaks",
            told,
            100.0 * loosest,
            100.0 * least
        );
        limits.push(holds("o_ring_squeeze", place.clone(), Missed::plain(loosest, least), text));
    }
    if tightest > most + SAME {
        let text = say!(
            "{}: squeezed {:.1} % at the most, over {:.0} %: it is cut going in",
            told,
            100.0 * tightest,
            100.0 * most
        );
        limits.push(holds("o_ring_squeeze", place.clone(), Missed::plain(tightest, most), text));
    }
    if ring.stretch > STRETCH_MOST + SAME {
        let text =
            say!("{}: stretched {:.1} %, over {:.0} %", told, 100.0 * ring.stretch, 100.0 * STRETCH_MOST);
        limits.push(holds("o_ring_stretch", place.clone(), Missed::plain(ring.stretch, STRETCH_MOST), text));
    }
    let fill = ring.hot_most.fill;
    if fill > HOT_FILL_MOST + SAME {
        let text = say!(
            "{}: hot it fills up to {:.0} % of its groove, over {:.0} %: rubber gives way to nothing, the sleeve does",
            told,
            100.0 * fill,
            100.0 * HOT_FILL_MOST
        );
        limits.push(holds("o_ring_fill", place, Missed::plain(fill, HOT_FILL_MOST), text));
    }
    limits
}

/// A plain sleeve whose friction at work is less than gas on its end and the pull of heat together.
fn holding(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let held = fit.holding?;
    let against = held.thermal_pull + held.gas_load.unwrap_or(0.0);
    let text = match held.at_work {
        None => "the force that holds the sleeve is not known: no wall was read round it".into(),
        Some(force) if force < against - SAME => say!(
            "friction ({:.2}) holds the sleeve with {:.1} kN at work at its least interference; gas on its end ({:.1} kN) and \
             the pull of heat ({:.1} kN) come to {:.1} kN: it may creep on its step",
            held.friction,
            force / 1000.0,
            held.gas_load.unwrap_or(0.0) / 1000.0,
            held.thermal_pull / 1000.0,
            against / 1000.0
        ),
        Some(_) => return None,
    };
    let feature = say!("at work, block {}, N", celsius(job.engine.running.block_c, 0));
    Some(holds("sleeve_holding", feature, Missed::plain(held.at_work, against), text))
}

/// A flange that rides its fillet on the ledge's edge: an edge broken by less than the fillet meets it.
fn fillet(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let chamfer = job.allowances.ledge_chamfer_mm;
    let fillet = sleeve.flange()?.fillet_mm.filter(|fillet| *fillet > chamfer + SAME)?;
    let text = say!(
        "the sleeve's fillet of {} rides on the ledge's edge, broken {}: a flange that rides cracks",
        mm(fillet, 2),
        mm(chamfer, 2)
    );
    Some(holds("fillet_rides", "under the flange", Missed::length(fillet, chamfer), text))
}

/// The finish bore's stock in this sleeve. What its tip's nose makes of it is judged with the passes.
fn finish_cut(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
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

/// A skirt or crown that touches.
fn piston(fit: &SleeveFit) -> Vec<SleeveLimit> {
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

/// The hold of a sleeve that would have to be colder than liquid nitrogen to go in.
fn cold(fit: &SleeveFit) -> Option<SleeveLimit> {
    let chilled = fit.going_in.chilled.filter(|c| *c < COLDEST_C)?;
    let text = say!(
        "to go in the sleeve would have to be chilled to {}, colder than liquid nitrogen: a hotter block or less interference",
        celsius(chilled, 0)
    );
    Some(holds("chilled", "sleeve as it goes in, °C", Missed::plain(chilled, COLDEST_C), text))
}

/// Which of these bounds are not judged for want of figures.
pub(in crate::sleeve) fn unjudged(sleeve: &Sleeve, fit: &SleeveFit) -> Vec<Unjudged> {
    let of = |what, missing| Unjudged { what, missing };
    let mut unjudged = Vec::new();
    if fit.seat.load.is_none() {
        let flange = sleeve.flange().is_some();
        let what = if flange { "pressure on the ledge" } else { "pressure on the step" };
        unjudged.push(of(what, "the job gives no head bolts"));
    }
    if fit.holding.is_some_and(|held| held.gas_load.is_none()) {
        unjudged.push(of("gas on the sleeve's end", "the job gives no gas pressure"));
    }
    if sleeve.flange().is_some_and(|f| f.fillet_mm.is_none()) {
        unjudged.push(of("the fillet under the flange", "the sleeve states none"));
    }
    match fit.stack {
        None => unjudged.push(of("skirt and crown", "the job describes no piston")),
        Some(stack) if stack.clearance.is_none() => unjudged.push(of("the skirt", "no clearance is given")),
        Some(_) => {}
    }
    unjudged
}

/// Notes on which of these bounds were judged on unverified figures, and which were not judged for want of figures.
pub(in crate::sleeve) fn notes(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<Sentence> {
    let mut memory = Vec::new();
    let of = |metal: &Material, figures: &[&str]| {
        let found: Vec<&str> = metal.unverified.iter().copied().filter(|f| figures.contains(f)).collect();
        (!found.is_empty()).then(|| say!("{} of {}", found.join(" and "), plain(&metal.name, 40)))
    };
    let block = &job.block.parent.material;
    let liner = job.block.parent.liner.as_ref().map(|l| &l.material);
    if fit.seat.load.is_some() {
        let mut on: Vec<Sentence> = of(block, &["yield", "yield when hot", "creep"]).into_iter().collect();
        if block.creep.is_empty() {
            on.push("no creep figure known".into());
        }
        if !on.is_empty() {
            memory.push(say!("pressure on the {} ({})", sleeve.seat_word(), Sentence::join(on, ", ")));
        }
    }
    if fit.registers.iter().any(|r| r.interference.most > 0.0) {
        let metals = [Some(block), Some(&sleeve.material), liner];
        let mut rest: Vec<Sentence> =
            metals.into_iter().flatten().filter_map(|m| of(m, &["yield", "yield when hot"])).collect();
        rest.dedup();
        if !rest.is_empty() {
            memory.push(say!("hoop stress ({})", Sentence::join(rest, ", ")));
        }
    }
    memory.push(say!("the finished wall ({}, common practice)", mm(job.allowances.sleeve_wall_mm, 2)));
    if !fit.o_rings.is_empty() {
        memory.push("O-rings (their ranges common practice; cords and expansion of rubber)".into());
    }
    memory.push("the least chip of a finishing cut (common practice)".into());
    if let Some(held) = fit.holding {
        memory.push(say!("what friction holds (coefficient {:.2})", held.friction));
    }
    let mut notes = vec![say!(
        "what holds of itself was judged on figures from memory or common practice: {}",
        Sentence::join(memory, "; ")
    )];
    if !fit.unjudged.is_empty() {
        let unjudged: Vec<String> = fit.unjudged.iter().map(ToString::to_string).collect();
        notes.push(say!("not judged for want of figures: {}", unjudged.join("; ")));
    }
    notes
}
