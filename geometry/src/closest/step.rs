//! One convex step of the search, as rows of a cone problem.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettings, DefaultSettingsBuilder, DefaultSolver, IPSolver, NonnegativeConeT, SecondOrderConeT,
    SolverStatus, SupportedConeT,
};

use super::{Ask, Problem};
use crate::clock::distance_mm;
use crate::constraint::Constraint;
use crate::place::{Apart, Bound};

/// One convex step: rows of `A x + s = b`, s in a product of cones.
///
/// x holds each centre's move from its target, then the easing.
pub(super) struct Step<'a> {
    problem: &'a Problem,
    ask: Ask,
    rows: Vec<(usize, usize, f64)>,
    right: Vec<f64>,
    cones: Vec<SupportedConeT<f64>>,
}

impl<'a> Step<'a> {
    /// About the centres `at`, with reserves as they are where bounds are eased by `by_mm`.
    pub(super) fn new(problem: &'a Problem, at: &[[f64; 2]], by_mm: f64, ask: Ask) -> Self {
        let mut step = Self { problem, ask, rows: Vec::new(), right: Vec::new(), cones: Vec::new() };
        let eased = match ask {
            Ask::Nearest { eased_mm } => eased_mm,
            Ask::LeastEasing => 0.0,
        };
        // Linear rows first (one cone), then the circles.
        for (i, place) in problem.places.iter().enumerate() {
            for c in place.constraints.iter().filter(|c| !matches!(c.bound, Bound::Inside { .. })) {
                let (value, gradient) = tangent(c, at[i], by_mm);
                step.tangent(&[(i, gradient)], at, value + c.give * eased, c.give);
            }
        }
        for a in &problem.apart {
            let m = a.margin(at[a.first], at[a.second]);
            let reserve = a.z * a.spread.along(m.line_mm);
            let back = m.gradient.map(|g| -g);
            let ends = [(a.first, m.gradient), (a.second, back)];
            step.tangent(&ends, at, m.value_mm - reserve + a.give * eased, a.give);
        }
        if matches!(ask, Ask::LeastEasing) {
            // The easing is not negative.
            let row = step.right.len();
            step.rows.push((row, step.easing_column(), -1.0));
            step.right.push(0.0);
        }
        if !step.right.is_empty() {
            step.cones.push(NonnegativeConeT(step.right.len()));
        }
        for (i, place) in problem.places.iter().enumerate() {
            for c in &place.constraints {
                step.circle(i, &c.eased(by_mm, c.bound.margin(at[i]).line_mm), at[i], eased);
            }
        }
        step
    }

    fn easing_column(&self) -> usize {
        2 * self.problem.places.len()
    }

    /// value + sum of gradient . (c - at) + give x easing >= 0, as one row of s >= 0.
    fn tangent(&mut self, ends: &[(usize, [f64; 2])], at: &[[f64; 2]], value: f64, give: f64) {
        let row = self.right.len();
        let mut right = value;
        for &(i, gradient) in ends {
            let target = self.problem.places[i].target_mm;
            for axis in 0..2 {
                self.rows.push((row, 2 * i + axis, -gradient[axis]));
                right += gradient[axis] * (target[axis] - at[i][axis]);
            }
        }
        if matches!(self.ask, Ask::LeastEasing) {
            self.rows.push((row, self.easing_column(), -give));
        }
        self.right.push(right);
    }

    /// |c - centre| <= radius - reserve + give x easing, as a second-order cone.
    fn circle(&mut self, i: usize, c: &Constraint, at: [f64; 2], eased: f64) {
        let Bound::Inside { centre_mm, radius_mm } = c.bound else { return };
        let m = c.bound.margin(at);
        let row = self.right.len();
        if matches!(self.ask, Ask::LeastEasing) {
            self.rows.push((row, self.easing_column(), -c.give));
        }
        let target = self.problem.places[i].target_mm;
        let turning = c.reserve_gradient(m.line_mm);
        let mut reserve = c.reserve_mm(m.line_mm);
        for axis in 0..2 {
            self.rows.push((row, 2 * i + axis, turning[axis]));
            reserve += turning[axis] * (target[axis] - at[axis]);
        }
        self.right.push(radius_mm - reserve + c.give * eased);
        for axis in 0..2 {
            self.rows.push((row + 1 + axis, 2 * i + axis, -1.0));
            self.right.push(target[axis] - centre_mm[axis]);
        }
        self.cones.push(SecondOrderConeT(3));
    }

