//! Bores in the block's own metal that are worn at the wrong end: their circles were written down from the lower end up.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::plan::sentence::mm;
use crate::plan::{Subject, Verdict};
use crate::say;
use crate::survey::bore::FoundCircle;
use crate::survey::suspect::Code;

/// A bore wider by this in one circle than in another is worn, mm. Common practice, no source.
const WORN_MM: f64 = 0.10;

/// A bore wears most where the top ring turns, within this share of its length. Common practice, no source.
const UPPER: f64 = 0.35;

/// Bores of which one alone may be scored, or bored out below.
const BORES: usize = 2;

/// All bores that are worn below, where more than one is.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    // A liner has its size described, against which its circles are held.
    if asked.job.block.parent.liner.is_some() {
        return Vec::new();
    }
    let length = asked.job.block.parent.bore_length_mm;
    let worn = |cylinder: u32| -> Option<f64> {
        let planned = |c: &&FoundCircle| c.cylinder == cylinder && c.planned;
        let circles = || asked.circles.iter().filter(planned);
        let widest = circles().max_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm))?;
        let least = circles().map(|c| c.diameter_mm).fold(widest.diameter_mm, f64::min);
        (widest.diameter_mm - least > WORN_MM + 1e-9).then_some(widest.depth_mm)
    };
    let all: Vec<(u32, f64)> =
        asked.job.block.cylinders().into_iter().filter_map(|n| Some((n, worn(n)?))).collect();
    let below: Vec<(u32, f64)> = all.iter().copied().filter(|(_, depth)| *depth > UPPER * length).collect();
    let Some(&(_, depth)) = below.first().filter(|_| below.len() >= BORES) else { return Vec::new() };
    let cylinders: Vec<u32> = below.iter().map(|(n, _)| *n).collect();
    vec![Suspicion {
        code: Code::DiameterOdd,
        verdict: Verdict::Hold,
        subject: Subject::Cylinders(cylinders.clone()),
        found: say!("their widest circles are over {} wider than their narrowest, and lie {} deep", mm(WORN_MM, 2), mm(depth, 0)),
        likely: "depths counted from the lower end, or diameters written down from there: a bore wears near the deck, where the \
                 rings turn"
            .into(),
        ask: "from which end were these bores read? Measure one of them again near the deck".into(),
        evidence: figures([("depth", depth), ("length", length)]),
        cylinders,
    }]
}
