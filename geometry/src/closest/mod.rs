//! Closest positions: the centres nearest their targets that keep every bound, solved together.
//!
//! Each step is a convex cone problem (crate clarabel): circles to stay inside enter exactly, everything to stay
//! clear of, and each zone between two lines, enters by its tangent at the last centres, which lies wholly on the
//! safe side, and reserves enter to first order about the last centres. Steps repeat until nothing moves. Several
//! starts guard against a poor first tangent; tests hold the answers against brute force.

mod few;
mod step;

use self::few::Few;
use crate::clock::distance_mm;
use crate::constraint::Place;
use crate::place::{Apart, Bound, Margin};

/// A margin short by less than this is kept, mm: positions are solved onto limits.
pub const ON_LIMIT_MM: f64 = 1e-6;

/// Steps end when no centre moves farther than this, mm: ten times finer than `ON_LIMIT_MM` needs.
const SETTLED_MM: f64 = 1e-8;

/// Steps that end this near to an answer, centres and easing, would settle on it, mm: the next is a thousand times
/// shorter.
const SAME_MM: f64 = 1e-5;

/// Steps are halved down to this share; a smaller one would end short of the answer.
const LEAST_SHARE: f64 = 1.0 / 16.0;

/// Tangents settle in three to six steps; the cap only ends a case that swings.
const MOST_STEPS: usize = 40;

/// How far off the targets further starts are tried, mm: bores are moved by tenths, seldom by more than one.
const ROUND_ABOUT_MM: [f64; 2] = [0.3, 1.0];

/// Centres to be placed together.
#[derive(Debug, Clone, PartialEq)]
pub struct Problem {
    /// The centres.
    pub places: Vec<Place>,
    /// Which of them must keep a distance.
    pub apart: Vec<Apart>,
}

/// An easing and the centres it allows.
#[derive(Debug, Clone, PartialEq)]
pub struct Eased {
    /// By how much every giving bound is eased, mm.
    pub by_mm: f64,
    /// The centres, mm.
    pub centres_mm: Vec<[f64; 2]>,
}

/// What is asked of one convex step.
#[derive(Clone, Copy)]
enum Ask {
    /// Least sum of squared distances, with giving bounds eased by this much.
    Nearest { eased_mm: f64 },
    /// Least easing.
    LeastEasing,
}

impl Problem {
    fn targets(&self) -> Vec<[f64; 2]> {
        self.places.iter().map(|p| p.target_mm).collect()
    }

    /// Starts round about the targets, all centres moved alike: where things to stay clear of stand
    /// opposite each other, the best place is to either side, and a tangent taken between them shows none.
    fn round_about(&self) -> Vec<Vec<[f64; 2]>> {
        const WAYS: u8 = 8;
        ROUND_ABOUT_MM
            .iter()
            .flat_map(|far| (0..WAYS).map(move |way| (far, way)))
            .map(|(far, way)| {
                let clock = std::f64::consts::TAU * f64::from(way) / f64::from(WAYS);
                let by = [far * clock.cos(), far * clock.sin()];
                self.places.iter().map(|p| [p.target_mm[0] + by[0], p.target_mm[1] + by[1]]).collect()
            })
            .collect()
    }

    /// An easing without which no centres can keep the circles to stay inside: two circles that do not meet,
    /// or one that is empty, mm. Infinite where they do not give.
    ///
    /// A bound from below, with each reserve at its least; it spares a search where there is nothing to find.
    fn easing_at_least(&self) -> f64 {
        let mut least: f64 = 0.0;
        for place in &self.places {
            let circles: Vec<([f64; 2], f64, f64)> = place
                .constraints
                .iter()
                .filter_map(|c| match c.bound {
                    Bound::Inside { centre_mm, radius_mm } => {
                        Some((centre_mm, radius_mm - c.least_reserve_mm(), c.give))
                    }
                    _ => None,
                })
                .collect();
            let lack = |short: f64, give: f64| match (short > ON_LIMIT_MM, give > 0.0) {
                (false, _) => 0.0,
                (true, true) => short / give,
                (true, false) => f64::INFINITY,
            };
            // Two circles are no farther apart than both reach beyond any one point: the ones that reach farthest come
            // first, and a pair that reaches no farther than what is found already ends the row.
            let from = circles.first().map_or([0.0; 2], |c| c.0);
            let beyond = |c: &([f64; 2], f64, f64)| distance_mm(c.0, from) - c.1;
            let mut circles: Vec<_> = circles.into_iter().map(|c| (beyond(&c), c)).collect();
            circles.sort_by(|a, b| b.0.total_cmp(&a.0));
            let gives = circles.iter().map(|c| c.1.2).fold(f64::INFINITY, f64::min);
            for (i, (reach, (centre, radius, give))) in circles.iter().enumerate() {
                least = least.max(lack(-radius, *give));
                let enough = (2.0 * gives * least).max(ON_LIMIT_MM) - ON_LIMIT_MM / 2.0;
                for (other_reach, (other, other_radius, other_give)) in &circles[..i] {
                    if reach + other_reach <= enough {
                        break;
                    }
                    let apart = distance_mm(*centre, *other);
                    least = least.max(lack(apart - radius - other_radius, give + other_give));
                }
            }
        }
        least
    }

