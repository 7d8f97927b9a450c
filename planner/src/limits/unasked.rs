//! Metal that a pocket must leave whether a shop limits it or not: a limit left out is no licence to cut into a stud.

use super::{ALL, Asked, Clause, Judges, PairClause, Stated, clauses, pair_clauses};
use crate::job::pocket::Pocket;
use crate::job::{Job, Limit};

/// Limits on metal that a pocket must leave, which hold at nothing left where a job leaves them out.
fn on_metal() -> impl Iterator<Item = &'static Stated> {
    ALL.into_iter()
        .filter(|limit| limit.of_metal && matches!(limit.judges, Judges::Bore(_) | Judges::Neighbours(_)))
}

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
            on_metal().map(|limit| limit.name).filter(|name| job.limits.get(name).is_none()).collect();
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_limit_left_out_is_no_licence_to_cut_into_any_metal_beside_a_pocket() {
        let names: Vec<&str> = on_metal().map(|limit| limit.name).collect();
        assert_eq!(
            names,
            [
                "clean_up",
                "parent_wall",
                "stud_wall",
                "coolant_hole",
                "fire_ring_cover",
                "fire_ring_bore",
                "bridge",
                "flange_gap"
            ]
        );
    }
}
