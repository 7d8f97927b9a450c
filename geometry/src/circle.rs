//! The least-squares circle through points of one plane.

use nalgebra::{SVector, Vector2};

use crate::line::singular;
use crate::sample::count;
use crate::settle::{MOST_STEPS, ROUNDING, Take, settle};

/// A circle, with how far its points stray from it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Circle {
    /// Its centre, mm.
    pub centre_mm: [f64; 2],
    /// Its radius, mm.
    pub radius_mm: f64,
    /// The largest radial residual less the least, mm: RONt about the least-squares circle (ISO 12181-1).
    pub roundness_mm: f64,
    /// The root mean square of the radial residuals, mm: RONq (ISO 12181-1).
    pub rms_mm: f64,
}

/// Why no circle could be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum CircleError {
    /// A circle needs three points.
    #[error("a circle needs at least 3 points, found {found}")]
    TooFewPoints {
        /// How many points there were.
        found: usize,
    },
    /// All points are one point, within rounding.
    #[error("all points of the circle coincide")]
    Coincident,
    /// All points lie on one line, within rounding, or a line fits them better than any circle.
    #[error("the points of the circle lie on one line")]
    Collinear,
    /// A coordinate is infinite, not a number, or too large to square.
    #[error("a coordinate of the circle's points is not a finite number")]
    NotFinite,
    /// The search did not come to rest: the points bend too little, or stray too far, to fix a circle.
    #[error("no least-squares circle was found: the points fix none")]
    NotConverged,
}

impl Circle {
    /// The radial residual of each point, mm: positive outside the circle.
    #[must_use]
    pub fn residuals_mm(&self, points_mm: &[[f64; 2]]) -> Vec<f64> {
        let centre = Vector2::from(self.centre_mm);
        points_mm.iter().map(|&at| (Vector2::from(at) - centre).norm() - self.radius_mm).collect()
    }
}

/// The circle with the least sum of squared radial distances from `points_mm` (n points of x, y, mm; n ≥ 3):
/// the LSC of ISO 12181-1:2011. The points need not be in order nor go all the way round.
///
/// Method: an algebraic start (G. Taubin, "Estimation of planar curves, surfaces and nonplanar space curves",
/// IEEE PAMI 13, 1991), then damped Gauss–Newton steps on the true radial distances (D. W. Marquardt, SIAM J.
/// Appl. Math. 11, 1963). The points are first centred and scaled, and the search moves a point of the
/// circle, the tangent there and the curvature instead of centre and radius: a short arc then stays well
/// posed however far off its centre is. Accuracy: the NIST circles at hand come back within 1e-12 mm of their
/// certified centres and diameters; on an arc of sagitta s, noise e moves the centre by about e/s radii.
/// The search finds the lowest rest near its start, which for points that are roughly round is the only one.
///
/// # Errors
/// Fewer than three points; all in one place or on one line; a coordinate not finite; a search without rest.
///
/// ```
/// let circle = borewright_geometry::fit_circle(&[[51.0, 0.0], [0.0, 49.0], [-51.0, 0.0], [0.0, -49.0]])?;
/// assert!(circle.centre_mm[0].abs() < 1e-12 && (circle.radius_mm - 50.0).abs() < 1e-12);
/// assert!((circle.roundness_mm - 2.0).abs() < 1e-12 && (circle.rms_mm - 1.0).abs() < 1e-12);
/// # Ok::<(), borewright_geometry::CircleError>(())
/// ```
pub fn fit_circle(points_mm: &[[f64; 2]]) -> Result<Circle, CircleError> {
    let patch = Patch::sound(points_mm)?;
    let start = Arc::algebraic(&patch.unit).ok_or(CircleError::NotConverged)?;
    let look = |arc: &Arc, take: &mut Take<3>| patch.unit.iter().for_each(|&at| arc.look(at, take));
    let end = settle(start, MOST_STEPS, look, Arc::shifted);
    if !end.at_rest {
        return Err(CircleError::NotConverged);
    }
    let (centre, radius) = end.model.centre_and_radius().ok_or(CircleError::Collinear)?;
    let residuals: Vec<f64> = patch.unit.iter().map(|at| (at - centre).norm() - radius).collect();
    let most = residuals.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = residuals.iter().copied().fold(f64::INFINITY, f64::min);
    let squares: f64 = residuals.iter().map(|residual| residual * residual).sum();
    Ok(Circle {
        centre_mm: (patch.centroid_mm + centre * patch.reach_mm).into(),
        radius_mm: radius * patch.reach_mm,
        roundness_mm: (most - least) * patch.reach_mm,
        rms_mm: (squares / count(points_mm.len())).sqrt() * patch.reach_mm,
    })
}

