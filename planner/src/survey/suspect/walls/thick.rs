//! Walls of one bore that are thicker all round than those of the others at the same places: read through more than the casting.

use super::beside::beside_others;
use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::SetUp;
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::{count, median};

/// A casting is about as thick round all bores of a bank: thicker in the middle of all places by this, mm and as a share, and at nearly
/// all of them, is a liner or a layer read with it. Common practice, no source.
const THICKER_MM: f64 = 1.6;
const THICKER: f64 = 0.2;
const NEARLY_ALL: f64 = 0.9;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    asked.job.set_ups.iter().flat_map(of_set_up).collect()
}

/// Asks about each bore of a set-up that is thicker all round than the median of its bank's other bores.
fn of_set_up(set_up: &SetUp) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for (n, at) in beside_others(set_up, |_| true) {
        let by = median(at.iter().map(|b| b.own_mm - b.others_mm).collect());
        let usual = median(at.iter().map(|b| b.others_mm).collect());
        let thicker = count(at.iter().filter(|b| b.own_mm > b.others_mm).count());
        if by < THICKER_MM || by < THICKER * usual || thicker < NEARLY_ALL * count(at.len()) {
            continue;
        }
        found.push(Suspicion {
            code: Code::WallOdd,
            verdict: Verdict::Hold,
            subject: Subject::cylinder(n),
            found: say!(
                "its walls read {} more than those of the bank's other bores at the same places, which are {} in the middle",
                mm(by, 2),
                mm(usual, 2)
            ),
            likely: "read through the liner, or with a gauge set for another metal".into(),
            ask: say!(
                "from which surface were the walls of cylinder {n} read, and how far was the gauge from it? Read one of them again"
            ),
            evidence: figures([("thicker", by), ("others", usual), ("places", count(at.len()))]),
            cylinders: vec![n].into(),
        });
    }
    found
}
