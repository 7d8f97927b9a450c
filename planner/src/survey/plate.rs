//! What the torque plate does to the bores: shape with the plate on less shape with it off.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Survey;
use super::form::{Lobes, lobes};
use crate::job::Job;
use crate::plan::{Finding, Verdict};
use crate::survey::set_up::count;

/// Up to this a block counts as rigid, mm peak-to-valley. Common practice, no source.
const RIGID_MM: f64 = 0.025;
/// Beyond this the lead looks at fasteners, plate and threads first, mm. Common practice, no source.
const ORDINARY_MM: f64 = 0.050;
/// A stud farther round than this from where the bore is drawn in is not what draws it, degrees.
const NEAR_DEG: f64 = 25.0;
/// Readings at clocks closer than this are at one place, degrees.
const SAME_CLOCK_DEG: f64 = 0.05;

/// The plate's work on every bore that was read both ways.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct TorquePlate {
    /// By cylinder and depth.
    pub bores: Vec<PlateShape>,
}

/// One bore at one depth.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct PlateShape {
    /// The cylinder.
    pub cylinder: u32,
    /// Below the deck.
    pub depth: f64,
    /// Change of the mean radius, mm.
    pub size: f64,
    /// Peak-to-valley of the change of form: size and place taken out.
    pub distortion: f64,
    /// Where the bore is drawn in most, degrees.
    pub inward_at: f64,
    /// Lobes of the change.
    pub harmonics: Vec<Lobes>,
    /// Clock of the stud it follows, degrees, where one stands there.
    pub follows: Option<f64>,
    /// In words.
    pub text: String,
}

/// The torque plate's shapes, where `shape` was read with the plate off and on.
pub(super) fn torque_plate(job: &Job, survey: &Survey) -> Option<TorquePlate> {
    type Readings = (Vec<(f64, f64)>, Vec<(f64, f64)>);
    let mut read: BTreeMap<(u32, u64), Readings> = BTreeMap::new();
    for reading in job.set_ups.iter().flat_map(|s| &s.shape) {
        // Depths are not negative, so their bits sort as they do.
        let of = read.entry((reading.cylinder, reading.depth_mm.abs().to_bits())).or_default();
        let to = if reading.plate_on { &mut of.1 } else { &mut of.0 };
        to.push((reading.clock_deg, reading.radius_mm));
    }
    let bores: Vec<PlateShape> = read
        .iter()
        .filter_map(|((cylinder, bits), (off, on))| {
            let change = change(off, on);
            shape(job, survey, *cylinder, f64::from_bits(*bits), &change)
        })
        .collect();
    (!bores.is_empty()).then_some(TorquePlate { bores })
}

/// On less off, at the clocks that both were read at.
fn change(off: &[(f64, f64)], on: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let apart = |a: f64, b: f64| {
        let turn = (a - b).rem_euclid(360.0);
        turn.min(360.0 - turn)
    };
    on.iter()
        .filter_map(|(clock, with)| {
            let without = off.iter().find(|(at, _)| apart(*at, *clock) < SAME_CLOCK_DEG)?;
            Some((*clock, with - without.1))
        })
        .collect()
}

/// The form of a change: mean (size) and first order (place) taken out by least squares over the clocks.
fn shape(job: &Job, survey: &Survey, cylinder: u32, depth: f64, change: &[(f64, f64)]) -> Option<PlateShape> {
    if change.len() < 4 {
        return None;
    }
    let fit = borewright_geometry::fit_harmonics(change).ok()?;
    let first = fit.order(1);
    let left: Vec<(f64, f64)> = change
        .iter()
        .map(|(clock, by)| {
            let place = first.map_or(0.0, |h| h.amplitude_mm * (clock - h.phase_deg).to_radians().cos());
            (*clock, by - fit.mean_mm - place)
        })
        .collect();
    let lowest = left.iter().min_by(|a, b| a.1.total_cmp(&b.1))?;
    let highest = left.iter().map(|l| l.1).fold(f64::NEG_INFINITY, f64::max);
    let distortion = highest - lowest.1;
    let harmonics = lobes(change);
    let follows = stud_at(job, survey, cylinder, lowest.0);
    let strongest = harmonics.iter().max_by(|a, b| a.amplitude.total_cmp(&b.amplitude));
    let kind = if distortion <= RIGID_MM {
        "rigid"
    } else if distortion <= ORDINARY_MM {
        "ordinary"
    } else {
        "look at fasteners, plate and threads"
    };
    let mut text = format!("{distortion:.3} mm out of round by the plate ({kind})");
    if let Some(lobe) = strongest {
        let word = if lobe.order == 2 { "oval".into() } else { format!("{} lobes", lobe.order) };
        text.push_str(&format!(", {word} of {:.3}", lobe.amplitude));
    }
    text.push_str(&format!(", drawn in most at clock {:.0}", lowest.0));
    if let Some(clock) = follows {
        text.push_str(&format!(", at the stud at clock {clock:.0}"));
    }
    let size = change.iter().map(|c| c.1).sum::<f64>() / count(change.len());
    Some(PlateShape { cylinder, depth, size, distortion, inward_at: lowest.0, harmonics, follows, text })
}

/// The clock of the stud of the bank that stands nearest to a clock round a bore, if near enough.
fn stud_at(job: &Job, survey: &Survey, cylinder: u32, clock: f64) -> Option<f64> {
    let found = survey.cylinders.get(&cylinder)?;
    let centre = found.now.axis.at_deck_mm;
    let (_, site) = job.site(cylinder)?;
    let sites = job.bank(found.bank).sites.iter();
    let spacing =
        sites.map(|s| (s.x_mm - site.x_mm).abs()).filter(|d| *d > 0.0).fold(f64::INFINITY, f64::min);
    let studs = job.block.studs.iter().filter(|s| s.bank == found.bank);
    studs
        .map(|s| [s.centre_mm[0] - centre[0], s.centre_mm[1] - centre[1]])
        // Only the studs round this bore: a neighbour's are farther off than its own axis.
        .filter(|d| d[0].hypot(d[1]) < spacing)
        .map(|d| d[1].atan2(d[0]).to_degrees().rem_euclid(360.0))
        .map(|at| {
            let turn = (at - clock).rem_euclid(360.0);
            (turn.min(360.0 - turn), at)
        })
        .filter(|(off, _)| *off <= NEAR_DEG)
        .min_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, at)| at)
}

/// A distortion beyond the ordinary is the lead's to decide.
pub(super) fn findings(plate: &TorquePlate) -> Vec<Finding> {
    let beyond = plate.bores.iter().filter(|b| b.distortion > ORDINARY_MM);
    beyond
        .map(|b| Finding {
            code: "torque_plate",
            verdict: Verdict::Hold,
            subject: format!("cylinder {}", b.cylinder),
            text: format!("at depth {:.1} {}", b.depth, b.text),
        })
        .collect()
}