/// Points of a plane about their centroid, in units of their root-mean-square distance from it.
pub(crate) struct Patch {
    pub(crate) centroid_mm: Vector2<f64>,
    pub(crate) reach_mm: f64,
    /// The root-mean-square distance from the best line.
    width_mm: f64,
    /// A reach or width no larger than this is the rounding of the coordinates.
    rounding_mm: f64,
    pub(crate) unit: Vec<Vector2<f64>>,
}

impl Patch {
    /// The patch that points make, or why they make no circle: too few, in one place, or on one line.
    pub(crate) fn sound(points_mm: &[[f64; 2]]) -> Result<Self, CircleError> {
        if points_mm.len() < 3 {
            return Err(CircleError::TooFewPoints { found: points_mm.len() });
        }
        let patch = Self::of(points_mm).ok_or(CircleError::NotFinite)?;
        if patch.reach_mm <= patch.rounding_mm {
            return Err(CircleError::Coincident);
        }
        if patch.width_mm <= patch.rounding_mm {
            return Err(CircleError::Collinear);
        }
        Ok(patch)
    }

    /// The patch of at least one point; `None` where a coordinate, or the square of a distance, is not finite.
    fn of(points_mm: &[[f64; 2]]) -> Option<Self> {
        let first = Vector2::from(*points_mm.first()?);
        let number = count(points_mm.len());
        // Summed from the first point on, so that a circle far from the origin keeps its digits.
        let sum: Vector2<f64> = points_mm.iter().map(|&at| Vector2::from(at) - first).sum();
        let centroid_mm = first + sum / number;
        let centred = || points_mm.iter().map(|&at| Vector2::from(at) - centroid_mm);
        let (reach, width) = spreads(centred)?;
        let reach_mm = reach / number.sqrt();
        let largest = points_mm.iter().flatten().fold(0.0, |most: f64, value| most.max(value.abs()));
        let unit = centred().map(|at| at / reach_mm).collect();
        Some(Self {
            centroid_mm,
            reach_mm,
            width_mm: width / number.sqrt(),
            rounding_mm: ROUNDING * largest,
            unit,
        })
    }
}

/// Below this share of the reach a width is not taken from sums of squares, which leave eight digits of it.
const WIDE: f64 = 1e-3;

/// The square roots of the sums of squared distances of centred places from their centre and from their best
/// line; `None` where they are not finite.
fn spreads<I: Iterator<Item = Vector2<f64>>>(places: impl Fn() -> I) -> Option<(f64, f64)> {
    let sums =
        |[xx, xy, yy]: [f64; 3], at: Vector2<f64>| [xx + at.x * at.x, xy + at.x * at.y, yy + at.y * at.y];
    let [xx, xy, yy] = places().fold([0.0; 3], sums);
    let all = xx + yy;
    let across = (all - (xx - yy).hypot(2.0 * xy)) / 2.0;
    if across.is_finite() && across > all * WIDE * WIDE {
        return Some((all.sqrt(), across.sqrt()));
    }
    let ([long, short, _], _) = singular(places().map(|at| [at.x, at.y, 0.0]))?;
    Some((long.hypot(short), short))
}

/// A circle given by one of its points, the direction from there to its centre, and its curvature: a
/// description that stays sound where the centre runs off to infinity.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Arc {
    anchor: Vector2<f64>,
    /// Of length 1.
    inward: Vector2<f64>,
    /// Never negative.
    curvature: f64,
}

/// The least curvature, in units of one over the reach of the points, that is still a circle: below it the
/// sagitta over the whole cloud is less than 1e-12 of its reach, near the rounding of the coordinates.
const LEAST_CURVATURE: f64 = 1e-12;