    /// Whether anything to stay clear of stands in the way of these centres.
    fn clear_of_binds(&self, centres_mm: &[[f64; 2]], eased_mm: f64) -> bool {
        let near = |m: Margin, give: f64| m.value_mm + give * eased_mm < 10.0 * ON_LIMIT_MM;
        let single = self.places.iter().zip(centres_mm).any(|(place, at)| {
            let clear_of = place.constraints.iter().filter(|c| !matches!(c.bound, Bound::Inside { .. }));
            clear_of.clone().any(|c| near(c.bound.margin(*at), c.give))
        });
        let pairs =
            self.apart.iter().any(|a| near(a.margin(centres_mm[a.first], centres_mm[a.second]), a.give));
        single || pairs
    }

    /// Least of margin - reserve + give x easing over all bounds, mm.
    #[must_use]
    pub fn worst_mm(&self, centres_mm: &[[f64; 2]], eased_mm: f64) -> f64 {
        let kept = |m: Margin, reserve: f64, give: f64| m.value_mm - reserve + give * eased_mm;
        let single = self.places.iter().zip(centres_mm).flat_map(|(place, at)| {
            place.constraints.iter().map(move |c| {
                let m = c.bound.margin(*at);
                let reserve = if eased_mm > 0.0 {
                    c.eased(eased_mm, m.line_mm).reserve_mm(m.line_mm)
                } else {
                    c.reserve_mm(m.line_mm)
                };
                kept(m, reserve, c.give)
            })
        });
        let pairs = self.apart.iter().map(|a| {
            let m = a.margin(centres_mm[a.first], centres_mm[a.second]);
            kept(m, a.z * a.spread.along(m.line_mm), a.give)
        });
        single.chain(pairs).fold(f64::INFINITY, f64::min)
    }

    /// Sum of squared distances from the targets, mm2.
    fn cost(&self, centres_mm: &[[f64; 2]]) -> f64 {
        self.places
            .iter()
            .zip(centres_mm)
            .map(|(p, c)| (c[0] - p.target_mm[0]).powi(2) + (c[1] - p.target_mm[1]).powi(2))
            .sum()
    }

    /// This problem with every bound asked with the certainty `z`, in standard uncertainties.
    #[must_use]
    pub fn asked(&self, z: f64) -> Self {
        let places = self.places.iter().map(|p| Place {
            target_mm: p.target_mm,
            constraints: p.constraints.iter().map(|c| c.asked(z)).collect(),
        });
        Self { places: places.collect(), apart: self.apart.iter().map(|a| Apart { z, ..*a }).collect() }
    }

    /// The centres nearest their targets (least sum of squares) with every bound kept as surely as it asks, giving
    /// bounds eased by `eased_mm`; `None` where no such centres were found from the targets or from `starts`.
    ///
    /// Accuracy: 1e-6 mm on a bound. The problem is not convex where something is to be stayed clear of;
    /// within a few mm of the targets, against radii of tens of mm, the tangents leave out less than the
    /// sagitta of the move (0.5 mm on 45 mm: 0.003 mm), and repeating them recovers it.
    #[must_use]
    pub fn nearest(&self, eased_mm: f64, starts: &[Vec<[f64; 2]>]) -> Option<Vec<[f64; 2]>> {
        let targets = self.targets();
        if self.worst_mm(&targets, eased_mm) >= -ON_LIMIT_MM {
            return Some(targets);
        }
        // One part in a million covers the easing's own rounding.
        if self.easing_at_least() > eased_mm * (1.0 + 1e-6) + ON_LIMIT_MM {
            return None;
        }
        self.nearest_from(eased_mm, std::iter::once(&targets).chain(starts))
            .or_else(|| self.nearest_from(eased_mm, self.round_about().iter()))
    }

