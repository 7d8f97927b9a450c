//! Walls of a finished sleeve: thinner than is allowed, and what no allowance makes whole.
//! Each is a hold. All bounds here are common practice without a source, set beyond where any part of an engine lies.

use super::{Missed, holds};
use crate::job::{Job, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::mm;
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::{SAME, thinnest};

/// The thinnest wall of a finished sleeve, whatever limit a shop sets itself, mm.
const WALL_MM: f64 = 0.6;
/// The thinnest wall of a sleeve in coolant, which nothing backs, mm.
const WET_WALL_MM: f64 = 2.5;

/// Walls that no allowance makes whole, in the order in which they are told.
pub(super) fn limits(job: &Job, sleeve: &Sleeve) -> Vec<SleeveLimit> {
    [wall(job, sleeve), wet_wall(job, sleeve)].into_iter().flatten().collect()
}

/// A wall that no allowance makes whole.
fn wall(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    // A shop's own larger limit is told where the limits are.
    let (name, wall) = thinnest(job, sleeve).filter(|(_, wall)| *wall < WALL_MM - SAME)?;
    (job.allowances.sleeve_wall_mm <= wall + SAME).then(|| {
        let text = say!(
            "{}: the finished sleeve's wall is {} at the least, under {}, whatever `allowances.sleeve_wall` says",
            plain(name, 40),
            mm(wall, 3),
            mm(WALL_MM, 1)
        );
        holds("sleeve_thin", name, Missed::length(wall, WALL_MM), text)
    })
}

/// A wall in coolant that nothing backs: it rings, and is eaten through.
fn wet_wall(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let walls = sleeve.body.iter().filter(|step| step.wet).map(|step| {
        let wall = (step.diameter_mm - step.tolerance_mm - job.finish.bore_mm) / 2.0;
        (step.name.as_str(), wall)
    });
    let (name, wall) =
        walls.min_by(|a, b| a.1.total_cmp(&b.1)).filter(|(_, wall)| *wall < WET_WALL_MM - SAME)?;
    let text = say!(
        "{}: the finished sleeve's wall is {} in the coolant, under {}: nothing backs it there",
        plain(name, 40),
        mm(wall, 3),
        mm(WET_WALL_MM, 1)
    );
    Some(holds("sleeve_thin", name, Missed::length(wall, WET_WALL_MM), text))
}

/// The finished sleeve's wall against what the job allows.
pub(super) fn allowed(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
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
