//! Outlines of a field's area: a square is divided where an edge can be, the smallest squares are contoured, each
//! crossing is closed in on, and corners between two limits are solved for.

use borewright_geometry::clock::distance_mm;

use std::collections::BTreeMap;
use std::rc::Rc;

use super::field::{Demand, Field};
use super::{Edge, Outline};
use crate::plan::rounding::plan as round;

/// The smallest squares are no larger than this, mm: an area, a hole or a neck narrower than it may be missed.
const LARGEST_CELL_MM: f64 = 0.005;
/// The smallest squares are no larger than what is looked at over this, so that small zones are round too.
const LEAST_ACROSS: f64 = 64.0;
/// Squares across at most, as a power of two: more than the widest search needs.
const MOST_HALVINGS: u32 = 12;
/// Crossings are closed in on to this, mm.
const CROSSING_MM: f64 = 1e-7;
/// Points are left out of an edge where it stays this near to the straight line, mm, and this share of what is
/// looked at: a small zone is drawn large.
const STRAIGHT_MM: f64 = 5e-4;
const STRAIGHT_SHARE: f64 = 1.0 / 500.0;
/// A corner keeps every other limit to this, mm.
const CORNER_MM: f64 = 1e-6;

/// A point of an outline and the demand that makes the edge there.
#[derive(Debug, Clone, Copy)]
struct Crossing {
    at: [f64; 2],
    demand: usize,
}

/// A smallest square that an edge may run through, with the demands that matter in it.
struct Cell {
    column: u32,
    row: u32,
    demands: Rc<[usize]>,
}

/// The divided square.
struct Grid<'f> {
    field: &'f Field,
    origin_mm: [f64; 2],
    cell_mm: f64,
    straight_mm: f64,
}

/// The outlines of a field's area, in the order in which they are met from low x.
pub(super) fn outlines(field: &Field) -> Vec<Outline> {
    let [x, y] = field.window_mm;
    let side = (x[1] - x[0]).max(y[1] - y[0]);
    // Empty, or no figures at all.
    if !(x[1] > x[0] && y[1] > y[0] && side.is_finite()) {
        return Vec::new();
    }
    let wanted = LARGEST_CELL_MM.min(side / LEAST_ACROSS);
    let mut halvings = 1;
    while halvings < MOST_HALVINGS && side / f64::from(1_u32 << halvings) > wanted {
        halvings += 1;
    }
    let across = 1_u32 << halvings;
    // Three squares over on every side: the outermost corners are outside, and outlines close.
    let cell_mm = side / (f64::from(across) - 6.0);
    let origin_mm = [x, y].map(|span| (span[0] + span[1]) / 2.0 - cell_mm * f64::from(across) / 2.0);
    let straight_mm = STRAIGHT_MM.min(side * STRAIGHT_SHARE);
    let grid = Grid { field, origin_mm, cell_mm, straight_mm };
    grid.contour(&grid.divide(across))
}

