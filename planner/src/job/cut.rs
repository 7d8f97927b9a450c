//! A bore that is cut already: it stands where it was cut, with the sizes that were measured.

/// A bore that the work has begun on.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct CutBore {
    /// Where it was cut, in the bank at the deck, mm; `None` where nothing of it is cut yet.
    pub place_mm: Option<[f64; 2]>,
    /// Where the lists told it to be cut, in the bank at the deck, mm.
    pub told_mm: Option<[f64; 2]>,
    /// On how many parts of the pocket X and Y were read; with 0 the bore is taken to stand where the lists told it
    /// to.
    pub read: u32,
    /// Parts of its pocket that were measured.
    pub parts: Vec<CutPart>,
    /// Depth of its ledge, mean of the points measured, mm.
    pub ledge_mm: Option<f64>,
    /// The number of the sleeve that stays with it.
    pub sleeve: Option<String>,
}

/// A part of a pocket as it was cut.
#[derive(Debug, Clone, PartialEq)]
pub struct CutPart {
    /// The part.
    pub feature: String,
    /// Its depths, mm.
    pub depths_mm: [f64; 2],
    /// How much larger its radius is than asked, mm; negative where it is smaller.
    pub larger_mm: f64,
}

impl CutBore {
    /// How much larger than asked the pocket is at a depth, on radius, mm; without a depth the most of any part.
    #[must_use]
    pub fn larger_mm(&self, depth_mm: Option<f64>) -> f64 {
        let here = |p: &&CutPart| depth_mm.is_none_or(|d| p.depths_mm[0] <= d && d <= p.depths_mm[1]);
        self.parts.iter().filter(here).map(|p| p.larger_mm).fold(0.0, f64::max)
    }
}
