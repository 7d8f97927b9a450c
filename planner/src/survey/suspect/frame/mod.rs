//! What the bores are read in: mains, deck, the machine and the set-up.

mod along_both;
mod axis_short;
mod banks_lean;
mod beyond_travel;
mod deck;
mod deck_tilt;
mod main_missing;
mod set_up_named;

use super::{Asked, Kind, Suspicion, evidence, lines};

pub(super) const KINDS: [Kind; 7] = [
    along_both::suspicions,
    beyond_travel::suspicions,
    axis_short::suspicions,
    deck::suspicions,
    banks_lean::suspicions,
    main_missing::suspicions,
    set_up_named::suspicions,
];
