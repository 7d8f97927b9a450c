//! Clauses, which a limit consists of: on a centre, on two neighbours, or on no position at all.

use borewright_geometry::{Apart, Bound, Constraint, Spread};

use super::Stated;
use crate::job::Limit;
use crate::plan::judge::FACTOR;
use crate::plan::worked::Worked;

/// One clause of a limit on one centre.
#[derive(Debug, Clone, PartialEq)]
pub struct Clause {
    /// The limit's name.
    pub limit: &'static str,
    /// Which feature, and against what.
    pub feature: String,
    /// At which depth, mm.
    pub depth_mm: Option<f64>,
    /// At which clock, degrees.
    pub clock_deg: Option<f64>,
    /// The bound and its uncertainty.
    pub constraint: Constraint,
    /// How the margin grows with the pocket's radius: +1, 0 or -1.
    pub with_radius: f64,
    /// Whether it binds the position, or is only reported.
    pub binding: bool,
    /// The limit itself, mm.
    pub least_mm: f64,
    /// What is preferred, mm.
    pub prefer_mm: Option<f64>,
    /// A margin under this is a hold, mm.
    pub prefer_margin_mm: Option<f64>,
    /// What its margin and uncertainty are worked from.
    pub worked: Worked,
}

/// One clause on the distance of two neighbours of a bank.
#[derive(Debug, Clone, PartialEq)]
pub struct PairClause {
    /// The limit's name.
    pub limit: &'static str,
    /// Which features.
    pub feature: String,
    /// At which depth, mm.
    pub depth_mm: Option<f64>,
    /// The least distance of the centres; its indices are set where the places are known.
    pub apart: Apart,
    /// How the margin grows with the pocket's radius, mm a mm.
    pub with_radius: f64,
    /// The limit itself, mm.
    pub least_mm: f64,
    /// What is preferred, mm.
    pub prefer_mm: Option<f64>,
    /// A margin under this is a hold, mm.
    pub prefer_margin_mm: Option<f64>,
    /// What its margin and uncertainty are worked from.
    pub worked: Worked,
}

/// A limit that no position changes: its margin as it stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The limit's name.
    pub limit: &'static str,
    /// What it is about.
    pub feature: String,
    /// Its margin, mm.
    pub margin_mm: f64,
    /// Standard uncertainty of the margin, mm.
    pub u_mm: f64,
    /// The limit itself, mm.
    pub least_mm: f64,
    /// What is preferred, mm.
    pub prefer_mm: Option<f64>,
    /// A margin under this is a hold, mm.
    pub prefer_margin_mm: Option<f64>,
    /// What its margin and uncertainty are worked from.
    pub worked: Worked,
}

/// A clause on metal, of which more is better.
pub(super) fn metal(
    limit: &Stated,
    given: Limit,
    feature: String,
    bound: Bound,
    spread: Spread,
    worked: Worked,
) -> Clause {
    Clause {
        limit: limit.name,
        feature,
        depth_mm: None,
        clock_deg: None,
        constraint: Constraint::new(bound, spread, 1.0, FACTOR),
        with_radius: -1.0,
        binding: true,
        least_mm: given.least_mm,
        prefer_mm: given.prefer_mm,
        prefer_margin_mm: given.prefer_mm.map(|prefer| prefer - given.least_mm),
        worked,
    }
}
