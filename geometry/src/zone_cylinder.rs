//! The two coaxial cylinders closest together that hold all points between them: cylindricity by the minimum zone.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{DefaultSolver, IPSolver, SolverStatus, SupportedConeT};
use nalgebra::Vector3;

use crate::cylinder::{Cylinder, CylinderError, across, fit_cylinder_along};
use crate::line::Line;
use crate::straightness::settings;

/// A shell between two coaxial cylinders.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneCylinder {
    /// Their axis.
    pub axis: Line,
    /// Radius of the inner one, mm.
    pub inner_mm: f64,
    /// Radius of the outer one, mm.
    pub outer_mm: f64,
}

impl ZoneCylinder {
    /// CYLt about the minimum zone cylinders, mm (ISO 12180-1:2011).
    #[must_use]
    pub fn cylindricity_mm(&self) -> f64 {
        self.outer_mm - self.inner_mm
    }
}

/// The most linear programs; five to ten are usual.
const MOST_PROGRAMS: usize = 60;
/// A program that promises less than this share of the zone ends the search.
const PROMISE: f64 = 1e-9;
/// Cells round and along the cylinder, of each of which the extreme points are looked at.
const SECTORS: usize = 16;
const STRETCHES: usize = 8;
/// How far the first program may move the axis, in zones.
const FIRST_REACH: f64 = 4.0;
/// Moves smaller than this are rounding, in zones.
const LEAST_REACH: f64 = 1e-10;

/// The minimum zone cylinders of `points_mm` (n points of x, y, z, mm; n ≥ 6), their axis found from `direction` on
/// (within some ten degrees).
///
/// Method: seen from an axis, the distance of each point is linear in a small move and lean of the axis, and the least
/// half width h for which all distances lie within h of one radius is a linear program in six unknowns, solved by an
/// interior-point method (the crate clarabel); the axis moves, within a reach that shrinks where the true zone does
/// not, until a program promises nothing more (sequential linear programming). Of many points only the extremes of
/// each of 16 by 8 cells enter a program, and those that a move brings out of the zone are added. The start is the
/// least-squares cylinder, so the zone near that is the one found; the zone given back is measured from all points,
/// never too small. Accuracy: 1e-8 of the zone.
///
/// # Errors
/// As [`fit_cylinder_along`].
///
/// ```
/// use borewright_geometry::minimum_zone_cylinder_along;
/// // Three rings of eight points about Z, radius 50, one point of the middle ring 0.01 outside.
/// let mut points = Vec::new();
/// for z in [0.0, 30.0, 60.0] {
///     for eighth in 0..8 {
///         let (sin, cos) = (f64::from(eighth) * std::f64::consts::TAU / 8.0).sin_cos();
///         let r = if z == 30.0 && eighth == 0 { 50.01 } else { 50.0 };
///         points.push([r * cos, r * sin, z]);
///     }
/// }
/// let zone = minimum_zone_cylinder_along(&points, [0.0, 0.0, 1.0])?;
/// assert!(zone.cylindricity_mm() <= 0.01 && zone.cylindricity_mm() > 0.004);
/// # Ok::<(), borewright_geometry::CylinderError>(())
/// ```
pub fn minimum_zone_cylinder_along(
    points_mm: &[[f64; 3]],
    direction: [f64; 3],
) -> Result<ZoneCylinder, CylinderError> {
    Ok(narrowed(points_mm, &fit_cylinder_along(points_mm, direction)?))
}

/// The zone near a least-squares cylinder that was fitted already to the same points.
#[must_use]
pub fn minimum_zone_cylinder_near(points_mm: &[[f64; 3]], fitted: &Cylinder) -> ZoneCylinder {
    narrowed(points_mm, fitted)
}

