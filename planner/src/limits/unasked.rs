//! Metal that a pocket must leave whether a shop limits it or not: a limit left out is no licence to cut into a stud.

use super::{Asked, Clause, PairClause, Stated};
use super::{
    bridge, clauses, clean_up, coolant_hole, fire_ring_bore, fire_ring_cover, flange_gap, pair_clauses,
    parent_wall, stud_wall,
};
use crate::job::pocket::Pocket;
use crate::job::{Job, Limit};

/// Limits on metal, which hold at nothing left where a job leaves them out.
const METAL: [&Stated; 8] = [
    &clean_up::LIMIT,
    &parent_wall::LIMIT,
    &stud_wall::LIMIT,
    &coolant_hole::LIMIT,
    &fire_ring_cover::LIMIT,
    &fire_ring_bore::LIMIT,
    &bridge::LIMIT,
    &flange_gap::LIMIT,
];

/// The job with nothing left as the limit wherever it leaves one on metal out.
pub struct Bare {
    job: Job,
    left_out: Vec<&'static str>,
}

impl Bare {
    /// The job with its unset limits on metal at nothing left.
    #[must_use]
    pub fn of(job: &Job) -> Self {
        let mut job = job.clone();
        let left_out: Vec<&'static str> =
            METAL.into_iter().map(|limit| limit.name).filter(|name| job.limits.get(name).is_none()).collect();
        for name in &left_out {
            job.limits.set(name, Some(Limit { least_mm: 0.0, prefer_mm: None }));
        }
        Self { job, left_out }
    }

    /// Clauses on one centre that no limit of the job asks for: judged where the bore is planned, binding nothing.
    #[must_use]
    pub fn clauses(&self, asked: &Asked<'_>) -> Vec<Clause> {
        let bare = Asked { job: &self.job, ..*asked };
        clauses(&bare).into_iter().filter(|c| self.left_out.contains(&c.limit) && c.least_mm == 0.0).collect()
    }

    /// The clauses of limits left out of the job that two neighbours share, judged against no metal at all.
    #[must_use]
    pub fn pair_clauses(&self, pocket: &Pocket) -> Vec<PairClause> {
        let all = pair_clauses(&self.job, pocket);
        all.into_iter().filter(|c| self.left_out.contains(&c.limit)).collect()
    }
}
