//! The flange above the deck.

use serde::Serialize;

/// Flange above the deck, mm.
#[derive(Debug, Clone, Default, PartialEq, Serialize)]
pub struct Protrusion {
    /// Least that the tolerances of flange and ledge give.
    pub least: f64,
    /// Most that the tolerances of flange and ledge give.
    pub most: f64,
    /// Least that the sleeve asks for.
    pub wanted_least: f64,
    /// Most that the sleeve asks for.
    pub wanted_most: f64,
    /// What a leaning deck does to it, in each set-up where the deck was read.
    pub decks: Vec<DeckTilt>,
}

/// A deck against the plane that the machine cuts ledges in.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct DeckTilt {
    /// The set-up.
    pub set_up: String,
    /// The bank.
    pub bank: String,
    /// Rise of the deck along the bank, mm over the flange's diameter.
    pub along: f64,
    /// Rise of the deck across the bank, mm over the flange's diameter.
    pub across: f64,
    /// Difference of the protrusion round the flange, mm.
    pub spread: f64,
    /// Least cut that makes the deck square to the bores over the points read, mm.
    pub skim: f64,
    /// Flatness of the points read, from their fitted plane, mm.
    pub flatness: f64,
}