/// The narrowest zone found near the fitted axis, by linear programs on the points farthest in and out; no worse
/// than the zone about the fitted axis itself. Points and result in mm.
fn narrowed(points_mm: &[[f64; 3]], fitted: &Cylinder) -> ZoneCylinder {
    let half_length_mm = points_mm.iter().map(|&at| fitted.axis.along_mm(at).abs()).fold(0.0, f64::max);
    let mut looked = Look::at(points_mm, fitted.axis, half_length_mm, None);
    let mut working: Vec<usize> = looked.extremes();
    let scale_mm = looked.zone.cylindricity_mm();
    if !(scale_mm.is_finite() && half_length_mm > 0.0 && scale_mm > 1e-12 * looked.zone.outer_mm) {
        return looked.zone;
    }
    let mut reach = FIRST_REACH;
    for _ in 0..MOST_PROGRAMS {
        if reach < LEAST_REACH {
            break;
        }
        let axis = looked.zone.axis;
        let rows =
            working.iter().map(|&i| seen(points_mm[i], &axis, half_length_mm, scale_mm, looked.middle_mm()));
        let Some((moves, half)) = program(&rows.collect::<Vec<_>>(), reach) else { break };
        let promised = 2.0 * half * scale_mm;
        if promised > looked.zone.cylindricity_mm() - PROMISE * scale_mm {
            break;
        }
        let moved = moved(&axis, moves, half_length_mm, scale_mm);
        let next = Look::at(points_mm, moved, half_length_mm, Some((looked.middle_mm(), promised)));
        // Points that the program did not know and that stick out of its zone enter the next one.
        let before = working.len();
        working.extend(next.extremes());
        working.sort_unstable();
        working.dedup();
        if next.zone.cylindricity_mm() < looked.zone.cylindricity_mm() {
            looked = next;
        } else if working.len() == before {
            reach /= 4.0;
        } else {
            // With the new points taken in, the search goes on from the same axis.
            reach /= 1.5;
        }
    }
    looked.zone
}

/// All points seen from one axis.
struct Look {
    zone: ZoneCylinder,
    /// The nearest and the farthest point of each cell: distance and index.
    cells: Vec<[Option<(f64, usize)>; 2]>,
    /// Where the zone was expected, mm; cells that lie wholly inside it are passed over.
    expected: Option<(f64, f64)>,
}

impl Look {
    fn at(points_mm: &[[f64; 3]], axis: Line, half_length_mm: f64, expected: Option<(f64, f64)>) -> Self {
        let direction = Vector3::from(axis.direction);
        let [right, up] = across(direction);
        let from = Vector3::from(axis.point_mm);
        let mut cells = vec![[None, None]; SECTORS * STRETCHES];
        let (mut inner_mm, mut outer_mm) = (f64::INFINITY, 0.0_f64);
        for (i, &at) in points_mm.iter().enumerate() {
            let away = Vector3::from(at) - from;
            let (u, v) = (away.dot(&right), away.dot(&up));
            let distance = u.hypot(v);
            inner_mm = inner_mm.min(distance);
            outer_mm = outer_mm.max(distance);
            let [nearest, farthest]: &mut [Option<(f64, usize)>; 2] =
                &mut cells[cell(u, v, away.dot(&direction) / half_length_mm)];
            if nearest.is_none_or(|n| distance < n.0) {
                *nearest = Some((distance, i));
            }
            if farthest.is_none_or(|f| distance > f.0) {
                *farthest = Some((distance, i));
            }
        }
        Self { zone: ZoneCylinder { axis, inner_mm, outer_mm }, cells, expected }
    }

    fn middle_mm(&self) -> f64 {
        f64::midpoint(self.zone.inner_mm, self.zone.outer_mm)
    }

    /// The extreme points of all cells, or of those that reach out of the middle half of the zone expected.
    fn extremes(&self) -> Vec<usize> {
        let (inner, outer) = match self.expected {
            None => (f64::INFINITY, f64::NEG_INFINITY),
            Some((_, width)) => {
                let middle = self.middle_mm();
                (middle - width / 4.0, middle + width / 4.0)
            }
        };
        let near = self.cells.iter().filter_map(|c| c[0]).filter(|n| n.0 < inner);
        let far = self.cells.iter().filter_map(|c| c[1]).filter(|f| f.0 > outer);
        near.chain(far).map(|(_, i)| i).collect()
    }
}

