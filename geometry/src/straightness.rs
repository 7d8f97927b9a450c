//! The thinnest cylinder that holds all points of a line in space: its straightness.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettings, DefaultSettingsBuilder, DefaultSolver, IPSolver, SolverStatus, SupportedConeT,
};
use nalgebra::Vector3;

use crate::cylinder::across;
use crate::line::{Cloud, Line, LineError, fit_line};

/// The thinnest cylinder round a row of points.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ZoneLine {
    /// Its axis, from the first point towards the last.
    pub line: Line,
    /// Its diameter, mm: the straightness of the points as a line in space, for the zone "cylinder of diameter t"
    /// of ISO 1101:2017.
    pub diameter_mm: f64,
}

/// Why no thinnest cylinder was found.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum ZoneError {
    /// The points have no line to start from.
    #[error(transparent)]
    Line(#[from] LineError),
    /// The search did not end: the points are not those of a line.
    #[error("no thinnest cylinder round the points was found")]
    NotConverged,
}

/// The most turns onto the result. Two to four are usual.
const MOST_TURNS: usize = 30;
/// A turn that moves the ends of the line by less than this share of the zone leaves the diameter alone: its
/// effect is the share times the zone over the length, squared.
const STILL: f64 = 1e-6;
/// A turn below this share still leaves the diameter within the share's square of the thinnest; accepted where the
/// solver stops short of its tolerance.
const NEARLY_STILL: f64 = 1e-3;
/// Widths that differ by less than this share are one.
const ONE_WIDTH: f64 = 1e-6;
/// The solver's tolerances for a problem whose answer is near 1: two digits inside the 1e-8 that a
/// diameter of the NIST lines is known to, where it still ends reliably.
const SOLVER_TOLERANCE: f64 = 1e-10;
/// The tolerance asked for where the solver does not reach the tight one.
const LOOSER_TOLERANCE: f64 = 1e-8;

/// The thinnest cylinder that holds all `points_mm` (n points of x, y, z, mm; n ≥ 2), of any length.
///
/// Method: with the line along one axis t and the points at (uᵢ, vᵢ, tᵢ), the least r for which
/// |(uᵢ - a - b tᵢ, vᵢ - c - d tᵢ)| ≤ r for all i is a second-order cone problem, solved to its proven optimum
/// by an interior-point method (the crate clarabel). The start is the least-squares line; the points are
/// turned onto the result and the problem solved again until the line no longer moves, so that r becomes the
/// true distance. The diameter given back is measured from the points to the line, and so never too small.
/// Accuracy: 1e-8 of the diameter, or the rounding of the coordinates. For points much longer than they are
/// wide there is one optimum; for a cloud as wide as long the one near the least-squares line is found.
///
/// # Errors
/// Fewer than two points, no direction in them, a value that is no number; a search without end.
///
/// ```
/// // Four bearings, the second 0.03 high and the third 0.03 low.
/// let points = [[0.0, 0.0, 0.0], [100.0, 0.0, 0.03], [200.0, 0.0, -0.03], [300.0, 0.0, 0.0]];
/// let zone = borewright_geometry::minimum_zone_line(&points)?;
/// // About the level line 0.06; falling by 0.015 from bearing to bearing, all four are 0.0225 off it.
/// assert!((zone.diameter_mm - 0.045).abs() < 1e-8);
/// # Ok::<(), borewright_geometry::ZoneError>(())
/// ```
pub fn minimum_zone_line(points_mm: &[[f64; 3]]) -> Result<ZoneLine, ZoneError> {
    let start = fit_line(points_mm)?;
    let cloud = Cloud::of(points_mm).ok_or(LineError::NotFinite)?;
    let half_length_mm = points_mm.iter().map(|&at| start.along_mm(at).abs()).fold(0.0, f64::max);
    let scale_mm = widest_mm(&start, points_mm);
    let mut best = ZoneLine { line: start, diameter_mm: 2.0 * scale_mm };
    if scale_mm <= cloud.rounding_mm {
        return Ok(best);
    }
    let (mut line, mut moved, mut gained) = (start, f64::INFINITY, f64::INFINITY);
    for _ in 0..MOST_TURNS {
        let Some(moves) = thinnest(&seen_along(&line, points_mm, half_length_mm, scale_mm)) else { break };
        let [right, up] = across(Vector3::from(line.direction));
        let [a, b, c, d] = moves.map(|part| part * scale_mm);
        let point = Vector3::from(line.point_mm) + right * a + up * c;
        let direction = Vector3::from(line.direction) + (right * b + up * d) / half_length_mm;
        line = Line { point_mm: point.into(), direction: direction.normalize().into() };
        let diameter_mm = 2.0 * widest_mm(&line, points_mm);
        gained = (diameter_mm / best.diameter_mm - 1.0).abs();
        if diameter_mm < best.diameter_mm {
            best = ZoneLine { line, diameter_mm };
        }
        moved = moves.iter().map(|part| part.abs()).fold(0.0, f64::max);
        if moved < STILL {
            return Ok(best);
        }
    }
    // The diameter given back is measured and never too small, so a line that hardly moves any more is good enough; and one that
    // moves among lines of one width, as through a few points at either end of a mandrel.
    if moved < NEARLY_STILL || gained < ONE_WIDTH { Ok(best) } else { Err(ZoneError::NotConverged) }
}

