//! The datum of a bank as it stands in the machine.

use borewright_geometry::Displacement;
use borewright_geometry::sample::count;

use crate::job::{Job, ReadingFrame};
use crate::survey::Survey;

/// What the machine set-up that gives a bank its datum says of the cut.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Datum {
    /// The spindle cuts along its own axis: by how much the centre moves off for each mm of depth, mm per mm.
    pub lean: [f64; 2],
    /// What the roll of the deck's plane adds across, standard uncertainty, mm.
    pub roll_mm: f64,
}

impl Datum {
    /// The datum of a bank, from the set-up that gives it; without lean or roll where the readings came from the
    /// journal axis.
    #[must_use]
    pub fn of(job: &Job, survey: &Survey, bank: usize) -> Self {
        let Some(index) = job.set_ups.iter().position(|s| s.bank == bank) else { return Self::default() };
        let (Some(placement), ReadingFrame::Machine(readings)) =
            (survey.placements.get(index).and_then(Option::as_ref), &job.set_ups[index].frame)
        else {
            return Self::default();
        };
        // The machine's Z as the bank sees it.
        let spindle = placement.displacement(Displacement::new(0.0, 0.0, 1.0));
        let lean = [spindle.x_mm() / spindle.z_mm(), spindle.y_mm() / spindle.z_mm()];
        Self { lean, roll_mm: roll_mm(job, bank, &readings.deck_mm) }
    }

    /// Where the cut's axis stands at a depth, from its centre at the deck, mm.
    #[must_use]
    pub fn off_mm(&self, depth_mm: f64) -> [f64; 2] {
        self.lean.map(|l| -l * depth_mm)
    }
}

/// What the roll of a deck's plane moves the bores across: deck height times the standard uncertainty of its slope
/// across, u / √Σ(y − ȳ)² (least squares, JCGM 100:2008, H.3), mm.
fn roll_mm(job: &Job, bank: usize, deck_mm: &[[f64; 3]]) -> f64 {
    if deck_mm.is_empty() {
        return 0.0;
    }
    let mean = deck_mm.iter().map(|p| p[1]).sum::<f64>() / count(deck_mm.len());
    let square: f64 = deck_mm.iter().map(|p| (p[1] - mean).powi(2)).sum();
    job.bank(bank).deck_height_mm * job.instruments.deck_mm / square.sqrt()
}
