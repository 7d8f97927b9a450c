//! The fit of the bores as they came to their true positions: one motion of the block, and one of each bank.

use borewright_geometry::{Bank, Displacement, Observed, Point, bank_to_block, fit_motion};
use statrs::distribution::{ChiSquared, ContinuousCDF, FisherSnedecor};

use super::bore::FoundCircle;
use borewright_geometry::sample::count;

use super::error::SurveyError;
use crate::job::{Job, Surface};
use crate::plan::{AsBored, BankPattern, Pattern, Turn, Xy, Xyz};

/// A motion explains the displacements where chance would do as well less often than this.
const SIGNIFICANT: f64 = 0.05;

/// "Within measuring" is inside this point of the chi-squared distribution.
const WITHIN: f64 = 0.95;

/// A circle of the bores as they came, its true place and its displacement.
struct Displaced {
    bank: usize,
    true_mm: [f64; 2],
    z_mm: f64,
    by_mm: [f64; 2],
}

/// The fit of the whole block and of each bank.
pub(super) fn fit(job: &Job, circles: &[FoundCircle]) -> Result<(AsBored, Vec<BankPattern>), SurveyError> {
    let displaced = displacements(job, circles);
    let observed: Vec<Observed> = displaced.iter().flat_map(|d| observe(job, d)).collect();
    let motion = fit_motion(&observed).map_err(|e| SurveyError::Pattern(e.to_string()))?;
    let (n, k) = (motion.observed, motion.told);
    let (before, after) = (motion.before_mm2, motion.after_mm2);
    let left_over = n.saturating_sub(k);
    let f = (left_over > 0 && after > 0.0)
        .then(|| ((before - after).max(0.0) / count(k)) / (after / count(left_over)));
    let p = f.and_then(|f| Some(FisherSnedecor::new(count(k), count(left_over)).ok()?.sf(f)));
    let as_bored = AsBored {
        shift: Xyz { x: motion.shift_mm[0], y: motion.shift_mm[1], z: motion.shift_mm[2] },
        turn: Turn {
            roll: motion.turn_rad[0].to_degrees(),
            pitch: motion.turn_rad[1].to_degrees(),
            yaw: motion.turn_rad[2].to_degrees(),
        },
        undetermined: motion.undetermined.iter().map(|part| part.word()).collect(),
        residual_rms: (after / count(n)).sqrt(),
        f,
        p,
        pattern: pattern(job, before, after, n, left_over, p),
    };
    // A bank that was not read has no pattern, not a pattern of nothing.
    let read = |bank: &usize| displaced.iter().any(|d| d.bank == *bank);
    let banks =
        (0..job.block.banks.len()).filter(read).map(|bank| bank_pattern(job, bank, &displaced)).collect();
    Ok((as_bored, banks))
}

/// Circles of the bores as they came: those on the liner, or on what a cylinder has instead.
fn displacements(job: &Job, circles: &[FoundCircle]) -> Vec<Displaced> {
    let came_on = |cylinder: u32| {
        let read = |s: Surface| circles.iter().any(|c| c.cylinder == cylinder && c.surface == s);
        [Surface::Liner, Surface::Parent, Surface::Sleeve].into_iter().find(|s| read(*s))
    };
    circles
        .iter()
        .filter(|c| c.planned && came_on(c.cylinder) == Some(c.surface))
        .filter_map(|c| {
            let (bank, site) = job.site(c.cylinder)?;
            let layout = job.bank(bank);
            let true_mm = [site.x_mm, layout.axis_offset_mm];
            Some(Displaced {
                bank,
                true_mm,
                z_mm: layout.deck_height_mm - c.depth_mm,
                by_mm: [c.centre_mm[0] - true_mm[0], c.centre_mm[1] - true_mm[1]],
            })
        })
        .collect()
}

/// The two components of a displacement, in the block frame.
fn observe(job: &Job, d: &Displaced) -> [Observed; 2] {
    let to_block = bank_to_block(job.bank(d.bank).angle_deg.to_radians());
    let at = to_block.point(Point::<Bank>::new(d.true_mm[0], d.true_mm[1], d.z_mm));
    let along = |x, y| to_block.displacement(Displacement::<Bank>::new(x, y, 0.0)).vector().into();
    [(along(1.0, 0.0), d.by_mm[0]), (along(0.0, 1.0), d.by_mm[1])].map(|(direction, by_mm)| Observed {
        at_mm: at.vector().into(),
        direction,
        by_mm,
    })
}

fn pattern(job: &Job, before: f64, after: f64, n: usize, left_over: usize, p: Option<f64>) -> Pattern {
    let variance = job.instruments.centre_mm.powi(2);
    let within = |sum: f64, freedom: usize| {
        freedom > 0
            && ChiSquared::new(count(freedom)).is_ok_and(|chi| sum / variance <= chi.inverse_cdf(WITHIN))
    };
    let explains = p.is_some_and(|p| p < SIGNIFICANT);
    if within(before, n) {
        Pattern::WithinMeasuring
    } else if explains && (within(after, left_over) || after.sqrt() < 0.5 * before.sqrt()) {
        Pattern::Together
    } else {
        Pattern::EachItsOwn
    }
}

/// d_x = shift.x, d_y = shift.y + rotation (x - mean x), by least squares in one bank's plane.
fn bank_pattern(job: &Job, bank: usize, displaced: &[Displaced]) -> BankPattern {
    let of_bank: Vec<&Displaced> = displaced.iter().filter(|d| d.bank == bank).collect();
    let n = count(of_bank.len()).max(1.0);
    let mean = |get: fn(&Displaced) -> f64| of_bank.iter().map(|d| get(d)).sum::<f64>() / n;
    let (middle, x, y) = (mean(|d| d.true_mm[0]), mean(|d| d.by_mm[0]), mean(|d| d.by_mm[1]));
    let spread: f64 = of_bank.iter().map(|d| (d.true_mm[0] - middle).powi(2)).sum();
    let turned: f64 = of_bank.iter().map(|d| (d.true_mm[0] - middle) * (d.by_mm[1] - y)).sum();
    // One bore alone turns nothing.
    let rotation = if spread > 1e-9 { turned / spread } else { 0.0 };
    let left: f64 = of_bank
        .iter()
        .map(|d| (d.by_mm[0] - x).powi(2) + (d.by_mm[1] - y - rotation * (d.true_mm[0] - middle)).powi(2))
        .sum();
    let layout = job.bank(bank);
    BankPattern {
        bank: layout.name.clone(),
        angle: layout.angle_deg,
        shift: Xy { x, y },
        rotation: rotation.to_degrees(),
        residual_rms: (left / (2.0 * n)).sqrt(),
    }
}