    /// The best of what the steps settle on from some starts.
    fn nearest_from<'s>(
        &self,
        eased_mm: f64,
        starts: impl Iterator<Item = &'s Vec<[f64; 2]>>,
    ) -> Option<Vec<[f64; 2]>> {
        starts
            .filter_map(|start| self.settle(start, Ask::Nearest { eased_mm }, &[]))
            .map(|(centres, _)| centres)
            .filter(|centres| self.worst_mm(centres, eased_mm) >= -ON_LIMIT_MM)
            .min_by(|a, b| self.cost(a).total_cmp(&self.cost(b)))
    }

    /// The least easing that lets every bound be kept, and the centres nearest the targets with it;
    /// `None` where no easing of the giving bounds frees the rest.
    #[must_use]
    pub fn least_easing(&self, starts: &[Vec<[f64; 2]>]) -> Option<Eased> {
        let targets = self.targets();
        if self.easing_at_least().is_infinite() {
            return None;
        }
        let mut eased: Option<(Vec<[f64; 2]>, f64)> = None;
        let mut known = Vec::new();
        let round_about = self.round_about();
        for start in std::iter::once(&targets).chain(starts).chain(&round_about) {
            let settled = self.settle(start, Ask::LeastEasing, &known);
            known.extend(settled.clone());
            let found = settled
                .map(|(centres, by)| self.enough(centres, by))
                .filter(|(centres, by)| self.worst_mm(centres, *by) >= -ON_LIMIT_MM)
                .filter(|found| eased.as_ref().is_none_or(|best| found.1 < best.1));
            eased = found.or(eased);
            // Where only circles to stay inside bind the problem is convex (but for the little that a reserve
            // turns with its direction): the first answer is the least there is.
            let convex = |best: &(Vec<[f64; 2]>, f64)| !self.clear_of_binds(&best.0, best.1);
            if eased.as_ref().is_some_and(convex) {
                break;
            }
        }
        let eased = eased?;
        // Among centres with (nearly) that easing, the nearest; a hair more room keeps it solvable.
        let near = self.nearest_from(eased.1 + ON_LIMIT_MM, std::iter::once(&eased.0));
        Some(Eased { by_mm: eased.1, centres_mm: near.unwrap_or(eased.0) })
    }

    /// Raises an easing until every bound is kept at these centres: the reserve of an eased circle settles slowly.
    fn enough(&self, centres_mm: Vec<[f64; 2]>, mut by_mm: f64) -> (Vec<[f64; 2]>, f64) {
        const MOST_TIMES: usize = 12;
        for _ in 0..MOST_TIMES {
            let short = -self.worst_mm(&centres_mm, by_mm);
            if short <= ON_LIMIT_MM / 2.0 {
                break;
            }
            by_mm += short;
        }
        (centres_mm, by_mm)
    }

    /// Repeats the convex step from `start` until it settles; the centres and the easing.
    ///
    /// A reserve that turns with its direction can make full steps swing to and fro about the answer;
    /// steps that no longer shrink are halved.
    ///
    /// Steps that come upon an answer already found end there, with nothing new: they shrink so fast that the next
    /// would be the last.
    fn settle(
        &self,
        start: &[[f64; 2]],
        ask: Ask,
        found: &[(Vec<[f64; 2]>, f64)],
    ) -> Option<(Vec<[f64; 2]>, f64)> {
        let (mut at, mut few) = (start.to_vec(), Few::default());
        let (mut share, mut last) = (1.0_f64, f64::INFINITY);
        let mut by = match ask {
            Ask::Nearest { eased_mm } => eased_mm,
            Ask::LeastEasing => 0.0,
        };
        for _ in 0..MOST_STEPS {
            let (next, next_by) = few::solve(self, &mut few, &at, by, ask)?;
            let moved = farthest(&at, &next);
            // The reserve of an eased circle is another: the easing settles with the centres.
            let drift = match ask {
                Ask::Nearest { .. } => moved,
                Ask::LeastEasing => moved.max((next_by - by).abs()),
            };
            if drift < SETTLED_MM {
                return Some((next, next_by));
            }
            let known = |(centres, by): &(Vec<[f64; 2]>, f64)| {
                farthest(centres, &next) < SAME_MM && (by - next_by).abs() < SAME_MM
            };
            if found.iter().any(known) {
                return None;
            }
            if drift > 0.7 * last {
                share = (share / 2.0).max(LEAST_SHARE);
            }
            last = drift;
            for (from, to) in at.iter_mut().zip(&next) {
                *from = [0, 1].map(|k| from[k] + share * (to[k] - from[k]));
            }
            if matches!(ask, Ask::LeastEasing) {
                by += share * (next_by - by);
            }
        }
        // The search ended before it settled to the last digits; the caller holds the answer against the bounds
        // anyway.
        few::solve(self, &mut few, &at, by, ask)
    }
}

/// The farthest that any of some centres stands from its like, mm.
fn farthest(some: &[[f64; 2]], others: &[[f64; 2]]) -> f64 {
    some.iter().zip(others).map(|(a, b)| distance_mm(*a, *b)).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests;
