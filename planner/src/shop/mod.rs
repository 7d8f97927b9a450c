//! The shop over its jobs: bias and spread of size, place and depth by machine, tool and person, what the machine's
//! own figure should be, and capability where there are enough bores. `borewright/shop-figures/1`, mm.
//!
//! In: jobs as they left. Out: estimates, each with how sure it is. One bore gives one figure a check, however many
//! readings it has: those of one bore are no sample of the shop.

mod estimate;
mod group;
mod sample;
mod words;

use serde::Serialize;

use crate::as_left::AsLeft;
use crate::job::Job;

pub use estimate::{Capability, LEAST_CAPABILITY, Spread, capability, least_for_spread, sd_factors};
pub use group::{Claim, Group, Window};
pub use sample::{Kind, Sample, samples};

/// What a shop's jobs say of it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Shop {
    /// `borewright/shop-figures/1`.
    pub format: &'static str,
    /// Always `mm`.
    pub units: &'static str,
    /// The jobs it rests on, as given.
    pub jobs: Vec<String>,
    /// Bores that a spread, and those that a capability, is told from at least.
    pub least_bores: [u32; 2],
    /// By machine, tool and person, what was found less what was asked.
    pub groups: Vec<Group>,
    /// What each machine's own figure is, and should be.
    pub claims: Vec<Claim>,
    /// What that says, in sentences.
    pub says: Vec<crate::plan::sentence::Sentence>,
}

/// What some jobs say; each is given once.
#[must_use]
pub fn shop(jobs: &[(Job, AsLeft)]) -> Shop {
    let all: Vec<Sample> = jobs.iter().flat_map(|(job, left)| samples(job, left)).collect();
    let mut shop = Shop {
        format: "borewright/shop-figures/1",
        units: "mm",
        jobs: jobs.iter().map(|(job, _)| job.number.clone()).collect(),
        least_bores: [least_for_spread(), LEAST_CAPABILITY],
        groups: group::groups(&all),
        claims: group::claims(&all),
        says: Vec::new(),
    };
    shop.says = words::says(&shop);
    shop
}
