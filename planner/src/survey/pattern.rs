//! The pattern of the bores as they came, in a machinist's words, and no finer than the readings can tell.

use std::collections::BTreeMap;

use serde::Serialize;

use super::Survey;
use super::significance::{MEASURABLE, NO_CHANCE};
use crate::job::Job;
use crate::job::words;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::plan::{AsBored, BankPattern};
use crate::say;
use borewright_geometry::sample::{MAD_TO_SIGMA, count, median};

/// Bores of a bank that differ by less than this are never called odd, mm. Common practice, no source.
const ODD_MM: f64 = 0.02;

/// A median of normal scatter is itself scattered by this many times a mean's.
const MEDIAN_TO_MEAN: f64 = 1.25;

/// The fits and what they say.
#[derive(Debug, Clone, Serialize)]
pub struct AsBoredStory {
    /// One motion of the whole block, by least squares over all circles.
    #[serde(flatten)]
    pub motion: AsBored,
    /// One motion of each bank's bores in the bank's plane, by least squares over its circles.
    pub banks: Vec<BankPattern>,
    /// Each bank's bores, one odd one kept from dragging the rest.
    pub robust: Vec<RobustBank>,
    /// What it comes to, a sentence each.
    pub text: Vec<Sentence>,
}

/// A bank's middle and spread by medians.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct RobustBank {
    /// The bank.
    pub bank: String,
    /// Median displacement along and across, mm.
    pub shift: [f64; 2],
    /// Turn of the bank's row of bores in its own plane, degrees; 0 where none can be told.
    pub turn: f64,
    /// Standard uncertainty of one coordinate of `shift`, mm.
    pub u: f64,
    /// Each bore's own displacement.
    pub bores: Vec<OwnShift>,
}

/// One bore's displacement at mid-height of its readings.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct OwnShift {
    /// The cylinder.
    pub cylinder: u32,
    /// Measured less true, along and across, mm.
    pub shift: [f64; 2],
    /// What the bank's shift and turn leave of `shift`, along and across, mm.
    pub own: [f64; 2],
    /// How far `own` is, mm.
    pub apart: f64,
    /// Whether it stands apart from the rest.
    pub odd: bool,
}

/// The fits and their words.
pub(crate) fn story(job: &Job, survey: &Survey) -> AsBoredStory {
    let robust: Vec<RobustBank> =
        (0..job.block.banks.len()).filter_map(|bank| robust_bank(job, survey, bank)).collect();
    let mut text: Vec<Sentence> = robust.iter().map(|bank| sentence(job, bank)).collect();
    text.extend(roll_or_angle(job, survey, &robust));
    AsBoredStory { motion: survey.as_bored.clone(), banks: survey.banks.clone(), robust, text }
}

