//! The grid that the figures of a column stand on, and what agrees on it by chance.

use crate::job::Job;
use crate::read::given::Units;
use crate::read::inch::MM_PER_INCH;

/// Grids that figures are rounded to, in the table's own unit, the coarsest first.
const GRIDS: [f64; 19] = [
    1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.005, 0.002, 0.001, 5e-4, 2e-4, 1e-4, 5e-5, 2e-5, 1e-5, 5e-6,
    2e-6, 1e-6,
];

/// What one unit of a table of bores, points, axis or deck is, mm at 20 °C: those were brought to it, and stand on the grid that they
/// were typed on only when that is taken back.
pub(super) fn read_unit_mm(job: &Job) -> f64 {
    let metal = &job.block.parent.material;
    unit_mm(job.units) * job.temperature.map_or(1.0, |t| t.measuring.to_reference(metal.expansion_per_k))
}

/// A table's own unit, mm.
pub(super) fn unit_mm(units: Units) -> f64 {
    match units {
        Units::Mm => 1.0,
        Units::In => MM_PER_INCH,
    }
}

/// The coarsest grid that all figures stand on, in the table's unit; `None` of figures on none. One whole figure throughout was put
/// there, as a mandrel is trammed to zero, and tells nothing of the scale.
fn grid(values_mm: &[f64], unit_mm: f64) -> Option<f64> {
    let put = |first: &f64| {
        let whole = (first / unit_mm - (first / unit_mm).round()).abs() < 1e-6;
        whole && values_mm.iter().all(|mm| (mm - first).abs() < 1e-9)
    };
    if values_mm.first().is_some_and(put) { None } else { grid_of_all(values_mm, unit_mm) }
}

/// The same, whatever they are.
pub(super) fn grid_of_all(values_mm: &[f64], unit_mm: f64) -> Option<f64> {
    let on = |grid: f64| {
        values_mm.iter().all(|mm| {
            let steps = mm / unit_mm / grid;
            (steps - steps.round()).abs() < 1e-6
        })
    };
    GRIDS.into_iter().find(|grid| on(*grid))
}

/// The grid of figures, mm; `None` of one whole figure throughout, and of figures on none, such as those that were brought to
/// another temperature.
pub(super) fn grid_mm(values_mm: &[f64], unit_mm: f64) -> Option<f64> {
    grid(values_mm, unit_mm).map(|grid| grid * unit_mm)
}

/// By what chance so many figures, known to `u` each, agree within a width.
pub(super) fn chance(width_mm: f64, u_mm: f64, figures: usize) -> f64 {
    let one = if u_mm > 0.0 { (width_mm / u_mm).min(1.0) } else { 1.0 };
    one.powi(i32::try_from(figures).unwrap_or(i32::MAX))
}

/// What comes about by less than this did not come about by chance.
pub(super) const NEVER: f64 = 1e-5;

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_grid_is_the_coarsest_that_all_figures_stand_on() {
        assert_eq!(grid(&[35.0, 12.0, -3.0], 1.0), Some(1.0));
        assert_eq!(grid(&[35.0, 12.5], 1.0), Some(0.5));
        assert_eq!(grid(&[35.013, 12.5], 1.0), Some(0.001));
        assert_eq!(grid(&[35.0 / 3.0], 1.0), None);
        assert_eq!((grid(&[0.0, 0.0, 0.0], 1.0), grid(&[18.4, 18.4], 1.0)), (None, Some(0.2)));
        // 1.1 in and 0.3 in: tenths of an inch, whatever they are in mm.
        assert_eq!(grid(&[1.1 * MM_PER_INCH, 0.3 * MM_PER_INCH], MM_PER_INCH), Some(0.1));
    }
}
