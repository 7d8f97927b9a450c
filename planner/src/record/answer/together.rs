//! The rules that readings of one check keep together, though each is inside its window: told before anybody measures.

use super::against;
use super::bore::{TAPER_MM, TOP_MM};
use super::ledge::{NEIGHBOURS_MM, spread_mm};
use super::round::ROUND_MM;
use super::touch::{TURNED_MM, zero_off_mm};
use crate::job::Job;
use crate::plan::check::{Check, Of, What};
use crate::plan::sentence::{Sentence, mm};
use crate::record::judge::NOTHING;
use crate::say;

/// What else holds though every figure is in its window; `None` where each stands by itself.
///
/// Source: the bounds by which the record answers ([`super::answer`]); common practice, no source.
#[must_use]
pub fn together(job: &Job, check: &Check) -> Option<Sentence> {
    let several = check.cylinders.iter().filter(|at| at.cylinder.is_some()).nth(1).is_some();
    let reads = |of: Of| check.cylinders.iter().flat_map(|at| &at.readings).any(|r| r.of == of);
    match check.what {
        What::Touch if several => Some(say!(
            "Not all off the same way by over {} in the mean, no two by over {} apart",
            mm(zero_off_mm(Some(job)), 3),
            mm(TURNED_MM, 3)
        )),
        What::Ledge => {
            Some(say!("Hold too where the points of one differ by over {}", mm(spread_mm(Some(job)), 3)))
        }
        What::Protrusion if reads(Of::Height) => {
            let seated = match seated_mm(job) {
                Some(by) => {
                    say!(", or one stands over {} otherwise than its thickness on its ledge", mm(by, 3))
                }
                None => Sentence::new(),
            };
            Some(say!(
                "Hold too where the points of one differ by over {}, neighbours by over {}{}",
                mm(spread_mm(Some(job)), 3),
                mm(NEIGHBOURS_MM, 3),
                seated
            ))
        }
        // A window as narrow as the rule says it already.
        What::Size if is_at_depths(check) && widest_mm(check) > ROUND_MM + NOTHING => Some(say!(
            "Hold too where two ways at one depth differ by over {}, or top and bottom by over {}",
            mm(ROUND_MM, 3),
            mm(TAPER_MM, 3)
        )),
        What::Bore => Some(say!(
            "Hold too where two ways at one depth differ by over {}, two depths by over {}, or the top is larger than the bottom by \
             over {}",
            mm(ROUND_MM, 3),
            mm(TAPER_MM, 3),
            mm(TOP_MM, 3)
        )),
        _ => None,
    }
}

/// How far a flange may stand from what thickness and ledge give, mm; `None` where no flange is held to it, or candidates differ.
fn seated_mm(job: &Job) -> Option<f64> {
    let mut by = job.sleeves.iter().filter_map(|s| s.flange()).map(|flange| {
        against::seated_mm(job, if job.measured.is_empty() { flange.tolerance_mm } else { 0.0 })
    });
    let first = by.next()?;
    let flush = job.engine.deck.after_fit && job.engine.deck.cut_mm > 0.0;
    (!flush && by.all(|other| (other - first).abs() < NOTHING)).then_some(first)
}

/// Whether a bore's diameters are taken at more depths than one.
fn is_at_depths(check: &Check) -> bool {
    check.cylinders.iter().any(|at| {
        let mut depths = at.readings.iter().filter(|r| r.of == Of::Diameter).filter_map(|r| r.depth);
        let first = depths.next();
        depths.any(|depth| Some(depth) != first)
    })
}

/// The widest window of its diameters, mm.
fn widest_mm(check: &Check) -> f64 {
    let sizes = check.cylinders.iter().flat_map(|at| &at.readings).filter(|r| r.of == Of::Diameter);
    sizes.filter_map(|r| Some(r.most? - r.least?)).fold(0.0, f64::max)
}
