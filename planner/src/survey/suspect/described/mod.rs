//! What the files describe and no reading shows: block, metals, sleeves, studs, limits, instruments.

mod block_odd;
mod finish_odd;
mod instruments;
mod limits_odd;
mod locators;
mod material_odd;
mod no_block;
mod sleeves_off;
mod studs;
mod studs_alone;
mod studs_beside;
mod studs_of_banks;
mod studs_pattern;

use super::{Asked, Kind, Suspicion, evidence, grid, lines};

pub(super) const KINDS: &[Kind] = &[
    material_odd::suspicions,
    finish_odd::suspicions,
    sleeves_off::suspicions,
    block_odd::suspicions,
    instruments::suspicions,
    limits_odd::suspicions,
    locators::suspicions,
    studs_pattern::suspicions,
    studs_alone::suspicions,
    no_block::suspicions,
];
