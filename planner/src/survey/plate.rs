//! The torque plate's work on the bores: shape with the plate on less shape with it off.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Survey;
use super::form::{Lobes, lobes};
use crate::job::Job;
use crate::plan::sentence::{Sentence, before_mm, mm, signed_before_mm};
use crate::plan::{Finding, Subject, Verdict};
use crate::say;
use borewright_geometry::clock::clock_deg;
use borewright_geometry::clock::clocks_apart_deg;
use borewright_geometry::sample::count;

/// Up to this a block counts as rigid: mm peak-to-valley with the plate on, on diameter as it comes off. Common practice,
/// no source.
pub const RIGID_MM: f64 = 0.025;
/// Beyond this the lead looks at fasteners, plate and threads first, mm. Common practice, no source.
pub const ORDINARY_MM: f64 = 0.050;
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
    /// Below the deck, mm.
    pub depth: f64,
    /// Change of the mean radius, mm.
    pub size: f64,
    /// Peak-to-valley of the change of form, mm: size and place taken out.
    pub distortion: f64,
    /// Where the bore is drawn in most, degrees.
    pub inward_at: f64,
    /// Lobes of the change.
    pub harmonics: Vec<Lobes>,
    /// Clock of the stud it follows, degrees, where one stands there.
    pub follows: Option<f64>,
    /// Each stud round the bore, and what the change of form draws in there.
    pub studs: Vec<StudPull>,
    /// How each order of lobes stands to the studs.
    pub phases: Vec<LobePhase>,
    /// What the plate does to the bore, in words.
    pub text: Sentence,
}

/// What the change of form does where a stud stands.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct StudPull {
    /// Its clock round the bore, degrees.
    pub clock: f64,
    /// Its place along the bank, mm.
    pub x: f64,
    /// Its place across the bank, mm.
    pub y: f64,
    /// How far the bore is drawn in there, mm; negative where it stands out.
    pub inward: f64,
}

/// One order of lobes against the same order of the stud pattern.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct LobePhase {
    /// How many lobes.
    pub order: u8,
    /// Share of the studs that stand where a pattern of this order has them, 0 to 1.
    pub pattern: f64,
    /// From a stud of that pattern to the nearest place drawn in, degrees; half a pitch is just between two studs.
    pub off: f64,
    /// `at` the studs, `between` them, `neither`, or `untold` where the studs make no such pattern.
    pub stands: &'static str,
}

/// The torque plate's shapes, where `shape` was read with the plate off and on.
pub(crate) fn torque_plate(job: &Job, survey: &Survey) -> Option<TorquePlate> {
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
    on.iter()
        .filter_map(|(clock, with)| {
            let without = off.iter().find(|(at, _)| clocks_apart_deg(*at, *clock) < SAME_CLOCK_DEG)?;
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
    let mut text = say!("{} out of round by the plate ({})", mm(distortion, 3), kind);
    if let Some(lobe) = strongest {
        let word = if lobe.order == 2 { "oval".into() } else { say!("{} lobes", lobe.order) };
        text.push(say!(", {} of {}", word, before_mm(lobe.amplitude, 3)));
    }
    text.push(say!(", drawn in most at clock {:.0}", lowest.0));
    if let Some(clock) = follows {
        text.push(say!(", at the stud at clock {:.0}", clock));
    }
    let round = pulls(job, survey, cylinder);
    let studs: Vec<StudPull> =
        round.iter().map(|s| StudPull { inward: -at_clock(&harmonics, s.clock), ..*s }).collect();
    let clocks: Vec<f64> = studs.iter().map(|s| s.clock).collect();
    let phases: Vec<LobePhase> = harmonics.iter().map(|h| phase(h, &clocks)).collect();
    if let Some(words) = strongest.and_then(|lobe| stud_words(lobe, &phases, &studs)) {
        text.push(words);
    }
    let size = change.iter().map(|c| c.1).sum::<f64>() / count(change.len());
    let inward_at = lowest.0;
    Some(PlateShape { cylinder, depth, size, distortion, inward_at, harmonics, follows, studs, phases, text })
}

/// The studs of the bank round a bore, by clock.
fn pulls(job: &Job, survey: &Survey, cylinder: u32) -> Vec<StudPull> {
    let (Some(found), Some((_, site))) = (survey.cylinders.get(&cylinder), job.site(cylinder)) else {
        return Vec::new();
    };
    let centre = found.now.axis.at_deck_mm;
    let sites = job.bank(found.bank).sites.iter();
    let spacing =
        sites.map(|s| (s.x_mm - site.x_mm).abs()).filter(|d| *d > 0.0).fold(f64::INFINITY, f64::min);
    let studs = job.block.studs.iter().filter(|s| s.bank == found.bank);
    let mut round: Vec<StudPull> = studs
        .map(|s| (s.centre_mm, [s.centre_mm[0] - centre[0], s.centre_mm[1] - centre[1]]))
        // Only the studs round this bore: a neighbour's are farther off than its own axis.
        .filter(|(_, d)| d[0].hypot(d[1]) < spacing)
        .map(|([x, y], d)| StudPull { clock: clock_deg(d), x, y, inward: 0.0 })
        .collect();
    round.sort_by(|a, b| a.clock.total_cmp(&b.clock));
    round
}

/// The clocks of the bank's studs round a bore, degrees.
pub(super) fn studs_round(job: &Job, survey: &Survey, cylinder: u32) -> Vec<f64> {
    pulls(job, survey, cylinder).into_iter().map(|s| s.clock).collect()
}

/// The clock of the stud that stands nearest to a clock round a bore, if near enough.
fn stud_at(job: &Job, survey: &Survey, cylinder: u32, clock: f64) -> Option<f64> {
    let studs = pulls(job, survey, cylinder);
    let near =
        studs.iter().map(|s| (clocks_apart_deg(s.clock, clock), s.clock)).filter(|(off, _)| *off <= NEAR_DEG);
    near.min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, at)| at)
}

