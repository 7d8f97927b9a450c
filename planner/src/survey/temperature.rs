//! The readings brought to 20 °C, and what that changes.

use std::borrow::Cow;

use serde::Serialize;

use crate::job::{Job, REFERENCE_C, ReadingFrame};
use crate::plan::rounding;
use crate::plan::{Finding, Verdict};

/// A correction below twice its own uncertainty is inside what can be measured.
const MEASURABLE: f64 = 2.0;

/// The correction to 20 °C over the farthest bore from the along datum.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Correction {
    /// Of the block when measured, °C.
    pub block: f64,
    /// Of the machine when measured, °C.
    pub machine: f64,
    /// From the along datum to the farthest bore.
    pub length: f64,
    /// What would be added to that length.
    pub correction: f64,
    /// Standard uncertainty of that length as read.
    pub u: f64,
    /// Whether it is smaller than what can be measured.
    pub within_measuring: bool,
    /// In a sentence.
    pub text: String,
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
    let what = format!(
        "block {:.1} and machine {:.1} °C: readings are brought to {REFERENCE_C:.0} °C, which changes {length:.0} mm from the datum by \
         {correction:+.4} mm (u {u:.3})",
        t.measuring.block_c, t.measuring.machine_c
    );
    let text = if within_measuring { format!("{what}: smaller than what can be measured") } else { what };
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

/// And farther than this is held: it must come to the room first, K. Common practice, no source.
const HELD_K: f64 = 20.0;

/// What a block warmer or colder than the machine costs: it changes while it is measured and cut.
pub(super) fn findings(job: &Job) -> Vec<Finding> {
    let Some(t) = job.temperature else { return Vec::new() };
    let mut found = Vec::new();
    let mut judge = |when: &str, warmth: crate::job::Warmth| {
        let apart = warmth.block_c - warmth.machine_c;
        if apart.abs() <= TOLD_K {
            return;
        }
        let which = if apart > 0.0 { "warmer" } else { "colder" };
        let what = format!("the block is {:.1} K {which} than the machine at {when}", apart.abs());
        let (verdict, text) = if apart.abs() > HELD_K {
            let text = format!(
                "{what}, more than {HELD_K:.0} K: it changes while it is read and cut, and no correction follows that; let it come to \
                 the room and measure again"
            );
            (Verdict::Hold, text)
        } else {
            (
                Verdict::Go,
                format!(
                    "{what}: lengths are corrected for it, but it drifts while you work; better let it come to the room"
                ),
            )
        };
        found.push(Finding { code: "block_temperature", verdict, subject: "temperature".into(), text });
    };
    judge("measuring", t.measuring);
    if t.cutting_stated {
        judge("cutting", t.cutting);
    }
    found
}