/// The distance of the point farthest from the line.
fn widest_mm(line: &Line, points_mm: &[[f64; 3]]) -> f64 {
    points_mm.iter().map(|&at| line.distance_mm(at)).fold(0.0, f64::max)
}

/// Each point as (t, u, v): along the line in half lengths, across it in units of `scale_mm`.
fn seen_along(line: &Line, points_mm: &[[f64; 3]], half_length_mm: f64, scale_mm: f64) -> Vec<[f64; 3]> {
    let direction = Vector3::from(line.direction);
    let [right, up] = across(direction);
    let seen = |&at: &[f64; 3]| {
        let away = Vector3::from(at) - Vector3::from(line.point_mm);
        [away.dot(&direction) / half_length_mm, away.dot(&right) / scale_mm, away.dot(&up) / scale_mm]
    };
    points_mm.iter().map(seen).collect()
}

/// Up to so many points all are solved with at once.
const MANY: usize = 200;
/// Of more points, those farthest off that are begun with, and added at a time.
const FEW: usize = 40;
/// A point that lies beyond the zone by less than this counts as within it, in units of the zone: ten times the
/// solver's tolerance.
const HELD: f64 = 1e-9;

/// The (a, b, c, d) with the least r such that |(u - a - b t, v - c - d t)| ≤ r for every (t, u, v).
///
/// Of many points the few that the zone rests on are looked for: the farthest are solved with, then those that the
/// answer leaves out are added, until it leaves out none and so is the answer of all.
fn thinnest(seen: &[[f64; 3]]) -> Option<[f64; 4]> {
    if seen.len() <= MANY {
        return thinnest_of(seen).map(|[a, b, c, d, _]| [a, b, c, d]);
    }
    let (mut taken, mut few) = (vec![false; seen.len()], Vec::new());
    let mut zone = [0.0; 5];
    loop {
        let [a, b, c, d, r] = zone;
        let off = |[t, u, v]: [f64; 3]| (u - a - b * t).hypot(v - c - d * t);
        let beyond = |(i, at): (usize, &[f64; 3])| (!taken[i] && off(*at) > r + HELD).then(|| (i, off(*at)));
        let mut out: Vec<(usize, f64)> = seen.iter().enumerate().filter_map(beyond).collect();
        if out.is_empty() {
            return Some([a, b, c, d]);
        }
        if out.len() > FEW {
            out.select_nth_unstable_by(FEW, |a, b| b.1.total_cmp(&a.1).then(a.0.cmp(&b.0)));
            out.truncate(FEW);
        }
        for (i, _) in out {
            taken[i] = true;
            few.push(seen[i]);
        }
        zone = thinnest_of(&few)?;
    }
}

