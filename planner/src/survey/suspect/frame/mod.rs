//! What the bores are read in: mains, deck, the machine and the set-up.

mod along_both;
mod axis_short;
mod axis_twice;
mod banks_lean;
mod beyond_travel;
mod deck;
mod deck_tilt;
mod decks_apart;
mod leans;
mod loosened;
mod main_missing;
mod set_up_named;
mod travel_leans;
mod unchecked;

use super::{Asked, Kind, Suspicion, evidence, lines};

pub(super) const KINDS: &[Kind] = &[
    along_both::suspicions,
    beyond_travel::suspicions,
    axis_short::suspicions,
    axis_twice::suspicions,
    deck::suspicions,
    banks_lean::suspicions,
    main_missing::suspicions,
    set_up_named::suspicions,
    loosened::suspicions,
    decks_apart::suspicions,
    travel_leans::suspicions,
    leans::suspicions,
    unchecked::suspicions,
];
