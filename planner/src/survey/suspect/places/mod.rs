//! Where the bores stand. One mistake has many faces, so the first kind that explains a bore is the one named.

mod along;
mod apart;
mod axes_exchanged;
mod bank_leans;
mod datum;
mod deck_field;
mod mirror;
mod off_line;
mod order;
mod sets;
mod shallow;
mod swapped_banks;
mod tir;
mod turned;
mod unit_bore;
mod unit_depth;
mod unit_half;
mod unit_table;
mod warm;
mod xy_row;
mod y_sign;

use super::{Asked, Kind, Suspicion, evidence, lines, readings};
pub(super) use shallow::DOWN;

pub(super) const KINDS: &[Kind] = &[
    unit_table::suspicions,
    unit_bore::suspicions,
    unit_half::suspicions,
    unit_depth::suspicions,
    along::suspicions,
    swapped_banks::suspicions,
    axes_exchanged::suspicions,
    order::suspicions,
    mirror::suspicions,
    xy_row::suspicions,
    tir::suspicions,
    sets::full_swings,
    warm::suspicions,
    sets::suspicions,
    off_line::suspicions,
    apart::suspicions,
    y_sign::suspicions,
    datum::suspicions,
    turned::suspicions,
    bank_leans::suspicions,
    deck_field::suspicions,
    shallow::suspicions,
    shallow::of_top,
];
