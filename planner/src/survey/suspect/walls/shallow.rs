//! Walls that were read near one end of the bore alone: behind the rest of the pocket nobody knows what is left.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Sleeve;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use crate::survey::suspect::places::DOWN;

/// Walls of which the highest lies below this share of what is cut in metal say nothing of most of the pocket. Common practice, no source.
const LOW: f64 = 0.8;

/// A wall so little below the pocket is behind its lower end still, mm. Common practice, no source.
const JUST_BELOW_MM: f64 = 10.0;

/// Metal that is cut this far below the lowest wall was read by nobody, mm. Common practice, no source.
const BELOW_MM: f64 = 85.0;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let length = asked.job.block.parent.bore_length_mm;
    // Behind a length in coolant no wall is judged.
    let wet_to =
        |s: &Sleeve| s.body.iter().filter(|step| step.wet).map(|step| step.to_mm).fold(0.0, f64::max);
    let dry_from_mm = asked.job.sleeves.iter().map(wet_to).reduce(f64::min).unwrap_or(0.0);
    // Where the last register that is cut in metal ends, of the candidate that ends highest.
    let dry_to =
        |s: &Sleeve| s.body.iter().filter(|step| !step.wet).map(|step| step.to_mm).fold(0.0, f64::max);
    let dry_to_mm = asked.job.sleeves.iter().map(dry_to).reduce(f64::min).unwrap_or(0.0);
    let of = |cylinder: u32| {
        let walls = asked.job.set_ups.iter().flat_map(|s| &s.walls).filter(|w| w.cylinder == cylinder);
        let read: Vec<f64> = walls.filter(|w| w.wall_mm.is_some()).map(|w| w.depth_mm).collect();
        let deepest = read.iter().copied().max_by(f64::total_cmp)?;
        let highest = read.iter().copied().min_by(f64::total_cmp)?;
        if highest > dry_from_mm + LOW * (length - dry_from_mm) {
            return Some(Suspicion {
                code: Code::DepthsShallow,
                verdict: Verdict::Hold,
                subject: Subject::cylinder(cylinder),
                found: say!("its highest wall was read {} down in a bore of {}", mm(highest, 1), mm(length, 1)),
                likely: "depths counted from elsewhere than the deck, or read near the lower end alone: nobody read the metal behind \
                         the rest"
                    .into(),
                ask: "how deep were its walls read? Read them along the whole pocket".into(),
                evidence: figures([("highest", highest), ("length", length)]),
                cylinders: vec![cylinder].into(),
            });
        }
        if deepest < DOWN * length {
            return Some(Suspicion {
                code: Code::DepthsShallow,
                verdict: Verdict::Hold,
                subject: Subject::cylinder(cylinder),
                found: say!(
                    "its deepest wall was read {} down in a bore of {}",
                    mm(deepest, 1),
                    mm(length, 1)
                ),
                likely:
                    "depths in another unit, or read near the deck alone: nobody read the metal behind the rest"
                        .into(),
                ask: "how deep were its walls read? Read them along the whole pocket".into(),
                evidence: figures([("deepest", deepest), ("length", length)]),
                cylinders: vec![cylinder].into(),
            });
        }
        // What was read below the pocket is behind nothing that is cut.
        let beside = read.iter().copied().filter(|depth| *depth <= dry_to_mm + JUST_BELOW_MM);
        let deepest = beside.max_by(f64::total_cmp)?;
        (dry_to_mm - deepest > BELOW_MM).then(|| Suspicion {
            code: Code::DepthsShallow,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(cylinder),
            found: say!(
                "its deepest wall was read {} down, and metal is cut down to {}",
                mm(deepest, 1),
                mm(dry_to_mm, 1)
            ),
            likely: "a ring of readings left out: nobody read the metal behind the rest".into(),
            ask: "how thick are its walls near the lower end of the pocket? Read them there too".into(),
            evidence: figures([("deepest", deepest), ("cut_to", dry_to_mm)]),
            cylinders: vec![cylinder].into(),
        })
    };
    asked.job.block.cylinders().into_iter().filter_map(of).collect()
}