impl Arc {
    /// Taubin's circle through `unit`, points about their centroid with a mean square of 1.
    ///
    /// It is `a/2 (x² + y² - 1) + b x + c y = 0` with (a, b, c), of length 1, the last right singular vector
    /// of the rows ((x² + y² - 1)/2, x, y).
    pub(crate) fn algebraic(unit: &[Vector2<f64>]) -> Option<Self> {
        let rows = unit.iter().map(|at| [(at.norm_squared() - 1.0) / 2.0, at.x, at.y]);
        let (_, [.., last]) = singular(rows)?;
        let last = if last[0] < 0.0 { -last } else { last };
        let slope = Vector2::new(last[1], last[2]);
        // From the middle of the circle any direction will do.
        let outward = slope.try_normalize(f64::MIN_POSITIVE).unwrap_or_else(Vector2::x);
        let from_centroid = last[0] / (1.0 + slope.norm());
        Some(Self { anchor: outward * from_centroid, inward: -outward, curvature: last[0] })
    }

    /// The arc's centre and radius, unless it is straight.
    pub(crate) fn centre_and_radius(&self) -> Option<(Vector2<f64>, f64)> {
        let radius = 1.0 / self.curvature;
        (self.curvature > LEAST_CURVATURE).then(|| (self.anchor + self.inward * radius, radius))
    }

    /// Hands on the signed distance of `at` from the circle and its slope by the three moves of `shifted`.
    fn look(&self, at: Vector2<f64>, take: &mut Take<3>) {
        let away = at - self.anchor;
        let k = self.curvature;
        let u = away.dot(&self.inward);
        let v = away.dot(&sideways(self.inward));
        // All three below are distances from the centre times the curvature: along `inward`, across, in all.
        let (ahead, across) = (1.0 - k * u, k * v);
        let whole = ahead.hypot(across);
        if whole == 0.0 {
            // At the centre no direction stands out.
            return take(-1.0 / k, [0.0, 0.0, 0.0], &[]);
        }
        let distance = (k * (u * u + v * v) - 2.0 * u) / (1.0 + whole);
        let by_curvature =
            if ahead > 0.0 { v * v / (whole * (whole + ahead)) } else { (whole - ahead) / (whole * k * k) };
        take(distance, [ahead / whole, -v / whole, by_curvature], &[]);
    }

    /// Moved inward, turned about the anchor and bent.
    fn shifted(&self, by: &SVector<f64, 3>) -> Self {
        let (sin, cos) = by[1].sin_cos();
        let inward = self.inward * cos + sideways(self.inward) * sin;
        let anchor = self.anchor + self.inward * by[0];
        let curvature = self.curvature + by[2];
        let inward = if curvature < 0.0 { -inward } else { inward };
        Self { anchor, inward: inward.normalize(), curvature: curvature.abs() }
    }
}

