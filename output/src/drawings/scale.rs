//! Scales: the round ones, and the bar that shows one.

use borewright_planner::job::SheetUnits;
use borewright_planner::read::inch::MM_PER_INCH;
use kurbo::{Point, Vec2};

use super::figure::Pen;
use crate::paper::canvas::{Align, Dash};
use crate::paper::text::Weight;
use crate::said::units::Units;

/// Scales of whole things: paper mm per mm.
const REDUCED: [(f64, &str); 12] = [
    (1.0, "1 : 1"),
    (0.8, "1 : 1.25"),
    (1.0 / 1.5, "1 : 1.5"),
    (0.5, "1 : 2"),
    (0.4, "1 : 2.5"),
    (1.0 / 3.0, "1 : 3"),
    (0.25, "1 : 4"),
    (0.2, "1 : 5"),
    (1.0 / 6.0, "1 : 6"),
    (0.125, "1 : 8"),
    (0.1, "1 : 10"),
    (0.05, "1 : 20"),
];

/// Scales of deviations: enlarged as a rule, reduced where a reading is wrong by more than its picture is wide.
const OF_DEVIATIONS: [f64; 17] =
    [0.02, 0.05, 0.1, 0.2, 0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0, 2000.0, 5000.0];

/// No arrow and no zone is drawn larger than this against what it stands for.
pub(super) const MOST_ENLARGED: f64 = 1000.0;

/// The largest reduced scale at which this length fits so much paper.
pub(super) fn reduced(length_mm: f64, paper_mm: f64) -> (f64, &'static str) {
    let fits = REDUCED.iter().find(|(scale, _)| length_mm * scale <= paper_mm);
    fits.or(REDUCED.last()).copied().unwrap_or((0.05, "1 : 20"))
}

/// Reduced scales below one, the largest first.
pub(super) fn below(scale: f64) -> impl Iterator<Item = (f64, &'static str)> {
    REDUCED.into_iter().filter(move |(own, _)| *own < scale - 1e-9)
}

/// The largest round scale, up to `most`, at which this deviation fits so much paper; the least there is where
/// none does.
pub(super) fn round(length_mm: f64, paper_mm: f64, most: f64) -> f64 {
    let fits = OF_DEVIATIONS.iter().filter(|s| **s <= most && length_mm * **s <= paper_mm);
    fits.copied().fold(OF_DEVIATIONS[0], f64::max)
}

/// "500 : 1", "1 : 5".
pub(super) fn words(scale: f64) -> String {
    if scale < 1.0 { format!("1 : {:.0}", 1.0 / scale) } else { format!("{scale:.0} : 1") }
}

/// A bar of a round length, at most so long on paper, with its length beneath; from its left end.
pub(super) fn bar(pen: &mut Pen<'_>, at: Point, scale: f64, most_mm: f64, units: Units) {
    let inches = units.sheet == SheetUnits::In;
    let unit = if inches { MM_PER_INCH } else { 1.0 };
    let mut best = None;
    for power in -5..4_i32 {
        for step in [1.0, 2.0, 5.0] {
            let length = step * 10_f64.powi(power);
            if length * unit * scale <= most_mm {
                let decimals = usize::try_from(-power).unwrap_or(0);
                best = Some((length, decimals));
            }
        }
    }
    let Some((length, decimals)) = best else { return };
    let end = at + Vec2::new(length * unit * scale, 0.0);
    pen.line(at, end, 0.5, Dash::Solid);
    for tick in [at, end] {
        pen.line(tick - Vec2::new(0.0, 1.2), tick + Vec2::new(0.0, 1.2), 0.5, Dash::Solid);
    }
    let text = format!("{length:.decimals$} {}", if inches { "in" } else { "mm" });
    pen.text(end + Vec2::new(1.8, 1.3), Align::Left, (Weight::Bold, 10.0), &text);
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_largest_round_scale_that_fits_is_taken() {
        assert_eq!(reduced(430.0, 176.0).1, "1 : 2.5");
        assert_eq!(reduced(9000.0, 176.0).1, "1 : 20");
        assert!((round(0.14, 80.0, 1e4) - 500.0).abs() < 1e-9);
        assert!((round(0.14, 80.0, 100.0) - 100.0).abs() < 1e-9);
        assert!((round(330.0, 16.0, 1e4) - 0.02).abs() < 1e-9);
        assert_eq!([words(500.0), words(0.02)], ["500 : 1", "1 : 50"]);
    }
}
