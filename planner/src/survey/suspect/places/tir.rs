//! One bore displaced just twice as far as the others of its bank: a full needle swing typed as an offset?

use super::evidence::{Neighbours, figures};
use super::{Asked, Suspicion};
use crate::job::ReadingFrame;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// A displacement below this is not doubled visibly, mm. Common practice, no source.
const LEAST_MM: f64 = 0.03;

/// Twice as far within this share of it. Common practice, no source.
const SHARE: f64 = 0.1;

/// Asks about a bore read from the journal axis that stands off twice as far as its neighbours, the same way at
/// every depth; always a note.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (index, set_up) in asked.job.set_ups.iter().enumerate() {
        // Coordinates read off a machine's scale are no needle swings.
        if !matches!(set_up.frame, ReadingFrame::Journal) {
            continue;
        }
        let stands = asked.readings.as_typed(index);
        for own in &stands {
            let rest = |k: usize| {
                let others = stands.iter().filter(|s| s.cylinder != own.cylinder);
                Neighbours::of(others.map(|s| s.off_mm[k]).collect(), 3)
            };
            let Some([along, across]) = rest(0).zip(rest(1)).map(|(a, b)| [a, b]) else { continue };
            let u = asked.job.instruments.centre_mm / count(own.circles).sqrt();
            let far = along.median.hypot(across.median);
            let within = along.spread.hypot(across.spread).max(3.0 * u);
            let from_double =
                |off: [f64; 2]| (off[0] - 2.0 * along.median).hypot(off[1] - 2.0 * across.median);
            let double = from_double(own.off_mm);
            // Every circle of the bore must be doubled, not only their mean.
            let each = asked.readings.of_set_up(index).into_iter().filter(|r| r.cylinder == own.cylinder);
            let doubled = each
                .map(|r| from_double(asked.readings.off_if_mm(r, r.raw_mm)))
                .all(|off| off <= 2.0 * SHARE * far);
            // The doubled part must stand ten times outside what the others scatter.
            if far < LEAST_MM || far < 10.0 * within || double > SHARE * far || !doubled {
                continue;
            }
            let size = own.off_mm[0].hypot(own.off_mm[1]);
            found.push(Suspicion {
                code: Code::FullSwing,
                verdict: Verdict::Go,
                subject: Subject::cylinder(own.cylinder),
                found: say!("it stands {} off true, just twice the {} of the others of its bank", mm(size, 3), before_mm(far, 3)),
                likely: "a full needle swing (TIR) typed where the offset, half of it, was meant, or a bore that is so".into(),
                ask: say!("is the figure of cylinder {} an offset or a full swing?", own.cylinder),
                evidence: figures([("off_true", size), ("others", far), ("from_double", double)]),
                cylinders: vec![own.cylinder].into(),
            });
        }
    }
    found
}
