//! A circle cut about a centre that is not the centre of the hole that is there.

use std::f64::consts::PI;

/// Radial stock round a circle, mm, before the cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct EccentricStock {
    /// Least; negative where the tool passes through air.
    pub least_mm: f64,
    /// Most.
    pub most_mm: f64,
    /// Share of the circle that is in metal, 0 to 1.
    pub in_cut: f64,
}

/// The stock between a hole of `hole_radius_mm` and a cut of `cut_radius_mm`, centres `apart_mm` apart.
///
/// Least R - r - e and most R - r + e. The edge meets the hole at the half angle phi from the direction
/// of the hole's centre with cos phi = (R2 + e2 - r2) / (2 R e) (law of cosines); metal is cut beyond it.
///
/// ```
/// use borewright_geometry::eccentric_stock;
/// let stock = eccentric_stock(48.0, 48.8, 0.38);
/// assert!((stock.least_mm - 0.42).abs() < 1e-12 && (stock.most_mm - 1.18).abs() < 1e-12);
/// assert_eq!(stock.in_cut, 1.0);
/// ```
#[must_use]
pub fn eccentric_stock(hole_radius_mm: f64, cut_radius_mm: f64, apart_mm: f64) -> EccentricStock {
    let (r, cut, e) = (hole_radius_mm, cut_radius_mm, apart_mm.abs());
    let (least_mm, most_mm) = (cut - r - e, cut - r + e);
    let in_cut = if least_mm >= 0.0 {
        1.0
    } else if most_mm <= 0.0 {
        0.0
    } else {
        let cos = (cut * cut + e * e - r * r) / (2.0 * cut * e);
        1.0 - cos.clamp(-1.0, 1.0).acos() / PI
    };
    EccentricStock { least_mm, most_mm, in_cut }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_share_in_cut_agrees_with_counting_round_the_circle() {
        for (r, cut, e) in [(50.5, 50.2, 0.38), (50.5, 50.7, 0.38), (50.5, 50.45, 0.06), (40.0, 40.0, 0.2)] {
            let stock = eccentric_stock(r, cut, e);
            let steps = 200_000_u32;
            let hits = (0..steps)
                .filter(|i| {
                    let phi = 2.0 * PI * (f64::from(*i) + 0.5) / f64::from(steps);
                    // The tip about (0, 0), the hole about (e, 0).
                    (cut * phi.cos() - e).hypot(cut * phi.sin()) > r
                })
                .count();
            let counted = f64::from(u32::try_from(hits).unwrap()) / f64::from(steps);
            assert!((stock.in_cut - counted).abs() < 2e-5, "{r} {cut} {e}: {} {counted}", stock.in_cut);
        }
    }

    #[test]
    fn a_cut_inside_the_hole_touches_nothing() {
        assert_eq!(eccentric_stock(50.0, 49.0, 0.3).in_cut, 0.0);
    }
}