/// Which cell a point lies in, from its place across and its share of the length.
fn cell(u: f64, v: f64, share: f64) -> usize {
    /// How many of some equal steps from 0 to 1 a share has passed.
    fn step(share: f64, of: usize) -> usize {
        (1..of).take_while(|k| share * number(of) >= number(*k)).count()
    }
    fn number(k: usize) -> f64 {
        f64::from(u8::try_from(k).unwrap_or(u8::MAX))
    }
    let round = v.atan2(u) / std::f64::consts::TAU + 0.5;
    step(round, SECTORS) * STRETCHES + step(f64::midpoint(share, 1.0), STRETCHES)
}

/// One row of a program: the direction outwards, the place along in half lengths, the distance less the middle of
/// the zone in zones.
#[derive(Debug, Clone, Copy)]
struct Row {
    u: f64,
    v: f64,
    t: f64,
    away: f64,
}

fn seen(at: [f64; 3], axis: &Line, half_length_mm: f64, scale_mm: f64, middle_mm: f64) -> Row {
    let direction = Vector3::from(axis.direction);
    let [right, up] = across(direction);
    let away = Vector3::from(at) - Vector3::from(axis.point_mm);
    let (u, v) = (away.dot(&right), away.dot(&up));
    let distance = u.hypot(v).max(f64::MIN_POSITIVE);
    Row {
        u: u / distance,
        v: v / distance,
        t: away.dot(&direction) / half_length_mm,
        away: (distance - middle_mm) / scale_mm,
    }
}

/// The moves (a, b, c, d) to the right by a + b t and up by c + d t, none beyond `reach`, with the least half width
/// h: |away - u (a + b t) - v (c + d t) - r| ≤ h.
fn program(rows: &[Row], reach: f64) -> Option<([f64; 4], f64)> {
    // Unknowns a, b, c, d, r, h; s = bounds - rows x ≥ 0.
    let size = 2 * rows.len() + 8;
    let (mut at, mut of, mut value) = (Vec::new(), Vec::new(), Vec::new());
    let mut bounds = Vec::with_capacity(size);
    let mut put = |row: usize, column: usize, entry: f64| {
        at.push(row);
        of.push(column);
        value.push(entry);
    };
    for (i, row) in rows.iter().enumerate() {
        for (sign, line) in [(1.0, 2 * i), (-1.0, 2 * i + 1)] {
            // sign (away - terms) ≤ h.
            let terms = [row.u, row.u * row.t, row.v, row.v * row.t, 1.0];
            for (column, term) in terms.into_iter().enumerate() {
                put(line, column, -sign * term);
            }
            put(line, 5, -1.0);
            bounds.push(-sign * row.away);
        }
    }
    for column in 0..4 {
        for (sign, line) in [(1.0, 0), (-1.0, 1)] {
            put(2 * rows.len() + 2 * column + line, column, sign);
            bounds.push(reach);
        }
    }
    let matrix = CscMatrix::new_from_triplets(size, 6, at, of, value);
    let cones = [SupportedConeT::NonnegativeConeT(size)];
    let price = [0.0, 0.0, 0.0, 0.0, 0.0, 1.0];
    let mut solver =
        DefaultSolver::new(&CscMatrix::zeros((6, 6)), &price, &matrix, &bounds, &cones, settings()?).ok()?;
    solver.solve();
    let solved = matches!(solver.solution.status, SolverStatus::Solved | SolverStatus::AlmostSolved);
    match solver.solution.x.as_slice() {
        &[a, b, c, d, _, h] if solved && [a, b, c, d, h].iter().all(|x| x.is_finite()) => {
            Some(([a, b, c, d], h))
        }
        _ => None,
    }
}