impl Grid<'_> {
    fn corner(&self, column: u32, row: u32) -> [f64; 2] {
        [
            self.origin_mm[0] + self.cell_mm * f64::from(column),
            self.origin_mm[1] + self.cell_mm * f64::from(row),
        ]
    }

    fn demand(&self, index: usize) -> &Demand {
        &self.field.demands[index]
    }

    /// The least of some demands, and which it is.
    fn least(&self, demands: &[usize], at: [f64; 2]) -> (f64, usize) {
        demands
            .iter()
            .map(|&i| (self.demand(i).value_mm(at), i))
            .min_by(|a, b| a.0.total_cmp(&b.0))
            .unwrap_or((f64::INFINITY, 0))
    }

    /// The smallest squares through which an edge may run. A square is let go only where some demand is broken
    /// all over it, or none is anywhere in it.
    fn divide(&self, across: u32) -> Vec<Cell> {
        let mut cells = Vec::new();
        let all: Rc<[usize]> = (0..self.field.demands.len()).collect();
        let mut open = vec![(0_u32, 0_u32, across, all)];
        while let Some((column, row, size, demands)) = open.pop() {
            let width = self.cell_mm * f64::from(size);
            let corner = self.corner(column, row);
            let middle = corner.map(|c| c + width / 2.0);
            // A hair over the half diagonal, so that rounding cannot let a corner slip.
            let half = width * (std::f64::consts::FRAC_1_SQRT_2 + 1e-9) + 1e-12;
            let mut kept = Vec::new();
            let mut outside = false;
            for &i in demands.iter() {
                let (value, reach) = self.demand(i).value_and_reach_mm(middle, half);
                // A value that is no number is no place to stand.
                outside |= value < -reach || value.is_nan();
                if value <= reach {
                    kept.push(i);
                }
            }
            if outside || kept.is_empty() {
                continue;
            }
            let kept: Rc<[usize]> = kept.into();
            if size == 1 {
                cells.push(Cell { column, row, demands: kept });
                continue;
            }
            let half_size = size / 2;
            for (dx, dy) in [(1, 1), (0, 1), (1, 0), (0, 0)] {
                open.push((column + dx * half_size, row + dy * half_size, half_size, Rc::clone(&kept)));
            }
        }
        cells
    }

    /// Closed outlines of the area through these smallest squares, the area on their left, by marching squares.
    fn contour(&self, cells: &[Cell]) -> Vec<Outline> {
        // Crossings by the grid line they lie on: column, row, and 0 along x or 1 along y.
        let mut places: BTreeMap<(u32, u32, u8), usize> = BTreeMap::new();
        let mut crossings: Vec<Crossing> = Vec::new();
        // From each crossing to the next, and the cell between.
        let mut next: BTreeMap<usize, (usize, usize)> = BTreeMap::new();
        for (index, cell) in cells.iter().enumerate() {
            let (c, r) = (cell.column, cell.row);
            let corners = [(c, r), (c + 1, r), (c + 1, r + 1), (c, r + 1)].map(|(c, r)| self.corner(c, r));
            let values = corners.map(|at| self.least(&cell.demands, at).0);
            let inside = values.map(|value| value >= 0.0);
            let lines = [(c, r, 0), (c + 1, r, 1), (c, r + 1, 0), (c, r, 1)];
            let mut cross = |side: usize| {
                *places.entry(lines[side]).or_insert_with(|| {
                    let [one, other] = [side, (side + 1) % 4].map(|k| (corners[k], values[k]));
                    let (within, without) = if inside[side] { (one, other) } else { (other, one) };
                    crossings.push(self.crossing(&cell.demands, within, without));
                    crossings.len() - 1
                })
            };
            // Going round anticlockwise, an outline with the area on its left enters the square where the way
            // round leaves the area, and leaves it where the way round comes back.
            let leaves: Vec<usize> = (0..4).filter(|&k| inside[k] && !inside[(k + 1) % 4]).collect();
            for &from in &leaves {
                // Two ways through a saddle: cut off the outside corner if the middle is inside, else the inside one.
                let middle = || corners[0].map(|v| v + self.cell_mm / 2.0);
                let joined = leaves.len() == 2 && self.least(&cell.demands, middle()).0 >= 0.0;
                let back = |k: &usize| !inside[*k] && inside[(*k + 1) % 4];
                let to = if joined {
                    (1..4).map(|step| (from + step) % 4).find(back)
                } else {
                    (1..4).map(|step| (from + 4 - step) % 4).find(back)
                };
                if let Some(to) = to {
                    let (from, to) = (cross(from), cross(to));
                    next.insert(from, (to, index));
                }
            }
        }
        let mut outlines = Vec::new();
        while let Some((&first, _)) = next.first_key_value() {
            let mut loop_of = Vec::new();
            let mut at = first;
            while let Some((to, cell)) = next.remove(&at) {
                loop_of.push((crossings[at], cell));
                at = to;
            }
            outlines.extend(self.outline(&loop_of, cells));
        }
        outlines
    }

    /// Where the area ends between a point within and one without.
    ///
    /// By false position, with a stale end's value halved (the Illinois way), each try half of what is asked away
    /// from both ends at least: where a limit is nearly straight four tries do. What that does not end, halving
    /// does.
    fn crossing(
        &self,
        demands: &[usize],
        (mut within, mut inner): ([f64; 2], f64),
        (mut without, mut outer): ([f64; 2], f64),
    ) -> Crossing {
        const FALSE_POSITIONS: u8 = 12;
        let (mut tries, mut last) = (0, None);
        loop {
            let apart = (within[0] - without[0]).abs().max((within[1] - without[1]).abs());
            if apart <= CROSSING_MM {
                break;
            }
            let least = CROSSING_MM / 2.0 / apart;
            let share = inner / (inner - outer);
            tries += 1;
            let share = if tries <= FALSE_POSITIONS && share.is_finite() {
                share.clamp(least, 1.0 - least)
            } else {
                0.5
            };
            let next = [0, 1].map(|k| within[k] + share * (without[k] - within[k]));
            let (value, demand) = self.least(demands, next);
            let inside = value >= 0.0;
            // On the edge as nearly as is asked, by the limit itself.
            if inside && value <= CROSSING_MM {
                return Crossing { at: next, demand };
            }
            if inside {
                (within, inner) = (next, value);
                outer = if last == Some(inside) { outer / 2.0 } else { outer };
            } else {
                (without, outer) = (next, value);
                inner = if last == Some(inside) { inner / 2.0 } else { inner };
            }
            last = Some(inside);
        }
        Crossing { at: within, demand: self.least(demands, without).1 }
    }

    /// A closed row of crossings as edges, each from corner to corner.
    fn outline(&self, row: &[(Crossing, usize)], cells: &[Cell]) -> Option<Outline> {
        let mut points: Vec<(Crossing, bool)> = Vec::new();
        for (i, (here, cell)) in row.iter().enumerate() {
            let (there, _) = row[(i + 1) % row.len()];
            points.push((*here, false));
            if here.demand != there.demand {
                points.extend(self.corners(*here, there, &cells[*cell].demands).map(|c| (c, true)));
            }
        }
        // Starts where another limit takes over, if one does.
        let count = points.len();
        let turns =
            |i: &usize| points[*i].1 || points[*i].0.demand != points[(i + count - 1) % count].0.demand;
        let start = (0..count).find(turns).unwrap_or(0);
        points.rotate_left(start);
        let first = points.first()?.0;
        let mut edges: Vec<(usize, Vec<[f64; 2]>)> = vec![(first.demand, vec![first.at])];
        for (point, corner) in points.iter().skip(1) {
            let Some((demand, along)) = edges.last_mut() else { continue };
            along.push(point.at);
            // A corner carries the demand of the edge that begins there.
            if *corner || point.demand != *demand {
                edges.push((point.demand, vec![point.at]));
            }
        }
        edges.last_mut()?.1.push(first.at);
        let area: f64 = edges
            .iter()
            .flat_map(|(_, along)| along.windows(2))
            .map(|w| {
                (w[0][0] - first.at[0]) * (w[1][1] - first.at[1])
                    - (w[1][0] - first.at[0]) * (w[0][1] - first.at[1])
            })
            .sum();
        let edges = edges
            .into_iter()
            .map(|(demand, along)| Edge {
                made_by: self.demand(demand).made_by.clone(),
                points: straightened(&along, self.straight_mm).into_iter().map(|at| at.map(round)).collect(),
            })
            .collect();
        Some(Outline { hole: area < 0.0, edges })
    }

    /// The corners between two crossings of different limits: one, or two where a third limit shows between.
    fn corners(&self, here: Crossing, there: Crossing, demands: &[usize]) -> std::vec::IntoIter<Crossing> {
        let middle = [0, 1].map(|k| (here.at[k] + there.at[k]) / 2.0);
        let meet = |a: usize, b: usize| {
            let at = self.meet(a, b, middle)?;
            (self.least(demands, at).0 >= -CORNER_MM).then_some(Crossing { at, demand: b })
        };
        let found = meet(here.demand, there.demand).map(|c| vec![c]).or_else(|| {
            let between = demands.iter().copied().filter(|d| *d != here.demand && *d != there.demand);
            between.into_iter().find_map(|d| Some(vec![meet(here.demand, d)?, meet(d, there.demand)?]))
        });
        found.unwrap_or_default().into_iter()
    }

    /// Where two demands both turn, by Newton's method from nearby.
    fn meet(&self, a: usize, b: usize, start: [f64; 2]) -> Option<[f64; 2]> {
        const MOST_STEPS: usize = 12;
        let mut at = start;
        for _ in 0..MOST_STEPS {
            let (va, ga) = self.demand(a).slope(at);
            let (vb, gb) = self.demand(b).slope(at);
            if va.abs().max(vb.abs()) < CORNER_MM / 10.0 {
                return Some(at);
            }
            let determinant = ga[0] * gb[1] - ga[1] * gb[0];
            if determinant.abs() < 1e-9 {
                return None;
            }
            at[0] -= (va * gb[1] - vb * ga[1]) / determinant;
            at[1] -= (vb * ga[0] - va * gb[0]) / determinant;
            // Not this corner, but one of other squares.
            if distance_mm(at, start) > 2.0 * self.cell_mm {
                return None;
            }
        }
        None
    }
}

