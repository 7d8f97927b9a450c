//! What is compared of a plan that was written before; everything else of it is passed over.

use borewright_planner::plan::Check;
use serde::Deserialize;

/// A plan as far as it is compared.
#[derive(Debug, Deserialize)]
pub(super) struct Before {
    pub(super) job: String,
    pub(super) fingerprint: String,
    pub(super) verdict: String,
    #[serde(default)]
    pub(super) cylinders: Vec<Bore>,
    #[serde(default)]
    pub(super) passes: Vec<Cut>,
    #[serde(default)]
    pub(super) checks: Vec<Check>,
    #[serde(default)]
    pub(super) lists: Vec<Listed>,
    #[serde(default)]
    pub(super) inputs: Vec<Read>,
}

/// A bore.
#[derive(Debug, Deserialize)]
pub(super) struct Bore {
    pub(super) cylinder: u32,
    pub(super) sleeve: String,
    pub(super) verdict: String,
    pub(super) planned: Place,
}

/// A place in its bank, mm.
#[derive(Debug, Deserialize)]
pub(super) struct Place {
    pub(super) x: f64,
    pub(super) y: f64,
}

/// A pass on one cylinder; mm.
#[derive(Debug, Deserialize)]
pub(super) struct Cut {
    pub(super) stage: String,
    pub(super) bank: String,
    pub(super) cylinder: u32,
    pub(super) feature: String,
    pub(super) tool: Option<String>,
    pub(super) diameter: f64,
    pub(super) from: f64,
    pub(super) to: f64,
    pub(super) stock: Stock,
}

/// Radial stock, mm.
#[derive(Debug, Clone, Copy, Deserialize)]
pub(super) struct Stock {
    pub(super) min: f64,
    pub(super) max: f64,
}

/// A list.
#[derive(Debug, Deserialize)]
pub(super) struct Listed {
    pub(super) file: String,
    #[serde(default)]
    pub(super) cylinders: Vec<u32>,
}

/// A file that was read.
#[derive(Debug, Deserialize)]
pub(super) struct Read {
    pub(super) file: String,
    pub(super) sha256: String,
}