/// How a bank's bores stand as they came: the bank's shift by medians, mm, a turn only where it is larger than
/// scatter makes, and which bores are odd. `None` where none of its bores was measured.
fn robust_bank(job: &Job, survey: &Survey, bank: usize) -> Option<RobustBank> {
    let layout = job.bank(bank);
    let mut shifts: BTreeMap<u32, [f64; 2]> = BTreeMap::new();
    let mut circles = 0;
    for site in &layout.sites {
        let Some(found) = survey.cylinders.get(&site.cylinder) else { continue };
        // The bores as they came: the liner where it was read.
        let bore = found.by_surface.get(&crate::job::Surface::Liner).unwrap_or(&found.now);
        let middle = bore.axis.at((bore.depths_mm[0] + bore.depths_mm[1]) / 2.0);
        shifts.insert(site.cylinder, [middle[0] - site.x_mm, middle[1] - layout.axis_offset_mm]);
        circles += bore.diameters_mm.len();
    }
    if shifts.is_empty() {
        return None;
    }
    let x = |cylinder: &u32| layout.sites.iter().find(|s| s.cylinder == *cylinder).map_or(0.0, |s| s.x_mm);
    let row: Vec<(f64, f64)> = shifts.iter().map(|(n, s)| (x(n), s[1])).collect();
    let per_bore = count(circles) / count(shifts.len());
    let probe = job.instruments.centre_mm / per_bore.sqrt();
    let centre = median(row.iter().map(|p| p.0).collect());
    let along = median(shifts.values().map(|s| s[0]).collect());
    // Middle across and scatter of one coordinate, at least what the probe gives, with a turn followed.
    let with = |turn: f64| {
        let across = median(row.iter().map(|(x, y)| y - turn * (x - centre)).collect());
        let left = |n: &u32, s: &[f64; 2]| [s[0] - along, s[1] - across - turn * (x(n) - centre)];
        let deviations = shifts.iter().flat_map(|(n, s)| left(n, s).map(f64::abs)).collect();
        (across, (MAD_TO_SIGMA * median(deviations)).max(probe))
    };
    // A turn is followed only where the scatter it leaves cannot be what made it.
    let lever = row.iter().map(|(x, _)| (x - centre).powi(2)).sum::<f64>().sqrt();
    let turn = Some(turn(&row))
        .filter(|turn| lever > 0.0 && turn.abs() * lever >= MEASURABLE * MEDIAN_TO_MEAN * with(*turn).1)
        .unwrap_or(0.0);
    let (across, scatter) = with(turn);
    let middle = [along, across];
    // What the bank's common motion leaves of a bore.
    let own = |n: &u32, s: &[f64; 2]| [s[0] - along, s[1] - across - turn * (x(n) - centre)];
    // The datum carries the whole bank.
    let datum = job.instruments.axis_mm.max(job.instruments.along_mm);
    let u = datum.hypot(MEDIAN_TO_MEAN * scatter / count(shifts.len()).sqrt());
    let bores = shifts
        .iter()
        .map(|(cylinder, shift)| {
            let [dx, dy] = own(cylinder, shift);
            OwnShift {
                cylinder: *cylinder,
                shift: *shift,
                own: [dx, dy],
                apart: dx.hypot(dy),
                // Two bores cannot say which of them is odd.
                odd: shifts.len() > 2
                    && dx.hypot(dy) > (NO_CHANCE * std::f64::consts::SQRT_2 * scatter).max(ODD_MM),
            }
        })
        .collect();
    Some(RobustBank { bank: layout.name.clone(), shift: middle, turn: turn.atan().to_degrees(), u, bores })
}

/// Slope of y along a row of bores by the median of the slopes of all pairs (Theil and Sen, from memory), which
/// one odd bore in four does not move. Of three bores one odd one looks like a turn: only where the middle one
/// lies near the line of the others is it taken for one.
fn turn(row: &[(f64, f64)]) -> f64 {
    /// How far off the line the middle bore may lie, as a share of what the ends differ by.
    const NEAR_THE_LINE: f64 = 0.25;

    let pairs = || row.iter().enumerate().flat_map(|(i, a)| row[i + 1..].iter().map(move |b| (a, b)));
    let slopes: Vec<f64> =
        pairs().map(|(a, b)| (b.1 - a.1) / (b.0 - a.0)).filter(|s| s.is_finite()).collect();
    match row {
        [] | [_] | [_, _] => 0.0,
        [first, middle, last] => {
            let share = (middle.0 - first.0) / (last.0 - first.0);
            let off = middle.1 - (first.1 + share * (last.1 - first.1));
            if off.abs() <= NEAR_THE_LINE * (last.1 - first.1).abs() { median(slopes) } else { 0.0 }
        }
        _ => median(slopes),
    }
}

