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

/// The arc of a shell that a cut leaves.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ArcLeft {
    /// Radius of the cut, mm.
    pub cut_mm: f64,
    /// How much of its circle shows the shell, radians.
    pub arc_rad: f64,
}

/// Where a shell stands and how large it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShellAt {
    /// How far its centre stands off the cuts', mm.
    pub apart_mm: f64,
    /// Its outside radius, mm.
    pub outside_mm: f64,
}

/// The shell that leaves its arcs at two cuts about one centre: e = (r2 - r1) / (cos a2 - cos a1), R = r1 - e cos a1,
/// a half of each arc.
///
/// Crude (arcs are read to some degrees), but it rests on nothing else that was measured. `None` where the
/// arcs are the same, or shrink the wrong way.
///
/// ```
/// use borewright_geometry::{ArcLeft, shell_from_arcs};
/// let arcs = [(50.2, 284.3_f64), (50.7, 116.5)].map(|(cut_mm, arc)| ArcLeft { cut_mm, arc_rad: arc.to_radians() });
/// let shell = shell_from_arcs(arcs).unwrap();
/// assert!((shell.apart_mm - 0.38).abs() < 0.002 && (shell.outside_mm - 50.5).abs() < 0.002);
/// ```
#[must_use]
pub fn shell_from_arcs(arcs: [ArcLeft; 2]) -> Option<ShellAt> {
    let [r1, r2] = arcs.map(|left| left.cut_mm);
    let [cos1, cos2] = arcs.map(|left| (left.arc_rad / 2.0).cos());
    let apart_mm = (r2 - r1) / (cos2 - cos1);
    let outside_mm = r1 - apart_mm * cos1;
    (apart_mm.is_finite() && apart_mm > 0.0).then_some(ShellAt { apart_mm, outside_mm })
}

/// A shell's place and size from the arcs it leaves at two cuts or more about one centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShellFit {
    /// How far its centre stands off the cuts', mm.
    pub apart_mm: f64,
    /// Standard uncertainty of that, mm.
    pub u_apart_mm: f64,
    /// Its outside radius, mm.
    pub outside_mm: f64,
    /// Standard uncertainty of that, mm.
    pub u_outside_mm: f64,
}

/// The shell that left its arcs at `cuts`, each arc with the standard uncertainty `u_arc_rad`; the
/// radii of the cuts count as known.
///
/// Method: r = R + e cos a, a half of an arc, is a straight line in cos a; least squares weighted by what the
/// uncertainty of each arc does to it, e sin a u / 2, and the covariance of that fit (JCGM 100:2008, H.3, with known
/// variances). Two cuts give [`shell_from_arcs`]. `None` with fewer than two different arcs, or arcs that grow with
/// the cut.
///
/// ```
/// use borewright_geometry::{ArcLeft, fit_shell};
/// let cuts = [(50.2, 284.3_f64), (50.7, 116.5)].map(|(cut_mm, arc)| ArcLeft { cut_mm, arc_rad: arc.to_radians() });
/// let fit = fit_shell(&cuts, 2.9_f64.to_radians()).unwrap();
/// assert!((fit.apart_mm - 0.38).abs() < 0.002 && (fit.outside_mm - 50.5).abs() < 0.002);
/// assert!((fit.u_apart_mm - 0.0077).abs() < 1e-4);
/// ```
#[must_use]
pub fn fit_shell(cuts: &[ArcLeft], u_arc_rad: f64) -> Option<ShellFit> {
    /// The least sin a that an arc is weighted with, at 3 degrees: even one that hardly changes with the radius
    /// counts for something.
    const LEAST_SIN: f64 = 0.05;

    /// One arc as a point of the line.
    struct Row {
        radius: f64,
        cos: f64,
        weight: f64,
    }

    let rows: Vec<Row> = cuts
        .iter()
        .map(|left| {
            let (sin, cos) = (left.arc_rad / 2.0).sin_cos();
            Row { radius: left.cut_mm, cos, weight: sin.abs().max(LEAST_SIN).powi(-2) }
        })
        .collect();
    let sum = |get: &dyn Fn(&Row) -> f64| rows.iter().map(get).sum::<f64>();
    let weight = sum(&|row| row.weight);
    let radius = sum(&|row| row.weight * row.radius) / weight;
    let cos = sum(&|row| row.weight * row.cos) / weight;
    let lever = sum(&|row| row.weight * (row.cos - cos).powi(2));
    let apart_mm = sum(&|row| row.weight * (row.cos - cos) * (row.radius - radius)) / lever;
    if !(apart_mm.is_finite() && apart_mm > 0.0 && lever > 1e-9) {
        return None;
    }
    let one = apart_mm * u_arc_rad / 2.0;
    Some(ShellFit {
        apart_mm,
        u_apart_mm: one * lever.sqrt().recip(),
        outside_mm: radius - apart_mm * cos,
        u_outside_mm: one * (weight.recip() + cos * cos / lever).sqrt(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn left(cut_mm: f64, arc_rad: f64) -> ArcLeft {
        ArcLeft { cut_mm, arc_rad }
    }

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
            let shell = shell_from_arcs([left(50.2, arc(284.0 + a)), left(50.7, arc(116.0 + b))]).unwrap();
            assert!((0.35..=0.42).contains(&shell.apart_mm), "{shell:?}");
            assert!((shell.outside_mm - 50.5).abs() < 0.03, "{shell:?}");
        }
        assert!(shell_from_arcs([left(50.2, 2.0), left(50.7, 2.0)]).is_none());
        assert!(shell_from_arcs([left(50.2, 1.0), left(50.7, 2.0)]).is_none());
    }

    #[test]
    fn three_cuts_give_the_planted_shell_and_the_uncertainty_that_moved_arcs_make() {
        let (outside, apart) = (50.5, 0.38);
        let arcs = |turned: [f64; 3]| {
            let cuts = [50.2, 50.45, 50.7].into_iter().zip(turned);
            cuts.map(|(r, by)| left(r, shell_left(outside, r, apart).arc_rad + by)).collect::<Vec<_>>()
        };
        let u = 2.9_f64.to_radians();
        let fit = fit_shell(&arcs([0.0; 3]), u).unwrap();
        assert!((fit.apart_mm - apart).abs() < 1e-9 && (fit.outside_mm - outside).abs() < 1e-9);
        // Each arc moved by a little in turn: the root of the sum of squares.
        let moved = |of: fn(&ShellFit) -> f64| {
            let each = (0..3).map(|k| {
                let mut by = [0.0; 3];
                by[k] = u / 1000.0;
                (of(&fit_shell(&arcs(by), u).unwrap()) - of(&fit)).powi(2)
            });
            1000.0 * each.sum::<f64>().sqrt()
        };
        assert!((moved(|f| f.apart_mm) - fit.u_apart_mm).abs() < 1e-4, "{fit:?}");
        assert!((moved(|f| f.outside_mm) - fit.u_outside_mm).abs() < 1e-4, "{fit:?}");
        assert!(
            fit_shell(&[left(50.2, 2.0)], u).is_none()
                && fit_shell(&[left(50.2, 1.0), left(50.7, 2.0)], u).is_none()
        );
    }

    #[test]
    fn a_cut_inside_the_hole_touches_nothing() {
        assert_eq!(eccentric_stock(50.0, 49.0, 0.3).in_cut, 0.0);
    }
}
