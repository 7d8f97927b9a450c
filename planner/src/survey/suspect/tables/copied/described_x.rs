//! Places along the bank that are those of the description, to the last digit: typed from the paper, and not read.

use crate::survey::suspect::Code;
use std::collections::BTreeMap;

use crate::job::{ReadingFrame, SetUp};
use crate::plan::{Subject, Verdict};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::evidence::figures;
use crate::survey::suspect::grid::{NEVER, chance, grid_mm, read_unit_mm};
use crate::survey::suspect::{Asked, Suspicion};
use borewright_geometry::sample::count;

/// Fewer bores may stand so.
const BORES: usize = 3;

/// Bores stand off their described places by this, mm, one standard deviation. Common practice, no source.
const STAND_OFF_MM: f64 = 0.05;

pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let set_ups = asked.job.set_ups.iter().enumerate();
    set_ups.filter_map(|(index, set_up)| of_set_up(asked, index, set_up)).collect()
}

fn of_set_up(asked: &Asked<'_>, index: usize, set_up: &SetUp) -> Option<Suspicion> {
    // In the machine x counts from elsewhere.
    if !matches!(set_up.frame, ReadingFrame::Journal) {
        return None;
    }
    let all: Vec<f64> = set_up.bores.iter().map(|b| b.centre_mm[0]).collect();
    let grid = grid_mm(&all, read_unit_mm(asked.job))?;
    let mut bores: BTreeMap<u32, f64> = BTreeMap::new();
    for bore in &set_up.bores {
        let off = (bore.centre_mm[0] - asked.readings.true_mm(bore.cylinder)[0]).abs();
        let most = bores.entry(bore.cylinder).or_default();
        *most = most.max(off);
    }
    let described = bores.values().all(|off| *off <= grid / 2.0 + 1e-9);
    (described && bores.len() >= BORES && chance(grid, STAND_OFF_MM, bores.len()) < NEVER).then(|| {
        Suspicion {
            code: Code::Copied,
            verdict: Verdict::Hold,
            subject: Subject::set_up(&set_up.name),
            found: say!(
                "x of all {} bores of set-up {} is their described place to the last digit",
                bores.len(),
                plain(&set_up.name, 40)
            ),
            likely: "typed from the description: nobody read where these bores stand along the bank".into(),
            ask: "read x of each bore: what does the scale say?".into(),
            evidence: figures([("bores", count(bores.len()))]),
            cylinders: asked.readings.cylinders(index).into(),
        }
    })
}
