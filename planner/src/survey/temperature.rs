//! The readings brought to 20 °C, and what that changes.

use std::borrow::Cow;

use serde::Serialize;

use super::significance::MEASURABLE;
use crate::job::{Job, REFERENCE_C, ReadingFrame};
use crate::plan::rounding;
use crate::plan::sentence::{Sentence, before_mm, celsius, kelvin, mm, signed_mm};
use crate::plan::{Finding, Subject, Verdict};
use crate::say;

/// The correction to 20 °C over the farthest bore from the along datum.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Correction {
    /// Of the block when measured, °C.
    pub block: f64,
    /// Of the machine when measured, °C.
    pub machine: f64,
    /// From the along datum to the farthest bore, mm.
    pub length: f64,
    /// What would be added to that length, mm.
    pub correction: f64,
    /// Standard uncertainty of that length as read, mm.
    pub u: f64,
    /// Whether it is smaller than what can be measured.
    pub within_measuring: bool,
    /// In a sentence.
    pub text: Sentence,
}

/// The correction, where both temperatures were given.
///
/// L20 = L (1 + a_scale (t_machine - 20)) / (1 + a_block (t_block - 20)), about the datum (ISO 1). With a block of
/// aluminium (21.4e-6) at 36 °C and the machine at 20: -342 ppm, -0.123 mm over 360.
pub(crate) fn correction(job: &Job) -> Option<Correction> {
    let t = job.temperature?;
    let block = &job.block.parent.material;
    let per_mm = t.measuring.to_reference(block.expansion_per_k) - 1.0;
    let sites = job.block.banks.iter().flat_map(|b| &b.sites);
    let length = sites.map(|s| s.x_mm.abs()).fold(0.0, f64::max);
    let correction = length * per_mm;
    let u = job.instruments.along_mm.hypot(job.instruments.centre_mm);
    let within_measuring = correction.abs() < MEASURABLE * u;
    let what = say!(
        "block {} and machine {}: readings are brought to {}, which changes {} from the datum by {} \
             (u {})",
        celsius(t.measuring.block_c, 1),
        celsius(t.measuring.machine_c, 1),
        celsius(REFERENCE_C, 0),
        mm(length, 0),
        signed_mm(correction, 4),
        before_mm(u, 3)
    );
    let text = if within_measuring { say!("{}: smaller than what can be measured", what) } else { what };
    let round = rounding::plan;
    Some(Correction {
        block: t.measuring.block_c,
        machine: t.measuring.machine_c,
        length: round(length),
        correction: round(correction),
        u: round(u),
        within_measuring,
        text,
    })
}

/// The job with its readings at 20 °C: machine coordinates, bore centres, probe points, deck and axis points, the along
/// datum and diameters; depths, walls and heights are left, which are short. Borrowed where nothing is to be changed.
pub(super) fn at_reference(job: &Job) -> Cow<'_, Job> {
    let Some(t) = job.temperature else { return Cow::Borrowed(job) };
    let factor = t.measuring.to_reference(job.block.parent.material.expansion_per_k);
    let mut at_20 = job.clone();
    let flat = |at: &mut [f64; 2]| *at = at.map(|v| v * factor);
    let deep = |at: &mut [f64; 3]| *at = at.map(|v| v * factor);
    for set_up in &mut at_20.set_ups {
        if let ReadingFrame::Machine(machine) = &mut set_up.frame {
            machine.axis.iter_mut().chain(&mut machine.mains).for_each(|a| deep(&mut a.at_mm));
            machine.deck_mm.iter_mut().for_each(deep);
            machine.along_x_mm *= factor;
        }
        for bore in &mut set_up.bores {
            flat(&mut bore.centre_mm);
            bore.diameter_mm *= factor;
        }
        set_up.points.iter_mut().for_each(|p| flat(&mut p.at_mm));
    }
    Cow::Owned(at_20)
}

/// A block farther from the machine's temperature than this is told, K. Common practice, no source.
const TOLD_K: f64 = 3.0;

/// A block farther from the machine's temperature than this is held until it has come to the room, K. Common
/// practice, no source.
pub(super) const HELD_K: f64 = 20.0;

/// The coldest and the hottest that a shop is, degrees Celsius. Common practice, no source.
const SHOP_C: [f64; 2] = [5.0, 45.0];

/// A block may be cut this far from the temperature it was measured at, K; beyond, its readings do not hold. Common
/// practice, no source.
const BETWEEN_K: f64 = 17.0;

/// The hold of temperatures that no shop has: lengths would be converted for them all the same.
fn no_shop(t: &crate::job::Temperature) -> Option<Finding> {
    let all = [t.measuring.block_c, t.measuring.machine_c, t.cutting.block_c, t.cutting.machine_c];
    let odd = all.into_iter().find(|c| *c < SHOP_C[0] || *c > SHOP_C[1]);
    let between = (t.cutting.block_c - t.measuring.block_c).abs();
    let machine = (t.cutting.machine_c - t.measuring.machine_c).abs();
    let text = if let Some(odd) = odd {
        say!(
            "a temperature of {} is stated, and no shop measures or bores at it: every length would be told for it; state it \
             again, or let the block come to the room",
            celsius(odd, 1)
        )
    } else if between > BETWEEN_K {
        say!(
            "the block is {} away from how it was measured when it is cut, more than {}: let it come to the room and measure \
             again",
            kelvin(between, 1),
            kelvin(BETWEEN_K, 0)
        )
    } else if machine > BETWEEN_K {
        say!(
            "the machine is {} away from how it was when the block was measured, more than {}: its scales are not known so far off; \
             state both again, or measure again",
            kelvin(machine, 1),
            kelvin(BETWEEN_K, 0)
        )
    } else {
        return None;
    };
    Some(Finding {
        code: "block_temperature",
        verdict: Verdict::Hold,
        subject: Subject::whole("temperature"),
        text,
    })
}

/// Findings on a block warmer or colder than the machine, which changes while it is measured and cut.
pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let Some(t) = job.temperature else { return Vec::new() };
    let mut found = Vec::new();
    let mut judge = |when: &str, warmth: crate::job::Warmth| {
        let apart = warmth.block_c - warmth.machine_c;
        if apart.abs() <= TOLD_K {
            return;
        }
        let which = if apart > 0.0 { "warmer" } else { "colder" };
        let what = say!("the block is {} {} than the machine at {}", kelvin(apart.abs(), 1), which, when);
        let (verdict, text) = if apart.abs() > HELD_K {
            let text = say!(
                "{}, more than {}: it changes while it is read and cut, and no correction follows that; let it \
             come to the room and measure again",
                what,
                kelvin(HELD_K, 0)
            );
            (Verdict::Hold, text)
        } else {
            (
                Verdict::Go,
                say!(
                    "{}: lengths are corrected for it, but it drifts while you work; better let it come to the room",
                    what
                ),
            )
        };
        found.push(Finding {
            code: "block_temperature",
            verdict,
            subject: Subject::whole("temperature"),
            text,
        });
    };
    judge("measuring", t.measuring);
    if t.cutting_stated {
        judge("cutting", t.cutting);
    }
    found.extend(no_shop(&t));
    found
}
