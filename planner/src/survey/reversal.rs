//! Block or set-up: the same bores read in two set-ups, the block turned end for end between them.
//!
//! Both banks' means are compared in the machine's own Y. Turned end for end each bank stands at the other's
//! station, and what belongs to the block changes its sign there while what belongs to the set-up stays:
//! m_R = b_R + f1, m_R' = -b_R + f2, m_L = b_L + f2, m_L' = -b_L + f1 (common practice of reversal).

use serde::Serialize;

use super::Survey;
use crate::job::{Front, Job};
use crate::survey::set_up::count;

/// The two sums of a reversal must agree within this, mm. Common practice, no source.
const CLOSES_MM: f64 = 0.02;

/// A figure below twice its own uncertainty is inside what can be measured.
const MEASURABLE: f64 = 2.0;

/// Thicknesses of ground shims a shop has, mm. Common practice, no source.
const SHIMS_MM: f64 = 0.01;

/// A rail this far apart is shimmed, mm, where the job says nothing else. Common practice, no source.
const RAIL_MM: f64 = 200.0;

/// What two readings of the same bores say.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reversal {
    /// Each bank's means in both ways round.
    pub banks: Vec<Reversed>,
    /// The difference of the two sums, which a right pair of readings closes to nothing.
    pub closure: f64,
    /// Whether it closes.
    pub closes: bool,
    /// The set-up's own part, across at the deck.
    pub set_up: f64,
    /// Standard uncertainty of either part.
    pub u: f64,
    /// Turn of the set-up about the journal axis, degrees.
    pub roll: f64,
    /// Shim that takes it out, rounded to what a shop has.
    pub shim: f64,
    /// The rail width the shim is for.
    pub rail: f64,
    /// What it comes to, a sentence each.
    pub text: Vec<String>,
}

/// One bank's means across the machine, front at the left and front at the right.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Reversed {
    /// The bank.
    pub bank: String,
    /// Mean off true along the machine's Y, front at the operator's left.
    pub front_left: f64,
    /// The same turned end for end.
    pub front_right: f64,
    /// What belongs to the block, along the bank's Y, the index span taken as good.
    pub block: f64,
}

/// The reversal, where every bank was read both ways round.
pub(super) fn reversal(job: &Job, survey: &Survey) -> Option<Reversal> {
    let mut banks = Vec::new();
    let mut least = usize::MAX;
    for (bank, layout) in job.block.banks.iter().enumerate() {
        let mean = |front: Front| {
            let of_way =
                survey.circles.iter().filter(|c| c.bank == bank && job.set_ups[c.set_up].front == front);
            let off: Vec<f64> = of_way.map(|c| c.centre_mm[1] - layout.axis_offset_mm).collect();
            (!off.is_empty()).then(|| (off.iter().sum::<f64>() / count(off.len()), off.len()))
        };
        let ((left, n), (right, m)) = (mean(Front::Left)?, mean(Front::Right)?);
        least = least.min(n).min(m);
        // The bank's Y runs along the machine's with the front at the left, against it at the right.
        banks.push(Reversed {
            bank: layout.name.clone(),
            front_left: left,
            front_right: -right,
            block: (left + right) / 2.0,
        });
    }
    let sums: Vec<f64> = banks.iter().map(|b| b.front_left + b.front_right).collect();
    let closure = match sums.as_slice() {
        [one, other] => one - other,
        _ => 0.0,
    };
    let i = &job.instruments;
    // Each mean rests on its own pick-up of the axis; two of them are halved.
    let u = i.axis_mm.hypot(i.centre_mm / count(least).sqrt()) / std::f64::consts::SQRT_2;
    let set_up = sums.iter().sum::<f64>() / (2.0 * count(sums.len()));
    let height = mean_height_mm(job);
    let roll = -(set_up / height).atan().to_degrees();
    let shim = (set_up.abs() / height * RAIL_MM / SHIMS_MM).round() * SHIMS_MM;
    let closes = closure.abs() <= CLOSES_MM;
    let mut reversal =
        Reversal { banks, closure, closes, set_up, u, roll, shim, rail: RAIL_MM, text: Vec::new() };
    reversal.text = sentences(job, &reversal);
    Some(reversal)
}

fn sentences(job: &Job, r: &Reversal) -> Vec<String> {
    let mut text = Vec::new();
    if !r.closes {
        text.push(format!(
            "the two sums differ by {:.3}, more than {CLOSES_MM:.3}: a reading or a seat is wrong; read again before believing either part",
            r.closure.abs()
        ));
        return text;
    }
    if r.set_up.abs() >= MEASURABLE * r.u {
        let side = if r.set_up > 0.0 { "+Y" } else { "-Y" };
        text.push(format!(
            "the set-up is off {:+.3} across at the deck ({:.4} degrees about the journal axis, u {:.3}): not the block; \
             shim {:.2} under the rail on the {side} side, {:.0} apart; do not cut this as a correction; {:.3} is left after the shim",
            r.set_up,
            r.roll.abs(),
            r.u,
            r.shim,
            r.rail,
            left_after(job, r)
        ));
    } else {
        text.push(format!("the set-up is true within what can be measured ({:+.3}, u {:.3})", r.set_up, r.u));
    }
    for bank in &r.banks {
        let measurable = bank.block.abs() >= MEASURABLE * r.u;
        text.push(format!(
            "bank {}: the block's own part is {:+.3} across (u {:.3}){}",
            bank.bank,
            bank.block,
            r.u,
            if measurable { "" } else { ", inside what can be measured: leave it" }
        ));
    }
    if let [one, other] = r.banks.as_slice() {
        let opposite = (one.block - other.block).abs() / 2.0;
        let warn = if opposite >= MEASURABLE * r.u { "the banks' parts differ: " } else { "" };
        text.push(format!(
            "{warn}turned end for end cannot tell the block's included angle from the index span of the fixture: read the span \
             (sine bar, or close the circle) before correcting an angle"
        ));
    }
    text
}

/// Mean deck height of the banks, mm.
fn mean_height_mm(job: &Job) -> f64 {
    job.block.banks.iter().map(|b| b.deck_height_mm).sum::<f64>() / count(job.block.banks.len())
}

/// What a rounded shim leaves across at the deck, mm.
fn left_after(job: &Job, r: &Reversal) -> f64 {
    let height = mean_height_mm(job);
    (r.set_up.abs() - r.shim / r.rail * height).abs()
}