/// The change of radius that the lobes make at a clock, mm.
fn at_clock(harmonics: &[Lobes], clock: f64) -> f64 {
    harmonics.iter().map(|h| h.amplitude * (f64::from(h.order) * (clock - h.clock)).to_radians().cos()).sum()
}

/// A stud pattern of this share or more of an order is one: three studs of four, or four within 15 degrees.
const PATTERN: f64 = 0.5;

/// Lobes within this share of their pitch stand at a stud, beyond half of what is left between two: 45 and 135 of
/// 180 degrees of phase.
const AT_PHASE_DEG: f64 = 45.0;

/// The phase of the drawn-in places of one order against the studs' own component of that order.
fn phase(lobes: &Lobes, studs: &[f64]) -> LobePhase {
    let k = f64::from(lobes.order);
    let (sin, cos) = studs.iter().fold((0.0, 0.0), |(s, c), clock| {
        let angle = (k * clock).to_radians();
        (s + angle.sin(), c + angle.cos())
    });
    let pattern = if studs.is_empty() { 0.0 } else { sin.hypot(cos) / count(studs.len()) };
    // Inward half a pitch from a high.
    let inward = k * lobes.clock + 180.0;
    let phase = clocks_apart_deg(inward, sin.atan2(cos).to_degrees());
    let stands = match () {
        () if pattern < PATTERN || studs.len() < 2 => "untold",
        () if phase <= AT_PHASE_DEG => "at",
        () if phase >= 180.0 - AT_PHASE_DEG => "between",
        () => "neither",
    };
    LobePhase { order: lobes.order, pattern, off: phase / k, stands }
}

/// The studs that the distortion follows by its strongest order of lobes, in words.
fn stud_words(lobe: &Lobes, phases: &[LobePhase], studs: &[StudPull]) -> Option<Sentence> {
    let phase = phases.iter().find(|p| p.order == lobe.order)?;
    let listed = |drawn: bool| {
        let own = studs.iter().filter(|s| (s.inward > 0.0) == drawn);
        Sentence::join(own.map(|s| say!("{:.0} ({})", s.clock, signed_before_mm(-s.inward, 3))), ", ")
    };
    let words = match phase.stands {
        "at" => say!(
            "; it follows the studs: its lobes are drawn in at them within {:.0} degrees, at clocks {}",
            phase.off,
            listed(true)
        ),
        "between" => say!(
            "; it is drawn in between the studs and stands out at them, at clocks {}: the deck, not the \
             bolts' threads",
            listed(false)
        ),
        "neither" => {
            say!("; its lobes stand {:.0} degrees off the studs and follow none of them", phase.off)
        }
        _ if studs.is_empty() => return None,
        _ if listed(true).is_empty() => "; no stud stands where it is drawn in".into(),
        _ => say!(
            "; the studs round the bore make no pattern of {} lobes; drawn in are those at clocks {}",
            lobe.order,
            listed(true)
        ),
    };
    Some(words)
}

/// A plate changes the size of a bore by less than this, mm on radius: more is a gauge that was set anew between the two. Common
/// practice, no source.
const SIZE_MM: f64 = 0.025;

/// A distortion beyond the ordinary, and a size that no plate makes, are the lead's to decide.
pub(crate) fn findings(plate: &TorquePlate) -> Vec<Finding> {
    let told = plate.bores.iter().filter_map(|b| {
        let text = if b.size.abs() > SIZE_MM {
            say!(
                "at depth {} the bore is read {} {} on radius with the plate on: was the gauge set alike for both? {}",
                mm(b.depth, 1),
                before_mm(b.size.abs(), 3),
                if b.size > 0.0 { "larger" } else { "smaller" },
                b.text
            )
        } else if b.distortion > ORDINARY_MM {
            say!("at depth {} {}", mm(b.depth, 1), b.text)
        } else {
            return None;
        };
        let subject = Subject::cylinder(b.cylinder);
        Some(Finding { code: "torque_plate", verdict: Verdict::Hold, subject, text })
    });
    told.collect()
}
