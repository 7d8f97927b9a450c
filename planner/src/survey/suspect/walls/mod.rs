//! Walls that contradict each other, the block, or how walls come.

mod alike;
mod banks;
mod beside;
mod clocks;
mod doubled;
mod filled;
mod gon;
mod raster;
mod reach;
mod repeated;
mod rings;
mod shallow;
mod thick;
mod twice;
mod unit;
mod unread;

use super::{Asked, Kind, Suspicion, evidence, grid, lines};

pub(super) const KINDS: &[Kind] = &[
    unit::suspicions,
    reach::suspicions,
    clocks::suspicions,
    twice::suspicions,
    raster::suspicions,
    banks::suspicions,
    repeated::suspicions,
    doubled::suspicions,
    alike::suspicions,
    filled::suspicions,
    shallow::suspicions,
    gon::suspicions,
    thick::suspicions,
    rings::suspicions,
    unread::suspicions,
];