    /// The centres of this step, mm, and how much the bounds had to give, mm; `None` where the step is proven to
    /// have no answer, or the solver gave none.
    pub(super) fn solve(self) -> Option<(Vec<[f64; 2]>, f64)> {
        let centres = self.problem.places.len();
        let (columns, quadratic, linear) = match self.ask {
            Ask::Nearest { .. } => (2 * centres, 2.0, 0.0),
            // A trace of the squared distance keeps the centres from wandering where the easing does not depend on
            // them.
            Ask::LeastEasing => (2 * centres + 1, 1e-9, 1.0),
        };
        let diagonal: Vec<usize> = (0..2 * centres).collect();
        let values = vec![quadratic; diagonal.len()];
        let p = CscMatrix::new_from_triplets(columns, columns, diagonal.clone(), diagonal, values);
        let mut q = vec![0.0; columns];
        if columns > 2 * centres {
            q[2 * centres] = linear;
        }
        let (mut i, mut j, mut v) = (Vec::new(), Vec::new(), Vec::new());
        for (row, column, value) in self.rows {
            i.push(row);
            j.push(column);
            v.push(value);
        }
        let a = CscMatrix::new_from_triplets(self.right.len(), columns, i, j, v);
        let mut solver = DefaultSolver::new(&p, &q, &a, &self.right, &self.cones, settings()?).ok()?;
        solver.solve();
        // A step that stalls short of the last digits is used: the caller holds every answer against the bounds
        // themselves. One proven to have no answer is not.
        let empty = matches!(
            solver.solution.status,
            SolverStatus::PrimalInfeasible
                | SolverStatus::AlmostPrimalInfeasible
                | SolverStatus::DualInfeasible
                | SolverStatus::AlmostDualInfeasible
                | SolverStatus::Unsolved
        );
        let x = &solver.solution.x;
        if empty || x.iter().any(|value| !value.is_finite()) {
            return None;
        }
        let places = &self.problem.places;
        let centres_mm = places
            .iter()
            .zip(x.chunks_exact(2))
            .map(|(p, moved)| [p.target_mm[0] + moved[0], p.target_mm[1] + moved[1]])
            .collect();
        Some((centres_mm, x.get(2 * centres).copied().unwrap_or(0.0).max(0.0)))
    }
}

/// What a bound leaves at a centre beyond its reserve, mm, and how that grows with the centre.
fn tangent(c: &Constraint, at: [f64; 2], by_mm: f64) -> (f64, [f64; 2]) {
    let m = c.bound.margin(at);
    let kept = c.eased(by_mm, m.line_mm);
    let turning = kept.reserve_gradient(m.line_mm);
    (m.value_mm - kept.reserve_mm(m.line_mm), [0, 1].map(|k| m.gradient[k] - turning[k]))
}

/// The easing, mm, that a step counts with: the given one, or the one it found.
fn eased_mm(ask: Ask, next_by_mm: f64) -> f64 {
    match ask {
        Ask::Nearest { eased_mm } => eased_mm,
        Ask::LeastEasing => next_by_mm,
    }
}

/// What a step about `at` leaves of a bound where it ends at `next`, mm: as its rows have it.
pub(super) fn left_mm(
    c: &Constraint,
    (at, by_mm): ([f64; 2], f64),
    ask: Ask,
    (next, next_by_mm): ([f64; 2], f64),
) -> f64 {
    let more = c.give * eased_mm(ask, next_by_mm);
    let moved = [next[0] - at[0], next[1] - at[1]];
    let along = |gradient: [f64; 2]| gradient[0] * moved[0] + gradient[1] * moved[1];
    if let Bound::Inside { centre_mm, radius_mm } = c.bound {
        let line = c.bound.margin(at).line_mm;
        let kept = c.eased(by_mm, line);
        let reserve = kept.reserve_mm(line) + along(kept.reserve_gradient(line));
        return radius_mm - reserve + more - distance_mm(next, centre_mm);
    }
    let (value, gradient) = tangent(c, at, by_mm);
    value + along(gradient) + more
}

/// What a step about `at` leaves of a distance that two centres must keep where it ends at `next`, mm: as its rows
/// have it.
pub(super) fn left_apart_mm(
    a: &Apart,
    at: &[[f64; 2]],
    ask: Ask,
    (next, next_by_mm): (&[[f64; 2]], f64),
) -> f64 {
    let m = a.margin(at[a.first], at[a.second]);
    let moved = |i: usize| (0..2).map(|k| m.gradient[k] * (next[i][k] - at[i][k])).sum::<f64>();
    m.value_mm - a.z * a.spread.along(m.line_mm) + moved(a.first) - moved(a.second)
        + a.give * eased_mm(ask, next_by_mm)
}

pub(super) fn settings() -> Option<DefaultSettings<f64>> {
    DefaultSettingsBuilder::default()
        .verbose(false)
        .tol_feas(1e-11)
        .tol_gap_abs(1e-11)
        .tol_gap_rel(1e-11)
        .build()
        .ok()
}
