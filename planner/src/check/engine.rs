//! Checks what fits, seats and strokes rest on: temperatures at work, head bolts, piston, deck.

use super::checker::Checker;
use crate::files::{HeadBoltsFile, JobFile, PistonFile, WhenWord};
use crate::job::{DeckCut, Engine, GoingInWanted, HeadBolts, Piston, Running, Tightening};
use crate::material;
use crate::read::measure;
use crate::read::quantity as q;

/// Skirt of a piston at work unless stated, degrees Celsius. Common practice, no source.
const SKIRT_C: f64 = 120.0;
/// Nut factor of lightly oiled steel unless stated. Common practice (T = 0.2 F d).
const NUT_FACTOR: f64 = 0.20;
/// What the pull of one torque may vary by, either way, as a share of it. VDI 2230, tightening by torque wrench,
/// from memory; common practice.
const TORQUE_SCATTER: f64 = 0.25;

/// What the job asks of the engine, in mm, N and degrees Celsius; `None` where a value is wrong, which is told.
pub(super) fn check(c: &mut Checker<'_>, file: &JobFile) -> Option<Engine> {
    let usual = Engine::default();
    let running = match &file.running {
        None => Some(usual.running),
        Some(given) => {
            let block = c.warmth("running.block", &given.block, q::HOT);
            let sleeve = c.warmth("running.sleeve", &given.sleeve, q::HOT);
            block.zip(sleeve).map(|(block_c, sleeve_c)| Running { block_c, sleeve_c, stated: true })
        }
    };
    let going_in = going_in(c, file);
    let head_bolts = match &file.head_bolts {
        None => Some(None),
        Some(given) => head_bolts(c, given).map(Some),
    };
    let tightening = match &file.head_bolts {
        None => Some(usual.tightening),
        Some(given) => tightening(c, given),
    };
    let piston = match &file.piston {
        None => Some(None),
        Some(given) => piston(c, file, given).map(Some),
    };
    let deck = match &file.deck {
        None => Some(usual.deck),
        Some(given) => {
            let after_fit = given.when == WhenWord::AfterFit;
            c.length("deck.cut", &given.cut, q::DECK_CUT).map(|cut_mm| DeckCut { cut_mm, after_fit })
        }
    };
    Some(Engine {
        running: running?,
        going_in: going_in?,
        head_bolts: head_bolts?,
        tightening: tightening?,
        piston: piston?,
        deck: deck?,
    })
}

fn going_in(c: &mut Checker<'_>, file: &JobFile) -> Option<GoingInWanted> {
    let usual = Engine::default().going_in;
    let Some(given) = &file.going_in else { return Some(usual) };
    let clearance = c.length_if_given("going_in.clearance", given.clearance.as_ref(), q::CLEARANCE);
    let sleeve = match &given.sleeve {
        None => Some(usual.sleeve_c),
        Some(at) => c.warmth("going_in.sleeve", at, q::COLD),
    };
    let hottest = match &given.hottest {
        None => Some(usual.hottest_c),
        Some(at) => c.number("going_in.hottest", at, q::HOT),
    };
    Some(GoingInWanted {
        clearance_mm: clearance?.unwrap_or(usual.clearance_mm),
        sleeve_c: sleeve?,
        hottest_c: hottest?,
    })
}

/// What pulls the head down: each bolt's clamp in N from its preload or its torque, exactly one of them, and the
/// gas pressure in MPa; `None` where a value is wrong, which is told.
fn head_bolts(c: &mut Checker<'_>, file: &HeadBoltsFile) -> Option<HeadBolts> {
    let per_bank = c.number("head_bolts.per_bank", &file.per_bank, q::BOLTS);
    let diameter = c.length_if_given("head_bolts.diameter", file.diameter.as_ref(), q::BOLT);
    let torque = file.torque.as_ref().map(|at| c.number("head_bolts.torque", at, q::TORQUE));
    let preload = file.preload.as_ref().map(|at| c.number("head_bolts.preload", at, q::PRELOAD));
    let nut_factor = match &file.nut_factor {
        None => Some(NUT_FACTOR),
        Some(at) => c.number("head_bolts.nut_factor", at, q::NUT_FACTOR),
    };
    let gas = match &file.gas_pressure {
        None => Some(None),
        Some(at) => c.number("head_bolts.gas_pressure", at, q::GAS).map(Some),
    };
    let (each_n, scatter) = match (preload, torque) {
        (Some(_), Some(_)) => {
            let place = file.torque.as_ref().map_or(file.per_bank.place, |at| at.place);
            c.fault(place, "head_bolts.torque", "a torque beside a preload".into(), "one or the other");
            return None;
        }
        (None, None) => {
            let found = "neither a torque nor a preload".into();
            c.fault(file.per_bank.place, "head_bolts", found, "what pulls the head down");
            return None;
        }
        (Some(preload), None) => (preload?, 0.0),
        (None, Some(torque)) => {
            let Some(diameter) = diameter? else {
                let place = file.torque.as_ref().map_or(file.per_bank.place, |at| at.place);
                let found = "a torque without a thread diameter".into();
                c.fault(place, "head_bolts.diameter", found, "the thread diameter, which a torque acts on");
                return None;
            };
            (torque? * 1000.0 / (nut_factor? * diameter), TORQUE_SCATTER)
        }
    };
    Some(HeadBolts { per_bank: per_bank?, thread_mm: diameter?, each_n, scatter, gas_mpa: gas? })
}

