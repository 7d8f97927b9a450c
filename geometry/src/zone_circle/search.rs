//! Branch and bound over squares of centres.

use std::rc::Rc;

use nalgebra::Vector2;

use super::lists::{Side, Square, farthest, nearest, thinned};
use super::program::{Field, lowest};
use super::ring::Wall;

/// A square is given up when it cannot better the best by more than this share of the radius: some hundred
/// roundings, and on a 100 mm bore 5e-12 mm.
const GAIN: f64 = 1e-13;
/// The most squares looked at. Rings take one to some dozens, and a cloud of points that is no ring may take
/// thousands.
const MOST_SQUARES: usize = 20_000;
/// The most steps of one walk downhill; three to five are usual.
const MOST_STEPS: usize = 30;
/// Outside a wall by this much, in units of the points' reach, is on it.
const ON_WALL: f64 = 1e-13;

/// What is looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Aim {
    /// The least difference of farthest and nearest.
    Zone,
    /// The greatest distance to the nearest, counted negative.
    Inscribed,
}

/// A square with the points that matter in it.
#[derive(Clone)]
struct Cell {
    square: Square,
    outer: Rc<[Vector2<f64>]>,
    inner: Rc<[Vector2<f64>]>,
}

/// A search and the best centre so far.
pub(super) struct Search<'a> {
    aim: Aim,
    walls: &'a [Wall],
    best: Vector2<f64>,
    /// The width of the zone about the best, or its inscribed radius made negative.
    value: f64,
}

/// The nearest and farthest distances from a place.
struct Look {
    inner: f64,
    value: f64,
    nearest: Vector2<f64>,
}

impl<'a> Search<'a> {
    pub(super) fn new(aim: Aim, walls: &'a [Wall], start: Vector2<f64>) -> Self {
        Self { aim, walls, best: start, value: f64::INFINITY }
    }

    /// The best centre of the square about `centre`; `None` where there is none or the search does not end.
    pub(super) fn run(mut self, centre: Vector2<f64>, half: f64, points: &[Vector2<f64>]) -> Option<Vector2<f64>> {
        let square = Square { centre, half };
        let outer: &[Vector2<f64>] = if self.aim == Aim::Zone { points } else { &[] };
        let start = self.best;
        self.offer(start, outer, points);
        let root = self.thinned(square, outer, points);
        let mut open = vec![root];
        for _ in 0..MOST_SQUARES {
            let Some(cell) = open.pop() else { return self.value.is_finite().then_some(self.best) };
            let quarters = self.quartered(&cell);
            open.extend(quarters);
        }
        None
    }

    /// Its points, thinned where its size allows.
    fn thinned(&self, square: Square, outer: &[Vector2<f64>], inner: &[Vector2<f64>]) -> Cell {
        let outer = thinned(outer, &square, Side::Far).into();
        let inner = thinned(inner, &square, Side::Near).into();
        Cell { square, outer, inner }
    }

    /// Takes a centre if it is better than the best.
    fn offer(&mut self, at: Vector2<f64>, outer: &[Vector2<f64>], inner: &[Vector2<f64>]) -> Option<Look> {
        let (nearest, squared) = nearest(inner, at)?;
        let inner = squared.sqrt();
        let value = farthest(outer, at).map_or(0.0, |(_, squared)| squared.sqrt()) - inner;
        let within = self.walls.iter().all(|wall| wall.inside_by(at) >= -ON_WALL);
        if within && value < self.value {
            (self.best, self.value) = (at, value);
        }
        Some(Look { inner, value, nearest })
    }

    /// Looks into a square; its quarters are given back unless nothing better can be in it.
    fn quartered(&mut self, cell: &Cell) -> Vec<Cell> {
        let Square { centre, half } = cell.square;
        let corner = cell.square.corner();
        let outside = |wall: &Wall| wall.inside_by(centre) < -corner;
        if self.walls.iter().any(outside) {
            return Vec::new();
        }
        let Some(look) = self.offer(centre, &cell.outer, &cell.inner) else { return Vec::new() };
        let radius = look.inner.max(-self.value).max(f64::MIN_POSITIVE);
        let slack = GAIN * radius;
        // No distance changes faster than the place does.
        let lipschitz = if self.aim == Aim::Zone { 2.0 * corner } else { corner };
        if look.value - lipschitz >= self.value - slack {
            return Vec::new();
        }
        if half <= f64::EPSILON * radius {
            return Vec::new();
        }
        let cell = self.thinned(cell.square, &cell.outer, &cell.inner);
        // A program over a square as large as the ring says little and costs much.
        if look.inner > 2.0 * corner && self.settled(&cell, &look) {
            return Vec::new();
        }
        let mut quarters = cell.square.quarters();
        // The last goes first.
        quarters.sort_by(|a, b| (b.centre - self.best).norm().total_cmp(&(a.centre - self.best).norm()));
        quarters.map(|square| Cell { square, ..cell.clone() }).into()
    }

    /// Walks downhill in a square and tells whether nothing better is left in it.
    fn settled(&mut self, cell: &Cell, look: &Look) -> bool {
        let Square { centre, half } = cell.square;
        let near_walls: Vec<Wall> = self
            .walls
            .iter()
            .copied()
            .filter(|wall| wall.inside_by(centre) <= 2.0 * cell.square.corner())
            .collect();
        let field = Field { outer: &cell.outer, inner: &cell.inner, walls: &near_walls };
        let slope_at = |look: &Look, at: Vector2<f64>, width: f64| match self.aim {
            Aim::Zone => (look.nearest - at) / look.inner * (2.0 * width),
            Aim::Inscribed => Vector2::zeros(),
        };
        let mut width = self.value;
        let slope = slope_at(look, centre, width);
        let Some(first) = lowest(&field, &cell.square, centre, slope) else { return true };
        let mut at = first.at;
        let mut reached = f64::INFINITY;
        for _ in 0..MOST_STEPS {
            let inside = Vector2::new(
                at.x.clamp(centre.x - half, centre.x + half),
                at.y.clamp(centre.y - half, centre.y + half),
            );
            let Some(there) = self.offer(inside, &cell.outer, &cell.inner) else { break };
            if there.value >= reached {
                break;
            }
            reached = there.value;
            let slope = slope_at(&there, inside, there.value.min(self.value));
            let Some(next) = lowest(&field, &cell.square, inside, slope) else { break };
            at = next.at;
        }
        let corner = cell.square.corner();
        let slack = GAIN * look.inner;
        match self.aim {
            Aim::Inscribed => {
                let most = corner * corner - first.value;
                most <= self.value * self.value + 2.0 * look.inner * slack
            }
            Aim::Zone => {
                // With the best found on the way, if the slope then was not much steeper.
                let steep = slope.norm();
                let bend = corner * corner / (look.inner - corner);
                let mut value = first.value;
                if self.value < width {
                    width = self.value;
                    let slope = (look.nearest - centre) / look.inner * (2.0 * width);
                    value = match lowest(&field, &cell.square, centre, slope) {
                        Some(again) => again.value,
                        None => return true,
                    };
                } else if !steep.is_finite() {
                    return false;
                }
                value >= width * (2.0 * look.inner + bend + width) - 2.0 * look.inner * slack
            }
        }
    }
}