/// The points that a line through them needs to stay within a distance; first and last are kept.
///
/// Method: the farthest point off the chord is kept and both halves are looked at in turn (Douglas and Peucker
/// 1973).
fn straightened(points: &[[f64; 2]], within_mm: f64) -> Vec<[f64; 2]> {
    let last = points.len().saturating_sub(1);
    let mut keep = vec![false; points.len()];
    let mut open = vec![(0, last)];
    while let Some((from, to)) = open.pop() {
        keep[from] = true;
        keep[to] = true;
        let farthest = (from + 1..to)
            .map(|i| (off(points[i], points[from], points[to]), i))
            .max_by(|a, b| a.0.total_cmp(&b.0));
        if let Some((far, at)) = farthest
            && far > within_mm
        {
            open.extend([(from, at), (at, to)]);
        }
    }
    points.iter().zip(keep).filter(|(_, keep)| *keep).map(|(at, _)| *at).collect()
}

/// Distance of a point from a stretch, mm.
fn off(at: [f64; 2], from: [f64; 2], to: [f64; 2]) -> f64 {
    let along = [to[0] - from[0], to[1] - from[1]];
    let away = [at[0] - from[0], at[1] - from[1]];
    let length = along[0].powi(2) + along[1].powi(2);
    let share =
        if length > 0.0 { ((away[0] * along[0] + away[1] * along[1]) / length).clamp(0.0, 1.0) } else { 0.0 };
    (away[0] - share * along[0]).hypot(away[1] - share * along[1])
}
