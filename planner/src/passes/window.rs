//! Windows: what a part of the pocket may be off its size, and what it must keep from the part above it.

use crate::job::{Job, Sleeve};
use crate::plan::sentence::{Sentence, mm};
use crate::say;

/// A length in coolant may be off its size by this, either side, mm: it locates nothing, but limits were judged for
/// that size and the sleeve must pass. Common practice, no source.
const WET_MM: f64 = 0.1;

/// A bar that goes down through a part above clears it by this, on diameter, mm. Common practice, no source.
const CLEARS_MM: f64 = 0.02;

/// Two parts of the pocket that differ by no more are of one size, mm on diameter: the last digit of a drawing.
const ALIKE_MM: f64 = 0.0005;

/// Either side of the size of a length in coolant, mm: never more than half of the clearance that the sleeve has there,
/// nor so much that its bar would cut the part above on its way.
pub(crate) fn wet_window(job: &Job, sleeve: &Sleeve, feature: &str) -> (f64, Sets) {
    let at = sleeve.body.iter().position(|s| s.name == feature);
    let half = at.and_then(|at| sleeve.body.get(at)).map_or(WET_MM, |step| -step.interference_mm / 2.0);
    let mut widest = if half < WET_MM { (half, Sets::Clearance) } else { (WET_MM, Sets::Usual) };
    if let Some(room) = at.and_then(|at| below_mm(job, sleeve, at)).filter(|room| *room < widest.0) {
        widest = (room, Sets::Above);
    }
    let shop = job.allowances.pocket_size_mm;
    if shop > widest.0 { (shop, Sets::Shop) } else { widest }
}

/// How much wider than planned a part may be before its bar cuts the part above, mm on diameter.
fn below_mm(job: &Job, sleeve: &Sleeve, at: usize) -> Option<f64> {
    let (own, above) = (sleeve.body.get(at)?, sleeve.body.get(at.checked_sub(1)?)?);
    let either = window_mm(job, sleeve, &above.name).unwrap_or(0.0);
    Some(above.pocket_mm() - either - own.pocket_mm() - CLEARS_MM)
}

/// Why the bar that cuts this part to size would scrape a register above it, which is to size by then: the two differ by
/// less than their windows. Two of one size are cut at one setting of the head.
pub(super) fn scrapes(job: &Job, sleeve: &Sleeve, feature: &str) -> Option<Sentence> {
    let at = sleeve.body.iter().position(|s| s.name == feature)?;
    let own = sleeve.body.get(at)?;
    let own_mm = window_mm(job, sleeve, feature).unwrap_or(job.allowances.pocket_size_mm + CLEARS_MM);
    sleeve.body.iter().take(at).find_map(|above| {
        let apart = above.pocket_mm() - own.pocket_mm();
        let least = own_mm + window_mm(job, sleeve, &above.name)?;
        (apart > ALIKE_MM && apart < least - 1e-9).then(|| {
            say!(
                "its {} are {} less than the {} above, which its bar goes through: at least {} less for the windows of \
                 both, or one size",
                mm(own.pocket_mm(), 3),
                mm(apart, 3),
                above.name.as_str(),
                mm(least, 3)
            )
        })
    })
}

/// Either side of a register's size, mm; `None` of a length in coolant, which has none.
pub(crate) fn window(job: &Job, sleeve: &Sleeve, feature: &str) -> Option<(f64, Sets)> {
    let step = sleeve.body.iter().find(|s| s.name == feature)?;
    let own = step.pocket_tolerance_mm.map(|own| (own, Sets::Step));
    (!step.wet).then(|| own.unwrap_or((job.allowances.pocket_size_mm, Sets::Shop)))
}

/// What a part of the pocket may be off its size, either way, mm; `None` of a wet step, which has no such window.
pub(crate) fn window_mm(job: &Job, sleeve: &Sleeve, feature: &str) -> Option<f64> {
    window(job, sleeve, feature).map(|(wide, _)| wide)
}

/// What sets the window of a size.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Sets {
    /// The step's own tolerance.
    Step,
    /// The shop's.
    Shop,
    /// The clearance of a length in coolant.
    Clearance,
    /// What is usual of one.
    Usual,
    /// The part above it, which its bar goes through.
    Above,
}