fn moved(axis: &Line, moves: [f64; 4], half_length_mm: f64, scale_mm: f64) -> Line {
    let direction = Vector3::from(axis.direction);
    let [right, up] = across(direction);
    let [a, b, c, d] = moves.map(|part| part * scale_mm);
    let point = Vector3::from(axis.point_mm) + right * a + up * c;
    let direction = (direction + (right * b + up * d) / half_length_mm).normalize();
    Line { point_mm: point.into(), direction: direction.into() }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    /// Rings about Z with radial errors; the axis leans a little.
    fn rings(radius: f64, lean: f64, number: u32, depths: &[f64], errors: &[f64]) -> Vec<[f64; 3]> {
        let mut errors = errors.iter().cycle();
        let mut points = Vec::new();
        for &z in depths {
            for i in 0..number {
                let (sin, cos) = (f64::from(i) * std::f64::consts::TAU / f64::from(number)).sin_cos();
                let r = radius + errors.next().unwrap();
                points.push([r * cos + lean * z, r * sin, z]);
            }
        }
        points
    }

    /// Width of the zone about any axis.
    fn width(points: &[[f64; 3]], axis: &Line) -> f64 {
        let distances = points.iter().map(|&at| axis.distance_mm(at));
        let (least, most) = distances.fold((f64::MAX, 0.0f64), |(a, b), d| (a.min(d), b.max(d)));
        most - least
    }

    #[test]
    fn a_true_cylinder_has_no_zone() {
        let points = rings(48.0, 0.0, 12, &[0.0, 60.0, 120.0], &[0.0]);
        assert!(minimum_zone_cylinder_along(&points, [0.0, 0.0, 1.0]).unwrap().cylindricity_mm() < 1e-9);
    }

    #[test]
    fn an_oval_bore_has_its_two_axes_for_a_zone() {
        // r = 48 + 0.01 cos 2a at every depth: by symmetry the axis is the true one, the zone 0.02.
        let errors: Vec<f64> =
            (0..24).map(|i| 0.01 * (f64::from(i) * std::f64::consts::TAU / 12.0).cos()).collect();
        let points = rings(48.0, 0.0, 24, &[0.0, 60.0, 120.0], &errors);
        let zone = minimum_zone_cylinder_along(&points, [0.02, 0.0, 1.0]).unwrap();
        assert!((zone.cylindricity_mm() - 0.02).abs() < 1e-9, "{zone:?}");
    }

    #[test]
    fn many_points_are_weighed_by_their_extremes() {
        let errors: Vec<f64> = (0..997).map(|i| 0.005 * (f64::from(i) * 12.9898).sin()).collect();
        let depths: Vec<f64> = (0..20).map(f64::from).collect();
        let points = rings(48.0, 0.0, 1000, &depths, &errors);
        let zone = minimum_zone_cylinder_along(&points, [0.0, 0.0, 1.0]).unwrap();
        let fitted = fit_cylinder_along(&points, [0.0, 0.0, 1.0]).unwrap();
        assert!(zone.cylindricity_mm() <= fitted.cylindricity_mm);
        assert!((width(&points, &zone.axis) - zone.cylindricity_mm()).abs() < 1e-12);
        assert!(zone.cylindricity_mm() > 0.0099 && zone.cylindricity_mm() < 0.010_000_1, "{zone:?}");
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(48))]
        #[test]
        fn no_nudge_of_the_axis_makes_the_zone_narrower(
            radius in 20.0..80.0f64,
            size_mm in 1e-3..0.1f64,
            errors in prop::collection::vec(-1.0..1.0f64, 40..80),
            number in 6..14u32,
            nudges in prop::collection::vec(prop::array::uniform4(-1.0..1.0f64), 40),
        ) {
            let errors: Vec<f64> = errors.iter().map(|e| e * size_mm).collect();
            let points = rings(radius, 0.0005, number, &[0.0, 40.0, 80.0, 120.0], &errors);
            let zone = minimum_zone_cylinder_along(&points, [0.0, 0.0, 1.0]).unwrap();
            let found = zone.cylindricity_mm();
            prop_assert!(found <= fit_cylinder_along(&points, [0.0, 0.0, 1.0]).unwrap().cylindricity_mm + 1e-12);
            prop_assert!(found <= 2.0 * size_mm + 1e-9);
            for size in [1e-4, 1e-3, 1e-2, 0.1] {
                for nudge in &nudges {
                    let [a, b, c, d] = nudge.map(|part| part * size * size_mm);
                    let [x, y, z] = zone.axis.point_mm;
                    let [p, q, r] = zone.axis.direction;
                    let turned = Vector3::new(p + b / 60.0, q + d / 60.0, r).normalize();
                    let other = Line { point_mm: [x + a, y + c, z], direction: turned.into() };
                    prop_assert!(width(&points, &other) >= found * (1.0 - 1e-7), "{found} {size}");
                }
            }
        }
    }
}
