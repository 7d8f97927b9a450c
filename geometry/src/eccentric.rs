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

/// What a cut leaves of a round shell that stands off the cut's centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShellLeft {
    /// Least thickness, mm; negative where the shell is gone and what is outside it is cut.
    pub least_mm: f64,
    /// Most thickness, mm, towards the shell's centre.
    pub most_mm: f64,
    /// How much of the circle still shows the shell, radians, centred on the direction of its centre.
    pub arc_rad: f64,
}

/// The shell of outside radius R left by a cut of radius r whose centre is `apart_mm` off the shell's.
///
/// Thickness R + e cos(a) - r at the clock a from the direction of the shell's centre, to first order in
/// e / R; the shell ends where cos(a) = (r - R) / e.
///
/// ```
/// use borewright_geometry::shell_left;
/// let left = shell_left(50.5, 50.2, 0.38);
/// assert!((left.most_mm - 0.68).abs() < 1e-12 && (left.least_mm + 0.08).abs() < 1e-12);
/// assert!((left.arc_rad.to_degrees() - 284.0).abs() < 1.0);
/// ```
#[must_use]
pub fn shell_left(outside_radius_mm: f64, cut_radius_mm: f64, apart_mm: f64) -> ShellLeft {
    let (even, e) = (outside_radius_mm - cut_radius_mm, apart_mm.abs());
    let (least_mm, most_mm) = (even - e, even + e);
    let arc_rad = if least_mm >= 0.0 {
        2.0 * PI
    } else if most_mm <= 0.0 {
        0.0
    } else {
        2.0 * (-even / e).clamp(-1.0, 1.0).acos()
    };
    ShellLeft { least_mm, most_mm, arc_rad }
}

/// How far off a shell's centre stands and its outside radius, mm, from the arcs it leaves at two cuts:
/// e = (r2 - r1) / (cos a2 - cos a1), R = r1 - e cos a1, a half of each arc.
///
/// Crude (arcs are read to some degrees), but it rests on nothing else that was measured. `None` where the
/// arcs are the same, or shrink the wrong way.
///
/// ```
/// use borewright_geometry::shell_from_arcs;
/// let (apart, outside) = shell_from_arcs((50.2, 284.3_f64.to_radians()), (50.7, 116.5_f64.to_radians())).unwrap();
/// assert!((apart - 0.38).abs() < 0.002 && (outside - 50.5).abs() < 0.002);
/// ```
#[must_use]
pub fn shell_from_arcs(first: (f64, f64), second: (f64, f64)) -> Option<(f64, f64)> {
    let ((r1, arc1), (r2, arc2)) = (first, second);
    let (cos1, cos2) = ((arc1 / 2.0).cos(), (arc2 / 2.0).cos());
    let apart = (r2 - r1) / (cos2 - cos1);
    (apart.is_finite() && apart > 0.0).then_some((apart, r1 - apart * cos1))
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
    fn arcs_read_to_five_degrees_give_the_offset_to_a_tenth() {
        // Arcs of 284 and 116 degrees at 100.40 and 101.40, each read 5 degrees off: e from .35 to .42.
        for (a, b) in [(-5.0, -5.0), (-5.0, 5.0), (5.0, -5.0), (5.0, 5.0)] {
            let arc = |degrees: f64| degrees.to_radians();
            let (apart, outside) = shell_from_arcs((50.2, arc(284.0 + a)), (50.7, arc(116.0 + b))).unwrap();
            assert!((0.35..=0.42).contains(&apart), "{apart}");
            assert!((outside - 50.5).abs() < 0.03, "{outside}");
        }
        assert!(shell_from_arcs((50.2, 2.0), (50.7, 2.0)).is_none());
        assert!(shell_from_arcs((50.2, 1.0), (50.7, 2.0)).is_none());
    }

    #[test]
    fn a_cut_inside_the_hole_touches_nothing() {
        assert_eq!(eccentric_stock(50.0, 49.0, 0.3).in_cut, 0.0);
    }
}
