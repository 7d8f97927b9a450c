//! What a rule and a gauge must find on the block itself before a list is run.

use super::sentence::{Sentence, before_mm};
use crate::say;

/// A length that a hand measures.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum ByHand {
    /// From the along datum to the front wall of a bore, by a rule.
    FrontWall {
        /// The bore.
        bore: u32,
        /// How far it is, mm.
        from_datum_mm: f64,
    },
    /// Between two bores, by a gauge.
    Between {
        /// The bores.
        bores: [u32; 2],
        /// How wide the metal is, mm.
        wide_mm: f64,
    },
}

impl ByHand {
    /// How far or how wide, as it is told.
    #[must_use]
    pub fn found(&self) -> Sentence {
        match *self {
            Self::FrontWall { from_datum_mm, .. } => say!("{}", before_mm(from_datum_mm, 1)),
            Self::Between { wide_mm, .. } => say!("{}", before_mm(wide_mm, 2)),
        }
    }

    /// As a line of a list's head.
    #[must_use]
    pub fn line(&self) -> Sentence {
        match *self {
            Self::FrontWall { bore, .. } => {
                say!("by hand - along datum to the front wall of bore {}: {}", bore, self.found())
            }
            Self::Between { bores: [bore, next], .. } => {
                say!("by hand - between bores {} and {} a gauge finds {}", bore, next, self.found())
            }
        }
    }
}
