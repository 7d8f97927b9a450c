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
/// A square that reaches farther than this share of the distance to the nearest point is only quartered: thinning
/// and programs would say little there and cost much.
const SMALL: f64 = 0.25;
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

impl Cell {
    /// This cell without the points that none of its centres can touch.
    fn thinned(&self) -> Self {
        let outer = thinned(&self.outer, &self.square, Side::Far).into();
        let inner = thinned(&self.inner, &self.square, Side::Near).into();
        Self { square: self.square, outer, inner }
    }
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
    pub(super) fn run(
        mut self,
        centre: Vector2<f64>,
        half: f64,
        points: &[Vector2<f64>],
    ) -> Option<Vector2<f64>> {
        let inner: Rc<[Vector2<f64>]> = points.into();
        let outer = if self.aim == Aim::Zone { Rc::clone(&inner) } else { Rc::new([]) };
        self.offer(self.best, &outer, &inner);
        let root = Cell { square: Square { centre, half }, outer, inner };
        let mut open = vec![root];
        for _ in 0..MOST_SQUARES {
            let Some(cell) = open.pop() else { return self.value.is_finite().then_some(self.best) };
            let quarters = self.quartered(&cell);
            open.extend(quarters);
        }
        None
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
        let small = corner < look.inner * SMALL;
        let cell = if small { cell.thinned() } else { cell.clone() };
        if small && self.settled(&cell, &look) {
            return Vec::new();
        }
        let mut quarters = cell.square.quarters();
        // The last goes first.
        quarters.sort_by(|a, b| (b.centre - self.best).norm().total_cmp(&(a.centre - self.best).norm()));
        quarters.map(|square| Cell { square, ..cell.clone() }).into()
    }

    /// Walks downhill in a square and tells whether nothing better is left in it.
    fn settled(&mut self, cell: &Cell, look: &Look) -> bool {
        let (centre, corner) = (cell.square.centre, cell.square.corner());
        let near = |wall: &&Wall| wall.inside_by(centre) <= 2.0 * corner;
        let walls: Vec<Wall> = self.walls.iter().filter(near).copied().collect();
        let field = Field { outer: &cell.outer, inner: &cell.inner, walls: &walls };
        self.walk(&field, &cell.square, look);
        let width = self.value;
        let slope = self.slope(look, centre);
        let Some(bound) = lowest(&field, &cell.square, centre, slope) else { return true };
        if !width.is_finite() {
            return false;
        }
        let slack = 2.0 * GAIN * look.inner * look.inner;
        match self.aim {
            Aim::Inscribed => corner * corner - bound.value <= width * width + slack,
            Aim::Zone => {
                let bend = corner * corner / (look.inner - corner);
                bound.value >= width * (2.0 * look.inner + bend + width) - slack
            }
        }
    }

    /// Walks downhill from the centre of a square, each step to the least value of the program about the last
    /// place.
    fn walk(&mut self, field: &Field, square: &Square, look: &Look) {
        let mut slope = self.slope(look, square.centre);
        let mut at = square.centre;
        let mut reached = f64::INFINITY;
        for _ in 0..MOST_STEPS {
            let Some(step) = lowest(field, square, at, slope) else { return };
            at = square.kept(step.at);
            let Some(there) = self.offer(at, field.outer, field.inner) else { return };
            if there.value >= reached {
                return;
            }
            reached = there.value;
            slope = self.slope(&there, at);
        }
    }

    /// The slope that a program needs beside its envelopes: of w (2 D + w) for a zone of width w, and none for
    /// an inscribed circle, where |x - a|² is level at a.
    fn slope(&self, look: &Look, at: Vector2<f64>) -> Vector2<f64> {
        match self.aim {
            Aim::Zone => (look.nearest - at) * (2.0 * self.value / look.inner),
            Aim::Inscribed => Vector2::zeros(),
        }
    }
}
