//! The limits: each a file that turns the job into clauses on a bore's centre.

mod asked;
mod bridge;
mod clause;
pub(crate) mod clean_up;
mod coolant_hole;
mod datum;
mod fire_ring_bore;
mod fire_ring_cover;
mod flange_gap;
mod judge;
pub mod of_sleeve;
pub mod parent_wall;
mod position;
mod squareness;
mod stated;
mod stud_wall;
mod symbols;
pub mod unasked;
mod walls_unread;

use crate::job::Job;
use crate::job::pocket::Pocket;
use crate::survey::Survey;

pub use asked::Asked;
use clause::metal;
pub use clause::{Clause, PairClause, Standing};
pub(crate) use clean_up::LIMIT as CLEAN_UP;
pub use datum::Datum;
pub(crate) use judge::judge_bound;
pub(crate) use position::untold as position_untold;
pub use stated::{Better, Judges, Kind, Lack, Stated};
use symbols::{BOTH, DATUM, LEAN, PLACE, SURFACE};

/// Every limit that a file may state, in the order in which a cylinder lists them.
pub const ALL: [&Stated; 18] = [
    &clean_up::LIMIT,
    &parent_wall::LIMIT,
    &parent_wall::THRUST,
    &stud_wall::LIMIT,
    &coolant_hole::LIMIT,
    &fire_ring_cover::LIMIT,
    &fire_ring_bore::LIMIT,
    &position::LIMIT,
    &squareness::LIMIT,
    &bridge::LIMIT,
    &flange_gap::LIMIT,
    &of_sleeve::WALL,
    &of_sleeve::RING_ON_FLANGE,
    &of_sleeve::PROTRUSION_SPREAD,
    &of_sleeve::RING_HOLD,
    &of_sleeve::SKIRT_OUT,
    &of_sleeve::SEAT_RATIO,
    &of_sleeve::HOOP_RATIO,
];

/// The limit of a name.
#[must_use]
pub fn stated(name: &str) -> Option<&'static Stated> {
    ALL.into_iter().find(|limit| limit.name == name)
}

/// Every clause on one cylinder's centre.
#[must_use]
pub fn clauses(asked: &Asked<'_>) -> Vec<Clause> {
    ALL.iter()
        .filter_map(|limit| if let Judges::Bore(clauses) = limit.judges { Some(clauses) } else { None })
        .flat_map(|clauses| clauses(asked))
        .collect()
}

/// Every clause on two neighbours with the same pocket.
#[must_use]
pub fn pair_clauses(job: &Job, pocket: &Pocket) -> Vec<PairClause> {
    ALL.iter()
        .filter_map(|limit| if let Judges::Neighbours(clauses) = limit.judges { Some(clauses) } else { None })
        .flat_map(|clauses| clauses(job, pocket))
        .collect()
}

/// Limits of a bank that no position changes.
#[must_use]
pub fn standing(job: &Job, survey: &Survey, bank: usize) -> Vec<Standing> {
    ALL.iter()
        .filter_map(|limit| {
            if let Judges::Bank(standing) = limit.judges { standing(job, survey, bank) } else { None }
        })
        .collect()
}

/// What the limits of a job ask for of a bore and is not there.
#[must_use]
pub fn lacks(asked: &Asked<'_>) -> Vec<Lack> {
    ALL.iter().filter_map(|limit| (limit.lacks)(asked)).collect()
}