/// A quarter turn to the left.
fn sideways(of: Vector2<f64>) -> Vector2<f64> {
    Vector2::new(-of.y, of.x)
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;
    use crate::clock::distance_mm;

    fn arc(centre: [f64; 2], radius: f64, from: f64, to: f64, number: u32) -> Vec<[f64; 2]> {
        (0..number)
            .map(|i| {
                let angle = from + (to - from) * f64::from(i) / f64::from(number - 1);
                [centre[0] + radius * angle.cos(), centre[1] + radius * angle.sin()]
            })
            .collect()
    }

    #[test]
    fn a_short_arc_far_from_the_origin_gives_its_circle_back() {
        // Five degrees of a 2 m circle, ten metres out: the sagitta is 0.95 mm, a coordinate's rounding
        // 2e-12.
        let circle = fit_circle(&arc([1e4, -1e4], 1000.0, 0.3, 0.3 + 0.0873, 15)).unwrap();
        assert!((circle.radius_mm - 1000.0).abs() < 1e-8, "{circle:?}");
        assert!((circle.centre_mm[0] - 1e4).abs() < 1e-8 && (circle.centre_mm[1] + 1e4).abs() < 1e-8);
        assert!(circle.roundness_mm < 1e-11);
    }

    #[test]
    fn three_points_lie_on_their_circle() {
        let circle = fit_circle(&[[0.0, 0.0], [8.0, 0.0], [0.0, 6.0]]).unwrap();
        assert!((circle.radius_mm - 5.0).abs() < 1e-13 && circle.roundness_mm < 1e-13);
        assert!((circle.centre_mm[0] - 4.0).abs() < 1e-13 && (circle.centre_mm[1] - 3.0).abs() < 1e-13);
    }

    #[test]
    fn a_point_in_the_very_centre_does_not_stop_the_search() {
        let mut points = arc([0.0, 0.0], 10.0, 0.0, 5.5, 30);
        points.push([0.0, 0.0]);
        assert!((fit_circle(&points).unwrap().radius_mm - 9.6).abs() < 0.2);
    }

    #[test]
    fn residuals_are_positive_outside_and_their_spread_is_the_roundness() {
        let points = [[10.2, 0.0], [0.0, 10.1], [-9.9, 0.0], [0.0, -9.8], [7.1, 7.1]];
        let circle = fit_circle(&points).unwrap();
        let residuals = circle.residuals_mm(&points);
        let most = residuals.iter().copied().fold(f64::MIN, f64::max);
        let least = residuals.iter().copied().fold(f64::MAX, f64::min);
        assert!(most > 0.0 && least < 0.0 && (most - least - circle.roundness_mm).abs() < 1e-14);
        assert!(residuals.iter().sum::<f64>().abs() < 1e-13, "the mean radius is the radius");
    }

    #[test]
    fn points_that_fix_no_circle_are_refused_each_with_its_reason() {
        let found = |points: &[[f64; 2]]| fit_circle(points).unwrap_err();
        assert_eq!(found(&[[0.0; 2]; 2]), CircleError::TooFewPoints { found: 2 });
        assert_eq!(found(&[[0.1, 0.7]; 4]), CircleError::Coincident);
        assert_eq!(found(&[[0.1, 0.2], [0.2, 0.4], [0.3, 0.6], [0.7, 1.4]]), CircleError::Collinear);
        assert_eq!(found(&[[0.0, 0.0], [1.0, 0.0], [1.0, f64::NAN]]), CircleError::NotFinite);
        assert_eq!(found(&[[0.0, 0.0], [1e200, 0.0], [1.0, 1e200]]), CircleError::NotFinite);
        // Alike on both sides of a line: no circle is better than the line.
        let zigzag = [[-3.0, 0.1], [-1.0, -0.1], [1.0, 0.1], [3.0, -0.1]];
        assert!(matches!(found(&zigzag), CircleError::Collinear | CircleError::NotConverged));
    }

    proptest! {
        #[test]
        fn a_planted_circle_comes_back_within_its_noise(
            centre in prop::array::uniform2(-2000.0..2000.0f64),
            radius in 1.0..300.0f64,
            turn in 0.0..6.3f64,
            noise in prop::collection::vec(-1.0..1.0f64, 9..60),
            size in 1e-6..1e-3f64,
        ) {
            let number = u32::try_from(noise.len()).unwrap();
            let size_mm = size * radius;
            let points: Vec<[f64; 2]> = noise
                .iter()
                .zip(0..number)
                .map(|(&e, i)| {
                    let angle = turn + f64::from(i) * std::f64::consts::TAU / f64::from(number);
                    let r = radius + e * size_mm;
                    [centre[0] + r * angle.cos(), centre[1] + r * angle.sin()]
                })
                .collect();
            let circle = fit_circle(&points).unwrap();
            // Even spacing: the centre is 2/n times a sum of cosines, at most 4/pi of the noise.
            let off = distance_mm(circle.centre_mm, centre);
            prop_assert!(off < 1.5 * size_mm, "centre off by {off}");
            prop_assert!((circle.radius_mm - radius).abs() < 1.1 * size_mm);
            prop_assert!(circle.roundness_mm < 5.0 * size_mm && circle.rms_mm <= 1.1 * size_mm);
        }

        #[test]
        fn a_planted_short_arc_comes_back_whatever_its_place_and_scale(
            centre in prop::array::uniform2(-500.0..500.0f64),
            radius in 1.0..500.0f64,
            from in 0.0..6.3f64,
            sweep in 0.1..6.0f64,
            number in 4..40u32,
        ) {
            let circle = fit_circle(&arc(centre, radius, from, from + sweep, number)).unwrap();
            // Rounding of 1e-13 over a sagitta of sweep²/8, with room.
            let allowed = 1e-10 * (1.0 + 1.0 / (sweep * sweep)) * (1.0 + radius / 500.0);
            prop_assert!((circle.radius_mm - radius).abs() < allowed, "{circle:?}");
        }
    }
}