/// More steps than these are no instruction.
const MOST_STEPS: usize = 8;

/// The order, the steps and the torque that the head bolts are tightened with, N m; `None` where the order does not
/// name each bolt of a bank once, or a step is wrong, which is told.
fn tightening(c: &mut Checker<'_>, file: &HeadBoltsFile) -> Option<Tightening> {
    let mut steps = Vec::new();
    for (i, step) in file.steps.iter().flatten().enumerate() {
        if i == MOST_STEPS {
            let found = format!("step {} of them", i + 1);
            c.fault(step.place, "head_bolts.steps", found, "no more than eight steps");
            return None;
        }
        steps.push(c.name("head_bolts.steps", step)?);
    }
    let mut order: Vec<u32> = Vec::new();
    for (at, place) in
        file.order.iter().flatten().map(|n| (c.number("head_bolts.order", n, q::BOLT_NUMBER), n.place))
    {
        let number = at?;
        let all = 1..=u32::try_from(file.order.iter().flatten().count()).unwrap_or(u32::MAX);
        let whole = all.clone().find(|n| (f64::from(*n) - number).abs() < 1e-9);
        match whole.filter(|n| !order.contains(n)) {
            Some(n) => order.push(n),
            None => {
                c.fault(
                    place,
                    "head_bolts.order",
                    format!("bolt {number}"),
                    "each bolt of a bank once, counted from 1",
                );
                return None;
            }
        }
    }
    let per_bank = measure::plain_number(&file.per_bank.value.0).ok();
    let listed = order.iter().map(|_| 1.0).sum::<f64>();
    if let (Some(per_bank), Some(first)) = (per_bank, file.order.iter().flatten().next())
        && listed != per_bank
    {
        c.fault(
            first.place,
            "head_bolts.order",
            format!("{listed} bolts"),
            "as many as `per_bank`, each once",
        );
        return None;
    }
    let torque_nm = file.torque.as_ref().and_then(|at| measure::plain_number(&at.value.0).ok());
    Some(Tightening { order, steps, torque_nm })
}

/// The piston with its rod and stroke, in mm and °C; `None` where a value is wrong or they contradict each other,
/// which is told.
fn piston(c: &mut Checker<'_>, job: &JobFile, file: &PistonFile) -> Option<Piston> {
    let stroke = c.length("piston.stroke", &file.stroke, q::STROKE);
    let rod = c.length("piston.rod", &file.rod, q::ROD);
    let pin_height = c.length("piston.pin_height", &file.pin_height, q::PISTON_HEIGHT);
    let oil_ring = c.length("piston.oil_ring", &file.oil_ring, q::PISTON_HEIGHT);
    let skirt = c.length("piston.skirt", &file.skirt, q::PISTON_HEIGHT);
    let gasket = c.length_if_given("piston.gasket", file.gasket.as_ref(), q::GASKET);
    let metal = match &file.material {
        None => material::built_in("piston aluminium"),
        Some(given) => c.material("piston.material", given, &[]),
    };
    let temperature = match &file.temperature {
        None => Some(SKIRT_C),
        Some(at) => c.number("piston.temperature", at, q::HOT),
    };
    // A fault in the clearance is told with the finished bore.
    let clearance = job.finish.value.clearance.as_ref().and_then(|at| c.quietly_mm(at));
    let (stroke_mm, rod_mm) = (stroke?, rod?);
    if rod_mm <= stroke_mm / 2.0 {
        let found = format!("a rod of {rod_mm} mm on a crank throw of {} mm", stroke_mm / 2.0);
        c.fault(file.rod.place, "piston.rod", found, "a rod longer than half the stroke");
        return None;
    }
    let (oil_ring_mm, skirt_mm) = (oil_ring?, skirt?);
    if oil_ring_mm > skirt_mm {
        let found = format!("{oil_ring_mm} mm, beyond the skirt's end at {skirt_mm} mm");
        c.fault(file.oil_ring.place, "piston.oil_ring", found, "an oil ring above the end of the skirt");
        return None;
    }
    Some(Piston {
        stroke_mm,
        rod_mm,
        pin_height_mm: pin_height?,
        oil_ring_mm,
        skirt_mm,
        material: metal?,
        temperature_c: temperature?,
        temperature_stated: file.temperature.is_some(),
        gasket_mm: gasket?,
        clearance_mm: clearance,
    })
}
