//! A journal axis read twice in one set-up, off a mandrel and round the housings, that contradicts itself.

use crate::survey::suspect::Code;
use borewright_geometry::sample::count;
use borewright_geometry::{fit_circle, fit_line};

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::{AxisReading, ReadingFrame, SetUp};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::significance::NO_CHANCE;

/// A mandrel lies in its housings within this, mm: running clearance and sag. Common practice, no source.
const LIES_MM: f64 = 0.03;

/// A main is swept and probed within its own width, mm. Common practice, no source.
const WIDTH_MM: f64 = 20.0;

/// Asks about each set-up in which a housing's centre stands off the line through the points of the axis, or a main was read at
/// two places along.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().filter_map(|set_up| judge(asked, set_up)).collect()
}

fn judge(asked: &Asked<'_>, set_up: &SetUp) -> Option<Suspicion> {
    let ReadingFrame::Machine(readings) = &set_up.frame else { return None };
    let points: Vec<[f64; 3]> = readings.axis.iter().map(|p| p.at_mm).collect();
    let line = fit_line(&points).ok()?;
    let off = readings.mains.chunk_by(|a, b| a.main == b.main).filter_map(|group| {
        let across: Vec<[f64; 2]> = group.iter().map(|p| [p.at_mm[1], p.at_mm[2]]).collect();
        let circle = fit_circle(&across).ok()?;
        let x = mean_x(group.iter());
        let reach = (x - line.point_mm[0]) / line.direction[0];
        let [dy, dz] = [1, 2].map(|k| circle.centre_mm[k - 1] - line.point_mm[k] - line.direction[k] * reach);
        let own: Vec<&AxisReading> = readings.axis.iter().filter(|p| p.main == group[0].main).collect();
        let along = if own.is_empty() { 0.0 } else { x - mean_x(own.iter().copied()) };
        Some((group[0].main.to_string(), dy.hypot(dz), along.abs()))
    });
    let off: Vec<(String, f64, f64)> = off.collect();
    let allowed = LIES_MM.max(NO_CHANCE * std::f64::consts::SQRT_2 * asked.job.instruments.axis_mm);
    let across = off.iter().max_by(|a, b| a.1.total_cmp(&b.1))?;
    let along = off.iter().max_by(|a, b| a.2.total_cmp(&b.2))?;
    let (found, apart) = if across.1 > allowed {
        let found = say!(
            "the housing bore of main {} stands {} off the line through the points of `axis`, {} is a mandrel's lie",
            plain(&across.0, 20),
            mm(across.1, 3),
            before_mm(allowed, 3)
        );
        (found, across.1)
    } else if along.2 > WIDTH_MM {
        let found = say!(
            "main {} was read {} farther along in one of `axis` and `mains` than in the other",
            plain(&along.0, 20),
            mm(along.2, 1)
        );
        (found, along.2)
    } else {
        return None;
    };
    Some(Suspicion {
        code: Code::AxisTwice,
        verdict: Verdict::Hold,
        subject: Subject::set_up(&set_up.name),
        found,
        likely: "one of the two read in another clamping or from another zero, or a straight mandrel that bridges mains out of line"
            .into(),
        ask: "which of the two is the journal axis? Read it again, and leave the other out".into(),
        evidence: figures([("apart", apart), ("allowed", allowed)]),
        cylinders: asked.job.bank(set_up.bank).sites.iter().map(|s| s.cylinder).collect(),
    })
}

/// Mean x of some readings, mm.
fn mean_x<'r>(readings: impl Iterator<Item = &'r AxisReading>) -> f64 {
    let xs: Vec<f64> = readings.map(|p| p.at_mm[0]).collect();
    xs.iter().sum::<f64>() / count(xs.len())
}
