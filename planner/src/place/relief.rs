//! The relief of a bore at stop: what would free it, one limit relaxed or another pocket.

use super::seated::{Ask, Positions};
use crate::limits;

/// Ways out of a stop, each alone enough for go.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Relief {
    /// Limits and by how much each would have to be relaxed, mm.
    pub(super) limits: Vec<(&'static str, f64)>,
    /// How much smaller the pocket would have to be, on diameter, mm.
    pub(super) smaller_mm: Option<f64>,
    /// How much larger, on diameter, mm.
    pub(super) larger_mm: Option<f64>,
}

/// An easing beyond this is no relief but another job, mm.
const MOST_MM: f64 = 10.0;

/// What frees the group of `bore`; `fighting` are the limits in the way.
pub(super) fn relief(positions: &Positions, bore: usize, fighting: &[&'static str]) -> Relief {
    let members = positions.group(bore);
    let starts = [members.iter().map(|&i| positions.bores[i].planned_mm).collect::<Vec<_>>()];
    let least = |give: &dyn Fn(&str, f64) -> f64| {
        let problem = positions.problem(&members, Ask::Go, give);
        problem.least_easing(&starts).map(|eased| eased.by_mm).filter(|by| *by <= MOST_MM)
    };
    let limits = fighting
        .iter()
        .filter_map(|limit| {
            let by = least(&|name, _| if name == *limit { 1.0 } else { 0.0 })?;
            Some((*limit, limits::stated(limit).map_or(1.0, |stated| stated.eased_by) * by))
        })
        .collect();
    Relief {
        limits,
        smaller_mm: least(&|_, with_radius| -with_radius).map(|by| 2.0 * by),
        larger_mm: least(&|_, with_radius| with_radius).map(|by| 2.0 * by),
    }
}
