//! A step of many constraints: the few that bind are found by solving with those that stand worst, and adding what the
//! answer breaks, until it breaks none. The answer is that of all of them, in time that grows with their number.

use super::step::{Step, left_apart_mm, left_mm};
use super::{Ask, Problem};
use crate::constraint::{Constraint, Place};
use crate::place::Apart;

/// Up to so many constraints all are solved with at once.
const MANY: usize = 24;

/// Constraints of each place that are begun with, and added at a time.
const FEW: usize = 8;

/// An answer that leaves a constraint short by less than this keeps it, mm: a tenth of what a step settles to.
const KEPT_MM: f64 = 1e-9;

/// Two to five rounds are usual; a case that goes on is solved with all.
const MOST_ROUNDS: usize = 60;

/// One step from the centres `at`; the centres and the easing, `None` where no centres keep it. What `few` holds of
/// steps before is begun with, and it holds what this one took: the next goes nearly where this one went.
pub(super) fn solve(
    problem: &Problem,
    few: &mut Few,
    at: &[[f64; 2]],
    by_mm: f64,
    ask: Ask,
) -> Option<(Vec<[f64; 2]>, f64)> {
    let most = problem.places.iter().map(|p| p.constraints.len()).max().unwrap_or_default();
    if most.max(problem.apart.len()) <= MANY {
        return Step::new(problem, at, by_mm, ask).solve();
    }
    let (mut next, mut next_by) = (at.to_vec(), by_mm);
    let mut first = few.begin(problem);
    if !first {
        (next, next_by) = Step::new(&few.of(problem), at, by_mm, ask).solve()?;
    }
    for _ in 0..MOST_ROUNDS {
        let mut added = false;
        for (i, place) in problem.places.iter().enumerate() {
            let left = |c: &Constraint| left_mm(c, (at[i], by_mm), ask, (next[i], next_by));
            added |= few.places[i].add(place.constraints.iter().map(left), first);
        }
        let left = |a: &Apart| left_apart_mm(a, at, ask, (&next, next_by));
        added |= few.apart.add(problem.apart.iter().map(left), first);
        if !added {
            return Some((next, next_by));
        }
        first = false;
        // Where a part of the bounds cannot be kept, all of them cannot either.
        (next, next_by) = Step::new(&few.of(problem), at, by_mm, ask).solve()?;
    }
    Step::new(problem, at, by_mm, ask).solve()
}

/// The constraints that are solved with so far.
#[derive(Default)]
pub(super) struct Few {
    places: Vec<Taken>,
    apart: Taken,
}

impl Few {
    /// Makes room for what a problem has; whether nothing is taken of it yet.
    fn begin(&mut self, problem: &Problem) -> bool {
        let fresh = self.places.is_empty();
        if fresh {
            self.places = problem.places.iter().map(|p| Taken::new(p.constraints.len())).collect();
            self.apart = Taken::new(problem.apart.len());
        }
        fresh
    }

    fn of(&self, problem: &Problem) -> Problem {
        let places = problem.places.iter().zip(&self.places);
        Problem {
            places: places
                .map(|(place, taken)| Place {
                    target_mm: place.target_mm,
                    constraints: taken.of(&place.constraints),
                })
                .collect(),
            apart: self.apart.of(&problem.apart),
        }
    }
}

/// For each of a list whether it is taken.
#[derive(Default)]
struct Taken(Vec<bool>);

impl Taken {
    fn new(number: usize) -> Self {
        Self(vec![false; number])
    }

    /// Takes the worst of those that are short, or that are not taken yet `whatever` they leave; whether any was taken.
    fn add(&mut self, left_mm: impl Iterator<Item = f64>, whatever: bool) -> bool {
        let open = left_mm.enumerate().filter(|(i, left)| !self.0[*i] && (whatever || *left < -KEPT_MM));
        let mut short: Vec<(usize, f64)> = open.collect();
        if short.len() > FEW {
            short.select_nth_unstable_by(FEW, |a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
            short.truncate(FEW);
        }
        for (i, _) in &short {
            self.0[*i] = true;
        }
        !short.is_empty()
    }

    fn of<T: Copy>(&self, all: &[T]) -> Vec<T> {
        all.iter().zip(&self.0).filter(|(_, taken)| **taken).map(|(one, _)| *one).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::place::{Bound, Spread};

    /// A place kept clear of a ring of `number` posts that stand unevenly, and inside a circle.
    fn ringed(number: u32, give: f64) -> Problem {
        let spread = Spread::all(&[0.004]);
        let post = |i: u32| {
            let clock = std::f64::consts::TAU * f64::from(i) / f64::from(number);
            let far = 50.0 + 0.3 * (3.0 * clock).cos() + 0.02 * (41.0 * clock).sin();
            let centre_mm = [far * clock.cos(), far * clock.sin()];
            Constraint::new(Bound::Outside { centre_mm, radius_mm: 49.8 }, spread, give, 1.65)
        };
        let inside =
            Constraint::new(Bound::Inside { centre_mm: [0.0; 2], radius_mm: 1.0 }, spread, give, 1.65);
        let constraints = (0..number).map(post).chain(std::iter::once(inside)).collect();
        Problem { places: vec![Place { target_mm: [0.2, -0.1], constraints }], apart: Vec::new() }
    }

    #[test]
    fn a_few_at_a_time_come_to_what_all_at_once_do() {
        for (number, give) in [(400, 1.0), (3000, 1.0)] {
            let problem = ringed(number, give);
            for ask in [Ask::LeastEasing, Ask::Nearest { eased_mm: 0.5 }] {
                let by = if let Ask::Nearest { eased_mm } = ask { eased_mm } else { 0.0 };
                let at = [[0.2, -0.1]];
                let mut taken = Few::default();
                let few = solve(&problem, &mut taken, &at, by, ask).unwrap();
                // With those that it took at once, and a step on from elsewhere.
                let again = solve(&problem, &mut taken, &at, by, ask).unwrap();
                assert!((few.1 - again.1).abs() < 1e-8, "{} {}", few.1, again.1);
                let on = [[0.1, 0.05]];
                let (mut fresh, all_on) =
                    (Few::default(), Step::new(&problem, &on, by, ask).solve().unwrap());
                for taken in [&mut taken, &mut fresh] {
                    let on = solve(&problem, taken, &on, by, ask).unwrap();
                    assert!((on.1 - all_on.1).abs() < 1e-8, "{} {}", on.1, all_on.1);
                }
                let all = Step::new(&problem, &at, by, ask).solve().unwrap();
                assert!((few.1 - all.1).abs() < 1e-8, "{} {}", few.1, all.1);
                // Where the easing decides, the place it leaves is flat to the trace of the distance in the price.
                for k in 0..2 {
                    assert!((few.0[0][k] - all.0[0][k]).abs() < 1e-5, "{:?} {:?}", few.0, all.0);
                }
            }
        }
    }

    #[test]
    fn what_cannot_be_kept_is_told_as_before() {
        let problem = ringed(3000, 0.0);
        assert!(
            solve(&problem, &mut Few::default(), &[[0.2, -0.1]], 0.0, Ask::Nearest { eased_mm: 0.0 })
                .is_none()
        );
        assert!(problem.nearest(0.0, &[]).is_none());
    }
}
