//! O-rings in their glands.

use serde::Serialize;

use crate::plan::sentence::Sentence;

/// One O-ring; shares (0.2 = 20 %).
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct ORingFit {
    /// The step it seals.
    pub feature: String,
    /// Depth of the groove's middle below the deck, mm.
    pub depth: f64,
    /// (cord - gland) / cord, of 1, the cord as stretched onto its groove; so are all that follow.
    pub squeeze: f64,
    /// (groove - inside) / inside, of 1.
    pub stretch: f64,
    /// Area of the cord over area of the groove, of 1.
    pub fill: f64,
    /// Cord once stretched, at constant volume, mm.
    pub cord_stretched: f64,
    /// With the thinnest cord in the deepest gland.
    pub least: Squeeze,
    /// With the thickest cord in the shallowest gland.
    pub most: Squeeze,
    /// Squeeze on the two sides, of 1, when the sleeve is pushed over as far as its register lets it.
    pub aside: [f64; 2],
    /// At the temperatures at work.
    pub hot: Squeeze,
    /// With the thickest cord in the shallowest gland, at the temperatures at work.
    pub hot_most: Squeeze,
    /// From the jacket's lower edge to the groove, mm; `None` where the block describes no jacket.
    pub from_jacket: Option<f64>,
    /// What is outside the usual ranges, in words.
    pub remarks: Vec<Sentence>,
}

/// Squeeze and fill of one case, shares.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Squeeze {
    /// Squeeze of the cord, of 1.
    pub squeeze: f64,
    /// Fill of the groove, of 1.
    pub fill: f64,
}
