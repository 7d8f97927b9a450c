//! The piston in the sleeve.

use serde::Serialize;

/// Where the piston stands, mm below the final deck, and what the sleeve holds of it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Stack {
    /// Crown at top dead centre; negative stands proud.
    pub crown_top: f64,
    /// Crown at bottom dead centre.
    pub crown_bottom: f64,
    /// Lower edge of the oil ring at bottom dead centre.
    pub oil_ring_bottom: f64,
    /// End of the skirt at bottom dead centre.
    pub skirt_bottom: f64,
    /// Sleeve below the oil ring at bottom dead centre; negative lets it out.
    pub ring_hold: f64,
    /// Skirt below the sleeve at bottom dead centre; negative is inside.
    pub skirt_out: f64,
    /// Crown to the head with the gasket between, where the job gives its thickness; the crown to the deck without.
    pub crown_gap: f64,
    /// Skirt to bore, where the job gives a piston's clearance.
    pub clearance: Option<Clearance>,
    /// Finished bore as a gauge reads it at the block's temperature of the day, where the job gives that.
    pub bore_today: Option<f64>,
}

/// Skirt to bore on diameter, mm.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Clearance {
    /// At 20 °C.
    pub cold: f64,
    /// At the temperatures at work.
    pub hot: f64,
}