/// The (a, b, c, d, r) with the least r such that |(u - a - b t, v - c - d t)| ≤ r for every (t, u, v), all points
/// solved with at once.
fn thinnest_of(seen: &[[f64; 3]]) -> Option<[f64; 5]> {
    // Unknowns a, b, c, d, r. For each point the three rows (r; u - a - b t; v - c - d t), as s = bounds -
    // rows x.
    let size = 3 * seen.len();
    let mut entries = (Vec::new(), Vec::new(), Vec::new());
    let mut bounds = Vec::with_capacity(size);
    for (first, &[t, u, v]) in (0..size).step_by(3).zip(seen) {
        let parts = [
            (first, 4, -1.0),
            (first + 1, 0, 1.0),
            (first + 1, 1, t),
            (first + 2, 2, 1.0),
            (first + 2, 3, t),
        ];
        for (row, column, value) in parts {
            entries.0.push(row);
            entries.1.push(column);
            entries.2.push(value);
        }
        bounds.extend([0.0, u, v]);
    }
    let rows = CscMatrix::new_from_triplets(size, 5, entries.0, entries.1, entries.2);
    let cones = vec![SupportedConeT::SecondOrderConeT(3); seen.len()];
    let price = [0.0, 0.0, 0.0, 0.0, 1.0];
    // Where rounding keeps the solver from the tight tolerance it is asked for less; the diameter is measured all
    // the same.
    [settings()?, looser()?].into_iter().find_map(|settings| {
        let mut solver =
            DefaultSolver::new(&CscMatrix::zeros((5, 5)), &price, &rows, &bounds, &cones, settings).ok()?;
        solver.solve();
        let solved = matches!(solver.solution.status, SolverStatus::Solved | SolverStatus::AlmostSolved);
        let finite = solver.solution.x.iter().all(|part| part.is_finite());
        match solver.solution.x.as_slice() {
            &[a, b, c, d, r] if solved && finite => Some([a, b, c, d, r]),
            _ => None,
        }
    })
}

/// The solver's settings satisfied with less, for a problem that it does not bring to the tight tolerances.
fn looser() -> Option<DefaultSettings<f64>> {
    DefaultSettingsBuilder::default()
        .verbose(false)
        .tol_gap_abs(LOOSER_TOLERANCE)
        .tol_gap_rel(LOOSER_TOLERANCE)
        .tol_feas(LOOSER_TOLERANCE)
        .reduced_tol_gap_abs(1e-5)
        .reduced_tol_gap_rel(1e-5)
        .reduced_tol_feas(1e-5)
        .build()
        .ok()
}

