//! The linear program of a square of centres, with the proof of its least value.

use nalgebra::{Matrix4, Vector2, Vector4};

use super::lists::{Square, farthest, nearest};
use super::ring::Wall;

/// A pivot smaller than this share of the largest is rounding.
const LEAST_PIVOT: f64 = 1e-12;
/// A row is broken where it is missed by more than this share of the squared radius: a few roundings.
const BROKEN: f64 = 16.0 * f64::EPSILON;
/// The most exchanges; five to fifteen are usual. A value cut short is still a bound.
const MOST_EXCHANGES: usize = 200;

/// The points and edges that a centre in a square has to do with.
#[derive(Debug, Clone, Copy)]
pub(super) struct Field<'a> {
    /// Points that can be the farthest; none where only the nearest matters.
    pub(super) outer: &'a [Vector2<f64>],
    /// Points that can be the nearest.
    pub(super) inner: &'a [Vector2<f64>],
    /// Edges that the centre must stay inside of.
    pub(super) walls: &'a [Wall],
}

/// The answer to a linear program.
#[derive(Debug, Clone, Copy)]
pub(super) struct Lowest {
    /// Its least value, or a bound below it.
    pub(super) value: f64,
    /// Where.
    pub(super) at: Vector2<f64>,
}

/// One row `normal`·(x, y, f, g) ≥ `least`.
#[derive(Debug, Clone, Copy)]
struct Row {
    normal: Vector4<f64>,
    least: f64,
}

impl Row {
    /// f ≥ |p|² - 2 p·x, p seen from the middle.
    fn outer(away: Vector2<f64>) -> Self {
        Self { normal: Vector4::new(2.0 * away.x, 2.0 * away.y, 1.0, 0.0), least: away.norm_squared() }
    }

    /// g ≤ |p|² - 2 p·x.
    fn inner(away: Vector2<f64>) -> Self {
        Self { normal: Vector4::new(-2.0 * away.x, -2.0 * away.y, 0.0, -1.0), least: -away.norm_squared() }
    }

    fn wall(inward: Vector2<f64>, least: f64) -> Self {
        Self { normal: Vector4::new(inward.x, inward.y, 0.0, 0.0), least }
    }
}

/// The least of `slope`·(x - `about`) + f(x) - g(x) over centres x in the square and inside the walls, where f
/// is the greatest of |p - a|² - 2 (p - a)·(x - a) over the outer points (0 without any), g the least of the
/// same over the inner points, a = `about`, a place of the square. `None` where the walls leave no centre.
///
/// Method: the dual simplex method (C. E. Lemke, Naval Research Logistics Quarterly 1, 1954): four rows at a
/// time, the most broken of all others coming in, so that each step's value is a bound below the least one,
/// and the last the least itself.
pub(super) fn lowest(
    field: &Field,
    square: &Square,
    about: Vector2<f64>,
    slope: Vector2<f64>,
) -> Option<Lowest> {
    let shift = square.centre - about;
    let sides = [Vector2::x(), -Vector2::x(), Vector2::y(), -Vector2::y()]
        .map(|inward| Row::wall(inward, inward.dot(&shift) - square.half));
    let (near, near_squared) = nearest(field.inner, about)?;
    let far = farthest(field.outer, about);
    let far_row = far.map_or(Row::outer(Vector2::zeros()), |(at, _)| Row::outer(at - about));
    let near_row = Row::inner(near - about);
    let size = far.map_or(near_squared, |(_, squared)| squared);
    let cost = Vector4::new(slope.x, slope.y, 1.0, -1.0);
    // The sides make up what the two points leave of the cost.
    let left = cost - far_row.normal - near_row.normal;
    let across = if left.x >= 0.0 { sides[0] } else { sides[1] };
    let along = if left.y >= 0.0 { sides[2] } else { sides[3] };
    let mut basis = [far_row, near_row, across, along];
    let mut answer: Option<Lowest> = None;
    for _ in 0..MOST_EXCHANGES {
        let rows = Matrix4::from_rows(&basis.map(|row| row.normal.transpose()));
        let least = Vector4::from(basis.map(|row| row.least));
        let (Some(place), Some(prices)) = (rows.lu().solve(&least), rows.transpose().lu().solve(&cost))
        else {
            break;
        };
        let value = prices.dot(&least);
        if !value.is_finite() || prices.min() < -1e-9 * prices.amax() {
            // A basis this close to flat proves nothing more.
            break;
        }
        let step = Vector2::new(place.x, place.y);
        let at = about + step;
        if answer.is_none_or(|before| value >= before.value) {
            answer = Some(Lowest { value, at });
        }
        let broken = most_broken(field, &sides, about, step, place, size);
        let Some(coming) = broken else { return Some(Lowest { value, at }) };
        let share = rows.transpose().lu().solve(&coming.normal)?;
        let tiny = LEAST_PIVOT * share.amax();
        let ratio = |&i: &usize| prices[i].max(0.0) / share[i];
        let leaving = (0..4).filter(|&i| share[i] > tiny).min_by(|a, b| ratio(a).total_cmp(&ratio(b)));
        match leaving {
            Some(leaving) => basis[leaving] = coming,
            None if field.walls.is_empty() => break,
            None => return None,
        }
    }
    // Cut short, the last value is still a bound; without any value none is claimed.
    Some(answer.unwrap_or(Lowest { value: f64::NEG_INFINITY, at: about }))
}

/// The row that the place misses by most, if any is missed.
fn most_broken(
    field: &Field,
    sides: &[Row; 4],
    about: Vector2<f64>,
    step: Vector2<f64>,
    place: Vector4<f64>,
    size: f64,
) -> Option<Row> {
    let at = about + step;
    // The envelopes are the squared distances from the place itself, less |step|².
    let far = farthest(field.outer, at).map(|(at, _)| Row::outer(at - about));
    let near = nearest(field.inner, at).map(|(at, _)| Row::inner(at - about));
    let wall = field.walls.iter().min_by(|a, b| a.inside_by(at).total_cmp(&b.inside_by(at)));
    let wall = wall.map(|wall| Row::wall(wall.inward, wall.from - wall.inward.dot(&about)));
    let none = field.outer.is_empty().then(|| Row::outer(Vector2::zeros()));
    let missed = |row: &Row| {
        let by = row.least - row.normal.dot(&place);
        // Edges miss by a length, points by a square.
        if row.normal.z == 0.0 && row.normal.w == 0.0 { by * 2.0 * size.sqrt() } else { by }
    };
    let rows = sides.iter().copied().chain(far).chain(near).chain(wall).chain(none);
    let most = rows.max_by(|a, b| missed(a).total_cmp(&missed(b)))?;
    (missed(&most) > BROKEN * size).then_some(most)
}
