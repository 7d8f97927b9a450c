//! A touch check as a whole: bores that are each within their window, and together say that the zero or the block is off.

use borewright_geometry::sample::{count, ends};

use super::bench::Bench;
use super::gauge::fine_mm;
use super::said::{Answer, Say, afresh};
use crate::job::Job;
use crate::job::limits::{POSITION, POSITION_ACROSS, POSITION_ALONG};
use crate::plan::check::Of;
use crate::record::Heard;
use crate::say;

/// The most that a zero may be off to go on cutting, mm. Common practice, no source.
const ZERO_OFF_MM: f64 = 0.03;

/// Bores that are off by more than this from one another no zero puts right, mm. Common practice, no source.
pub(super) const TURNED_MM: f64 = 2.0 * ZERO_OFF_MM;

/// The most that the zero of a job may be off, mm: no more than half of the zone that its bores are to stand in.
pub(super) fn zero_off_mm(job: Option<&Job>) -> f64 {
    let zones = [POSITION, POSITION_ALONG, POSITION_ACROSS];
    let asked = job.iter().flat_map(|job| zones.iter().filter_map(|zone| job.limits.get(zone)));
    asked.map(|limit| limit.least_mm / 2.0).fold(ZERO_OFF_MM, f64::min)
}

/// The answer to bores that stand off together, each within its window: the next bore would be cut with it.
pub(super) fn alike(bench: &Bench<'_>, of: Of) -> Answer {
    if !matches!(of, Of::X | Of::Y) {
        return Answer::say(Say::GoOn, "");
    }
    let off = off(bench, of);
    let apart = ends(&off).map_or(0.0, |[low, high]| high - low);
    if apart > TURNED_MM {
        let (along, what) =
            if of == Of::X { ("X", "longer or warmer") } else { ("Y", "turned on the table") };
        return Answer::say(
            Say::Hold,
            say!(
                "bores of this check stand {} apart along {along}, each within its window: the block is {what}. Sweep the journal axis \
                 again, then {}, and read this check again whole",
                fine_mm(apart),
                afresh(bench.check)
            ),
        );
    }
    let [x, y] = [Of::X, Of::Y].map(|of| self::off(bench, of));
    let most = zero_off_mm(bench.job);
    let least = if is_over(bench) { 1 } else { 2 };
    let by = mean_of(&x, least).hypot(mean_of(&y, least));
    if by <= most {
        return Answer::say(Say::GoOn, "");
    }
    Answer::say(
        Say::Hold,
        say!(
            "the bores of this check stand off the same way, by {} in the mean, {} are allowed: it is the zero that is off. Sweep the \
             journal axis again, set the zero anew, then {}, and read this check again whole",
            fine_mm(by),
            fine_mm(most),
            afresh(bench.check)
        ),
    )
}

/// How far each bore of the check stands off along an axis, mm, where it was read.
fn off(bench: &Bench<'_>, of: Of) -> Vec<f64> {
    let off = bench.check.cylinders.iter().filter_map(|at| {
        let bench = bench.of(bench.check, at.cylinder);
        let (asked, value) = bench.all(of).into_iter().next()?;
        Some(value - asked.expected?)
    });
    off.collect()
}

/// The mean of so many figures or more; one alone may be the bore's own, while the others are still to be read.
fn mean_of(off: &[f64], least: usize) -> f64 {
    if off.len() < least || off.is_empty() { 0.0 } else { off.iter().sum::<f64>() / count(off.len()) }
}

/// Whether the work has gone on from the check: what was read of it by then is judged by itself.
fn is_over(bench: &Bench<'_>) -> bool {
    let later =
        bench.paper.checks.iter().filter(|c| c.bank == bench.check.bank && c.check > bench.check.check);
    later
        .flat_map(|c| c.cylinders.iter().map(move |at| (c.check, at.cylinder)))
        .any(|(check, cylinder)| bench.standing.of_check(check, cylinder).any(|r| r.heard != Heard::None))
}
