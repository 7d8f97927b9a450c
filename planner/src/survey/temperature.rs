//! What bringing the readings to 20 °C would change; nothing is changed.

use serde::Serialize;

use crate::job::Job;
use crate::rounding;

/// Reference temperature of lengths, °C. Source: ISO 1.
const REFERENCE_C: f64 = 20.0;

/// Expansion of a machine's scale, 1/K: steel. Common practice, no source.
const SCALE_PER_K: f64 = 11.5e-6;

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
/// L20 = L (1 + a_scale (t_machine - 20) - a_block (t_block - 20)), about the datum (ISO 1). With a block of
/// aluminium (21.4e-6) at 36 °C and the machine at 20: -342 ppm, -0.123 mm over 360.
pub(super) fn correction(job: &Job) -> Option<Correction> {
    let t = job.temperature?;
    let block = &job.block.parent.material;
    let per_mm =
        SCALE_PER_K * (t.machine_c - REFERENCE_C) - block.expansion_per_k * (t.block_c - REFERENCE_C);
    let sites = job.block.banks.iter().flat_map(|b| &b.sites);
    let length = sites.map(|s| s.x_mm.abs()).fold(0.0, f64::max);
    let correction = length * per_mm;
    let u = job.instruments.along_mm.hypot(job.instruments.centre_mm);
    let within_measuring = correction.abs() < MEASURABLE * u;
    let what = format!(
        "block {:.1} and machine {:.1} degrees: brought to {REFERENCE_C:.0}, {length:.0} mm from the datum would change by {correction:+.4} mm (u {u:.3})",
        t.block_c, t.machine_c
    );
    let text = if within_measuring {
        format!("{what}: smaller than what can be measured")
    } else {
        format!("{what}; it is not applied: let block and machine come to one temperature and measure again")
    };
    let round = rounding::plan;
    Some(Correction {
        block: t.block_c,
        machine: t.machine_c,
        length: round(length),
        correction: round(correction),
        u: round(u),
        within_measuring,
        text,
    })
}
