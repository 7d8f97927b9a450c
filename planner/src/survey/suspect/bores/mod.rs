//! Circles and sizes that contradict each other, or the block.

mod bad_point;
mod closure;
mod diameter;
mod diameter_odd;
mod duplicates;
mod left_out;
mod parent_off;
mod shape_off;
mod sizes_apart;
mod sizes_of_banks;
mod surface;
mod upside_down;

use super::{Asked, Kind, Suspicion, evidence, readings};

pub(super) const KINDS: &[Kind] = &[
    surface::suspicions,
    parent_off::suspicions,
    bad_point::suspicions,
    duplicates::suspicions,
    left_out::suspicions,
    closure::suspicions,
    diameter::suspicions,
    diameter_odd::suspicions,
    sizes_of_banks::suspicions,
    shape_off::suspicions,
    sizes_apart::suspicions,
    upside_down::suspicions,
];
