//! One bank's walls against the other's: one casting has about the same.

use super::evidence::figures;
use super::{Asked, Suspicion};
use crate::job::Surface;
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Subject, Verdict, cylinder_words};
use crate::read::fault::plain;
use crate::say;
use crate::survey::suspect::Code;
use borewright_geometry::sample::count;

/// The banks of one casting have walls within this many times each other, by their means. Common practice, no source.
const APART: f64 = 1.25;

/// Least number of walls that a bank's mean is told from.
const FEWEST: usize = 4;

/// Asks about the bank with the thicker walls on a surface, where their mean is too many times the other bank's.
pub(super) fn suspicions(asked: &Asked<'_>) -> Vec<Suspicion> {
    let mut found = Vec::new();
    for surface in [Surface::Liner, Surface::Parent, Surface::Sleeve] {
        let banks: Vec<(usize, f64, Vec<u32>)> =
            (0..asked.job.block.banks.len()).filter_map(|bank| mean(asked, bank, surface)).collect();
        let least = banks.iter().min_by(|a, b| a.1.total_cmp(&b.1));
        let most = banks.iter().max_by(|a, b| a.1.total_cmp(&b.1));
        let (Some((thin, thin_mm, _)), Some((thick, thick_mm, cylinders))) = (least, most) else { continue };
        if *thick_mm <= APART * thin_mm {
            continue;
        }
        let name = |bank: usize| plain(&asked.job.bank(bank).name, 40);
        found.push(Suspicion {
            code: Code::WallOdd,
            verdict: Verdict::Hold,
            subject: Subject::bank(&asked.job.bank(*thick).name),
            found: say!(
                "its walls read {} in the mean, those of the bank {} {}",
                mm(*thick_mm, 2),
                name(*thin),
                before_mm(*thin_mm, 2)
            ),
            likely: "a gauge set for another metal, an echo counted twice, or walls read through the liner: one casting has about the same on \
                     both banks"
                .into(),
            ask: say!("set the gauge on a piece of known thickness and read the walls of {} again", cylinder_words(cylinders)),
            evidence: figures([("mean", *thick_mm), ("other_bank", *thin_mm)]),
            cylinders: cylinders.clone().into(),
        });
    }
    found
}

/// The mean of a bank's walls from a surface, and the cylinders they are of.
fn mean(asked: &Asked<'_>, bank: usize, surface: Surface) -> Option<(usize, f64, Vec<u32>)> {
    let own = asked.job.set_ups.iter().filter(|s| s.bank == bank).flat_map(|s| &s.walls);
    let read: Vec<(u32, f64)> =
        own.filter(|w| w.surface == surface).filter_map(|w| Some((w.cylinder, w.wall_mm?))).collect();
    let mut cylinders: Vec<u32> = read.iter().map(|(n, _)| *n).collect();
    cylinders.sort_unstable();
    cylinders.dedup();
    let n = count(read.len());
    (read.len() >= FEWEST).then(|| (bank, read.iter().map(|(_, w)| w).sum::<f64>() / n, cylinders))
}