/// The solver's settings: silent and tight; "almost solved" is taken only at the usual tolerance of a full
/// solution.
pub(crate) fn settings() -> Option<DefaultSettings<f64>> {
    DefaultSettingsBuilder::default()
        .verbose(false)
        .tol_gap_abs(SOLVER_TOLERANCE)
        .tol_gap_rel(SOLVER_TOLERANCE)
        .tol_feas(SOLVER_TOLERANCE)
        .reduced_tol_gap_abs(1e-8)
        .reduced_tol_gap_rel(1e-8)
        .reduced_tol_feas(1e-8)
        .build()
        .ok()
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    #[test]
    fn two_points_and_points_of_one_line_need_no_room() {
        let zone = minimum_zone_line(&[[1.0, 2.0, 3.0], [4.0, 6.0, 3.0]]).unwrap();
        assert!(zone.diameter_mm < 1e-14);
        let points: Vec<[f64; 3]> = (0..9).map(|i| zone.line.at_mm(f64::from(i) * 12.5)).collect();
        assert!(minimum_zone_line(&points).unwrap().diameter_mm < 1e-13);
    }

    #[test]
    fn three_points_need_the_height_of_their_triangle_over_its_longest_side() {
        let zone = minimum_zone_line(&[[0.0, 0.0, 0.0], [70.0, 0.0, 0.24], [200.0, 0.0, 0.0]]).unwrap();
        assert!((zone.diameter_mm - 0.24).abs() < 1e-9, "{zone:?}");
    }

    #[test]
    fn a_zone_no_thinner_than_the_length_is_still_measured_square_to_the_line() {
        // A flat triangle, 50 high over 100: turning onto the result matters here.
        let zone = minimum_zone_line(&[[0.0, 0.0, 0.0], [60.0, 50.0, 0.0], [100.0, 0.0, 0.0]]).unwrap();
        let heights = [50.0, 5000.0 / 60.0f64.hypot(50.0), 5000.0 / 40.0f64.hypot(50.0)];
        assert!(heights.iter().any(|height| (zone.diameter_mm - height).abs() < 1e-6), "{zone:?}");
    }

    #[test]
    fn what_fixes_no_line_has_no_zone() {
        assert_eq!(
            minimum_zone_line(&[[0.0; 3]]).unwrap_err(),
            ZoneError::Line(LineError::TooFewPoints { found: 1 })
        );
        assert_eq!(
            minimum_zone_line(&[[0.0; 3], [f64::NAN; 3]]).unwrap_err(),
            ZoneError::Line(LineError::NotFinite)
        );
    }

    #[test]
    fn many_points_have_the_zone_of_all_of_them() {
        let point = |i: u32| {
            let t = f64::from(i);
            [t * 0.1, 0.02 * (t * 0.37).sin() * (t * 0.011).cos(), 0.01 * (t * 0.73).cos() + 1e-5 * t]
        };
        let points: Vec<[f64; 3]> = (0..3000).map(point).collect();
        let start = fit_line(&points).unwrap();
        let seen = seen_along(&start, &points, 150.0, widest_mm(&start, &points));
        let (few, all) = (thinnest(&seen).unwrap(), thinnest_of(&seen).unwrap());
        for (few, all) in few.iter().zip(all) {
            assert!((few - all).abs() < 1e-6, "{few} {all}");
        }
        let diameter = minimum_zone_line(&points).unwrap().diameter_mm;
        let about = |r: f64| 2.0 * r * widest_mm(&start, &points);
        assert!((diameter - about(all[4])).abs() < 1e-8, "{diameter} {}", about(all[4]));
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]
        #[test]
        fn the_thinnest_cylinder_is_no_thicker_than_the_planted_one_and_no_nudge_makes_it_thinner(
            direction in prop::array::uniform3(-1.0..1.0f64),
            across_mm in prop::collection::vec((0.0..1.0f64, 0.0..6.3f64), 3..20),
            planted_mm in 1e-3..1.0f64,
            nudge in prop::array::uniform4(-1.0..1.0f64),
        ) {
            let direction = Vector3::from(direction);
            prop_assume!(direction.norm() > 0.1);
            let planted = Line { point_mm: [40.0, -90.0, 10.0], direction: direction.normalize().into() };
            let [right, up] = across(Vector3::from(planted.direction));
            let place = |((r, angle), i): (&(f64, f64), u32)| -> [f64; 3] {
                let aside = (right * angle.cos() + up * angle.sin()) * (r * planted_mm / 2.0);
                (Vector3::from(planted.at_mm(f64::from(i) * 100.0)) + aside).into()
            };
            let points: Vec<[f64; 3]> = across_mm.iter().zip(0..).map(place).collect();
            let zone = minimum_zone_line(&points).unwrap();
            prop_assert!(zone.diameter_mm <= planted_mm * (1.0 + 1e-9));
            for size in [1e-3, 1e-2, 0.1] {
                let [a, b, c, d] = nudge.map(|part| part * size * planted_mm);
                let point = Vector3::from(zone.line.point_mm) + right * a + up * b;
                let turned = Vector3::from(zone.line.direction) + (right * c + up * d) / 1000.0;
                let other = Line { point_mm: point.into(), direction: turned.normalize().into() };
                prop_assert!(2.0 * widest_mm(&other, &points) >= zone.diameter_mm * (1.0 - 1e-8));
            }
        }
    }
}
