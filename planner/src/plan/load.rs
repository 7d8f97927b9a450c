//! The load of a cut on spindle, bar and machine.

use serde::Serialize;

/// What a cut asks of spindle, bar and machine, at its deepest side.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct CutLoad {
    /// Cutting force, N; of a cutter where its teeth are deepest in, of which the mean over a turn is a small part.
    pub force: f64,
    /// Power at the motor, kW.
    pub power: f64,
    /// How far spindle and bar give way, mm.
    pub deflection: f64,
    /// Eccentricity of the old surface that the cut leaves, mm.
    pub copied: f64,
    /// Height from peak to valley that a round tip's feed marks have, f²/(8 r), micrometres: no mean roughness,
    /// which is about a quarter of it; `None` where the tip's radius is not known.
    pub peak_to_valley: Option<f64>,
    /// What sets speed and feed.
    pub binds: Binds,
    /// Lowest tip above the journal axis, mm.
    pub tip_above_axis: f64,
    /// Spindle's nose above the deck at the lowest tip, mm.
    pub nose_above_deck: f64,
}

/// What sets a pass's speed and feed.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "snake_case")]
pub enum Binds {
    /// The tool's own speed in the metal.
    CuttingSpeed,
    /// The fastest the spindle turns.
    SpindleFastest,
    /// The slowest it turns.
    SpindleSlowest,
    /// Its power.
    SpindlePower,
    /// The machine's fastest feed.
    MachineFeed,
    /// A bar so slender that it cuts at half its data.
    SlenderBar,
}

impl Binds {
    /// What binds, as printed.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::CuttingSpeed => "cutting speed",
            Self::SpindleFastest => "spindle's fastest",
            Self::SpindleSlowest => "spindle's slowest",
            Self::SpindlePower => "spindle's power",
            Self::MachineFeed => "machine's feed",
            Self::SlenderBar => "slender bar",
        }
    }
}
