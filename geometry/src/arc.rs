//! The arc that a circle's points cover, and how well its centre is known by it.

use crate::clock::{clock_deg, distance_mm};
use crate::sample::count;
use nalgebra::{Matrix3, Vector3};

/// Where the arc without a point is wider than this, degrees, the instrument's figure for a full round does not
/// hold, and the fit's own covariance tells how well the centre is known. Three points evenly spaced leave 120,
/// and one degree is for how a probe is set. Common practice, no source.
pub const SHORT_ARC_GAP_DEG: f64 = 121.0;

/// The widest arc without a point, seen from a centre, degrees; 360 with one point or none.
#[must_use]
pub fn widest_gap_deg(points: &[[f64; 2]], [x, y]: [f64; 2]) -> f64 {
    let mut clocks: Vec<f64> = points.iter().map(|p| clock_deg([p[0] - x, p[1] - y])).collect();
    widest_gap(&mut clocks)
}

/// The widest arc between neighbouring clocks, degrees; 360 with one or none. Sorts them.
#[must_use]
pub fn widest_gap(clocks_deg: &mut [f64]) -> f64 {
    clocks_deg.sort_by(f64::total_cmp);
    let (Some(first), Some(last)) = (clocks_deg.first(), clocks_deg.last()) else { return 360.0 };
    let round = 360.0 - (last - first);
    clocks_deg.windows(2).map(|w| w[1] - w[0]).fold(round, f64::max)
}

/// Standard uncertainty of one coordinate of a fitted centre, mm, its worst direction.
///
/// The covariance of the least-squares circle, s² (JᵀJ)⁻¹ with rows (cos t, sin t, 1) (ISO 12181's LSC by first order,
/// JCGM 100:2008, H.3); s is what the points scatter about the circle, and never under the instrument's figure for a
/// centre. Where the points go round, the instrument's figure stands.
#[must_use]
pub fn arc_centre_u_mm(points: &[[f64; 2]], centre: [f64; 2], instrument_mm: f64) -> f64 {
    if widest_gap_deg(points, centre) <= SHORT_ARC_GAP_DEG {
        return instrument_mm;
    }
    let radii: Vec<f64> = points.iter().map(|p| distance_mm(*p, centre)).collect();
    let n = count(points.len());
    let mean = radii.iter().sum::<f64>() / n;
    let square: f64 = radii.iter().map(|r| (r - mean).powi(2)).sum();
    let spare = n - 3.0;
    let scatter = if spare > 0.0 { (square / spare).sqrt() } else { 0.0 };
    let s = scatter.max(instrument_mm);
    let mut normal = Matrix3::zeros();
    for (p, r) in points.iter().zip(&radii) {
        let row = Vector3::new((p[0] - centre[0]) / r, (p[1] - centre[1]) / r, 1.0);
        normal += row * row.transpose();
    }
    // Points that make no circle were refused before; of points that hardly make one the centre is as good as
    // unknown.
    let Some(inverse) = normal.try_inverse() else { return f64::MAX.sqrt() };
    let (a, b, c) = (inverse[(0, 0)], inverse[(0, 1)], inverse[(1, 1)]);
    let largest = f64::midpoint(a, c) + ((a - c) / 2.0).hypot(b);
    (s * largest.max(0.0).sqrt()).max(instrument_mm)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arc(from_deg: f64, to_deg: f64, n: u32) -> Vec<[f64; 2]> {
        (0..n)
            .map(|i| (from_deg + (to_deg - from_deg) * f64::from(i) / f64::from(n - 1)).to_radians())
            .map(|t| [43.0 * t.cos(), 43.0 * t.sin()])
            .collect()
    }

    #[test]
    fn points_all_round_keep_the_instruments_figure_and_a_short_arc_does_not() {
        assert!((arc_centre_u_mm(&arc(0.0, 315.0, 8), [0.0, 0.0], 0.003) - 0.003).abs() < 1e-15);
        // Sixteen points over 103 degrees: of each point's 0.003 the centre keeps some 1.3 (a worked least-squares
        // case gave 2 to 2.5 um for 2 um).
        let u = arc_centre_u_mm(&arc(0.0, 103.0, 16), [0.0, 0.0], 0.003);
        assert!((0.003..0.012).contains(&u), "{u}");
        assert!(arc_centre_u_mm(&arc(0.0, 40.0, 16), [0.0, 0.0], 0.003) > 4.0 * u);
    }

    #[test]
    fn the_widest_gap_is_found_across_zero() {
        assert!((widest_gap_deg(&arc(30.0, 200.0, 9), [0.0, 0.0]) - 190.0).abs() < 1e-9);
        assert!((widest_gap_deg(&arc(-90.0, 90.0, 19), [0.0, 0.0]) - 180.0).abs() < 1e-9);
    }
}