/// How a bank stands as it came, in words: true or off together, turned or not, and which bores are apart from
/// that.
fn sentence(job: &Job, bank: &RobustBank) -> Sentence {
    let index = job.block.banks.iter().position(|b| b.name == bank.bank).unwrap_or(0);
    let far = bank.shift[0].hypot(bank.shift[1]);
    let count = bank.bores.len();
    let mut text = if far < MEASURABLE * bank.u {
        say!(
            "bank {}: {} bores stand true within what can be measured ({} of u {})",
            bank.bank,
            count,
            before_mm(far, 3),
            before_mm(bank.u, 3)
        )
    } else {
        say!(
            "bank {}: {} bores stand {} together, half way down (u {})",
            bank.bank,
            count,
            words::offset(job, index, bank.shift),
            before_mm(bank.u, 3)
        )
    };
    let turned: f64 = bank.turn.to_radians().tan() * reach(job, index);
    if turned.abs() >= MEASURABLE * bank.u {
        text.push(say!(
            ", turned by {:+.3} degrees in their own plane ({} from first to last)",
            bank.turn,
            mm(turned.abs(), 3)
        ));
    }
    for odd in bank.bores.iter().filter(|b| b.odd) {
        let own = [0, 1].map(|k| odd.shift[k] - bank.shift[k]);
        text.push(say!("; bore {} stands {} apart from that", odd.cylinder, words::offset(job, index, own)));
    }
    text
}

/// The distance from the first to the last bore of a bank, mm.
fn reach(job: &Job, bank: usize) -> f64 {
    match job.bank(bank).sites.as_slice() {
        [first, .., last] => last.x_mm - first.x_mm,
        _ => 0.0,
    }
}

/// Common and opposite parts of two banks: roll moves both alike, an opened angle moves them apart.
fn roll_or_angle(job: &Job, survey: &Survey, robust: &[RobustBank]) -> Vec<Sentence> {
    let [one, other] = robust else {
        return vec!["one bank: roll and a shift across cannot be told apart without a roll datum".into()];
    };
    let height = |bank: &RobustBank| {
        job.block.banks.iter().find(|b| b.name == bank.bank).map_or(0.0, |b| b.deck_height_mm)
    };
    let angle =
        |bank: &RobustBank| job.block.banks.iter().find(|b| b.name == bank.bank).map_or(0.0, |b| b.angle_deg);
    // The bank that leans to the right is "right" here, whatever it is called.
    let (left, right) = if angle(one) < angle(other) { (one, other) } else { (other, one) };
    let (l, r) = (left.shift[1], right.shift[1]);
    let u = left.u.hypot(right.u) / 2.0;
    let (common, difference) = ((l + r) / 2.0, (r - l) / 2.0);
    let mut text = Vec::new();
    let alone = |near: f64, far: f64| near.abs() < MEASURABLE * u && far.abs() >= 2.0 * MEASURABLE * u;
    if alone(l, r) || alone(r, l) {
        let (which, by) = if r.abs() > l.abs() { (right, r) } else { (left, l) };
        let turn = (by / height(which)).atan().to_degrees();
        text.push(say!(
            "bank {} alone stands {} off across ({:.3} degrees about the journal axis at the deck); not \
             explained as roll plus angle",
            which.bank,
            before_mm(by.abs(), 3),
            turn.abs()
        ));
        return text;
    }
    let middle = (height(left) + height(right)) / 2.0;
    if common.abs() >= MEASURABLE * u {
        text.push(say!(
            "both banks stand {} the same way round: a roll of {:+.4} degrees, or a shift of the whole \
             pattern{}",
            before_mm(common.abs(), 3),
            -(common / middle).atan().to_degrees(),
            if survey.as_bored.undetermined.contains(&"roll") {
                " (one depth only cannot tell which)"
            } else {
                ""
            }
        ));
    }
    if difference.abs() >= MEASURABLE * u {
        text.push(say!(
            "the banks stand {} {}: an included angle {:.4} degrees {}, or the index span of the set-ups; a \
             span reading settles which",
            before_mm((2.0 * difference).abs(), 3),
            if difference > 0.0 { "apart" } else { "towards each other" },
            (2.0 * difference.abs() / middle).atan().to_degrees(),
            if difference > 0.0 { "open" } else { "closed" }
        ));
    }
    text
}
