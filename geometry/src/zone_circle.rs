//! The exact reference circles of roundness besides the least-squares one: minimum zone, least circumscribed
//! and largest inscribed.

mod enclosing;
mod lists;
mod program;
mod ring;
mod search;
#[cfg(test)]
mod tests;

use nalgebra::Vector2;

use crate::circle::{CircleError, Patch, fit_circle};
use lists::farthest;
use ring::Ring;
use search::{Aim, Search};

/// Two concentric circles, the one inside all points of a ring and the other round them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneCircle {
    /// Their centre, mm.
    pub centre_mm: [f64; 2],
    /// The radius to the nearest point, mm: the radius of a largest inscribed circle.
    pub inner_mm: f64,
    /// The radius to the farthest point, mm: the radius of a least circumscribed circle.
    pub outer_mm: f64,
}

impl ZoneCircle {
    /// The width of the zone, mm: RONt about this centre (ISO 12181-1).
    #[must_use]
    pub fn roundness_mm(&self) -> f64 {
        self.outer_mm - self.inner_mm
    }
}

/// Why a reference circle was not found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ZoneCircleError {
    /// The points fix no circle at all.
    #[error(transparent)]
    Circle(#[from] CircleError),
    /// The points leave half a turn open, so that a circle inside them can grow out of the opening.
    #[error("the points leave half a turn or more open, so no largest circle fits inside them")]
    OpenArc,
    /// The search did not end, or ran off: the points are not those of a ring.
    #[error("no best circle was found: the points are not those of a ring")]
    NotConverged,
}

/// The least-squares start is taken from about this many points of a longer scan: a start need only be near.
const START_POINTS: usize = 4_000;

/// The circle with the least radius that holds all `points_mm` (n points of x, y, mm; n ≥ 3): the minimum
/// circumscribed circle, MCC, of ISO 12181-1:2011. There is one, and it is found.
///
/// Method: from a circle through two far points, the point farthest outside joins the two or three that carry
/// the circle, and the least circle round these (tried two by two and three by three) goes on, until no point
/// is outside: R. Seidel's and B. Gärtner's form ("Fast and robust smallest enclosing balls", ESA 1999) of E.
/// Welzl's method. Each step's circle is larger, so it ends. Accuracy: rounding, about 1e-15 of the radius on
/// points centred and scaled first; the radius is measured to the farthest point, and so never too small.
///
/// # Errors
/// Fewer than three points; all in one place or on one line; a coordinate not finite.
///
/// ```
/// // The longest side of an obtuse triangle is its diameter.
/// let circle = borewright_geometry::minimum_circumscribed_circle(&[[0.0, 0.0], [8.0, 0.0], [3.0, 1.0]])?;
/// assert!((circle.outer_mm - 4.0).abs() < 1e-14 && (circle.centre_mm[0] - 4.0).abs() < 1e-14);
/// # Ok::<(), borewright_geometry::ZoneCircleError>(())
/// ```
pub fn minimum_circumscribed_circle(points_mm: &[[f64; 2]]) -> Result<ZoneCircle, ZoneCircleError> {
    let patch = Patch::sound(points_mm)?;
    let centre = enclosing::least(&patch.unit).ok_or(ZoneCircleError::NotConverged)?;
    Ok(zone_about(&patch, centre))
}

/// The two concentric circles closest together that hold all `points_mm` (n points of x, y, mm; n ≥ 3)
/// between them: the minimum zone circles, MZC, of ISO 12181-1:2011.
///
/// Method: branch and bound. In squared distances the zone width W at a centre x is below w only where
/// f(x) - g(x) < w (2 D(x) + w), f and g being the upper and lower envelopes of the planes |p|² - 2 p·x and D
/// the least distance; over a square of centres the left side is a linear program, solved with its proof, and
/// D is bounded by its tangent and bend. Squares that cannot hold a thinner zone are given up, the others
/// are quartered; points that no centre of a square can touch are left out. The start is the least-squares
/// circle (of every k-th point of a long scan).
///
/// What is guaranteed: no centre in the searched region has a zone thinner by more than 1e-13 of the radius.
/// With the zone width W about the start and κ the least spread of the points' directions seen from there (2
/// for a full ring, 1 - cos(a/2) for an arc of a), the region reaches d off the start, the first root of
/// κ d - d²/(2 (r - d)) = 2 W, and no centre from there to the second root (0.8 r for a full, thin ring) has a
/// zone as thin as the start's. Centres farther off are not looked at. Where there is no root, on points that
/// are hardly a ring, the region is the square that reaches half the radius from the start. Several zones may
/// be equally thin: one of them is given.
///
/// Accuracy: 1e-13 of the radius.
///
/// # Errors
/// As [`fit_circle`]; [`ZoneCircleError::NotConverged`] where the best centre is on the region's edge.
///
/// ```
/// let points = [[51.0, 0.0], [0.0, 49.0], [-51.0, 0.0], [0.0, -49.0], [36.0, 36.0]];
/// let zone = borewright_geometry::minimum_zone_circle(&points)?;
/// assert!(zone.roundness_mm() <= borewright_geometry::fit_circle(&points)?.roundness_mm);
/// // Two points outside and two inside, taking turns, prove it the thinnest.
/// assert!((zone.roundness_mm() - 2.0).abs() < 1e-12);
/// # Ok::<(), borewright_geometry::ZoneCircleError>(())
/// ```
pub fn minimum_zone_circle(points_mm: &[[f64; 2]]) -> Result<ZoneCircle, ZoneCircleError> {
    let patch = Patch::sound(points_mm)?;
    let start = start(&patch, points_mm)?;
    let ring = Ring::about(start, &patch.unit);
    let reach = ring.zone_reach();
    let half = reach.unwrap_or((ring.inner + ring.outer) / 4.0).max(f64::EPSILON * ring.outer);
    let search = Search::new(Aim::Zone, &[], start);
    let centre = search.run(start, half, &patch.unit).ok_or(ZoneCircleError::NotConverged)?;
    let edge = half * (1.0 - 1e-9);
    let ran_off = (centre - start).amax() >= edge;
    if reach.is_none() && ran_off {
        Err(ZoneCircleError::NotConverged)
    } else {
        Ok(zone_about(&patch, centre))
    }
}

/// The largest circle with no point of `points_mm` (n points of x, y, mm; n ≥ 3) inside it and its centre in
/// their convex hull: the maximum inscribed circle, MIC, of ISO 12181-1:2011.
///
/// A ring of points has several circles that cannot grow by a small move; the largest of them all is given,
/// and where several are equally large one of them.
///
/// Method: branch and bound. The squared distance D² of a centre x to the nearest point is |x|² + g(x), g
/// the lower envelope of the planes |p|² - 2 p·x; over a square of centres g's greatest value is a linear
/// program, solved with its proof. Squares that cannot hold a larger circle are given up, the others are
/// quartered; points that no centre of a square can touch are left out. Where the points leave no gap of some 115°
/// seen from the least-squares centre the region searched is the disc about it outside which no centre in the
/// hull can do better, and elsewhere the hull itself.
///
/// What is guaranteed: no centre in the hull has a circle larger by more than 1e-13 of the radius. Where that
/// largest circle has its centre on the hull's edge it can grow out of it, and the answer is
/// [`ZoneCircleError::OpenArc`]: so for any arc of half a turn or less, and for three points that are a
/// right-angled or an obtuse triangle.
///
/// # Errors
/// As [`fit_circle`]; an open arc.
///
/// ```
/// // Round the corners of a square, 10 from side to side, with a burr inside its right-hand edge.
/// let points = [[5.0, 5.0], [-5.0, 5.0], [-5.0, -5.0], [5.0, -5.0], [5.0, 0.0]];
/// let circle = borewright_geometry::maximum_inscribed_circle(&points)?;
/// // Through both left-hand corners and the burr: (5 - x)² = (x + 5)² + 25 at x = -1.25.
/// assert!((circle.centre_mm[0] + 1.25).abs() < 1e-12 && (circle.inner_mm - 6.25).abs() < 1e-12);
/// # Ok::<(), borewright_geometry::ZoneCircleError>(())
/// ```
pub fn maximum_inscribed_circle(points_mm: &[[f64; 2]]) -> Result<ZoneCircle, ZoneCircleError> {
    let patch = Patch::sound(points_mm)?;
    let start = start(&patch, points_mm)?;
    if let Some(reach) = Ring::about(start, &patch.unit).inscribed_reach() {
        let half = reach.max(f64::EPSILON);
        let search = Search::new(Aim::Inscribed, &[], start);
        let centre = search.run(start, half, &patch.unit).ok_or(ZoneCircleError::NotConverged)?;
        return Ok(zone_about(&patch, centre));
    }
    let walls = ring::hull(&patch.unit);
    let (middle, half) = ring::square_round(&patch.unit);
    let search = Search::new(Aim::Inscribed, &walls, start);
    let centre = search.run(middle, half, &patch.unit).ok_or(ZoneCircleError::NotConverged)?;
    let to_edge = walls.iter().map(|wall| wall.inside_by(centre)).fold(f64::INFINITY, f64::min);
    if to_edge <= ON_EDGE { Err(ZoneCircleError::OpenArc) } else { Ok(zone_about(&patch, centre)) }
}

/// A centre this close to the hull's edge, in units of the points' reach, is on it: a thousand times what the
/// rounding of the search makes, and on a 100 mm bore 5e-8 mm, less than any point is known to.
const ON_EDGE: f64 = 1e-9;

/// The least-squares centre of the points, or of an even share of them, in the patch's units.
fn start(patch: &Patch, points_mm: &[[f64; 2]]) -> Result<Vector2<f64>, CircleError> {
    // An odd step: an even one would meet the same few clocks in every turn of many scans.
    let step = (points_mm.len() / START_POINTS) | 1;
    let some: Vec<[f64; 2]> = points_mm.iter().step_by(step).copied().collect();
    let circle = fit_circle(&some).or_else(|_| fit_circle(points_mm))?;
    Ok((Vector2::from(circle.centre_mm) - patch.centroid_mm) / patch.reach_mm)
}

/// The zone that all points fill about a centre in the patch's units.
fn zone_about(patch: &Patch, centre: Vector2<f64>) -> ZoneCircle {
    let distances = patch.unit.iter().map(|at| (at - centre).norm_squared());
    let inner = distances.fold(f64::INFINITY, f64::min).sqrt();
    let outer = farthest(&patch.unit, centre).map_or(0.0, |(_, squared)| squared.sqrt());
    ZoneCircle {
        centre_mm: (patch.centroid_mm + centre * patch.reach_mm).into(),
        inner_mm: inner * patch.reach_mm,
        outer_mm: outer * patch.reach_mm,
    }
}
