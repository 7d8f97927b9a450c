//! The form of each bore: its circles by every definition, its axis, its taper.

use serde::Serialize;

use super::Survey;
use super::bores::{Bore, FoundCircle};
use crate::job::{Job, Surface};

/// One bore on one surface.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct BoreForm {
    /// The cylinder.
    pub cylinder: u32,
    /// Its bank.
    pub bank: String,
    /// What it was measured on.
    pub surface: &'static str,
    /// Its place at the deck along its fitted axis.
    pub x: f64,
    /// Its place at the deck along its fitted axis.
    pub y: f64,
    /// Lean of its axis, mm per mm of depth.
    pub tilt: [f64; 2],
    /// Mean diameter.
    pub diameter: f64,
    /// Largest diameter less smallest, over the depths.
    pub taper: f64,
    /// Its circles, by depth.
    pub circles: Vec<CircleForm>,
}

/// One circle.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct CircleForm {
    /// Below the deck.
    pub depth: f64,
    /// Which round of measuring.
    pub set: Option<String>,
    /// Least squares (ISO 12181: LSC).
    pub lsc: Circle,
}

/// A circle and the roundness about it.
#[derive(Debug, Clone, Copy, PartialEq, Serialize)]
pub struct Circle {
    /// Centre.
    pub x: f64,
    /// Centre.
    pub y: f64,
    /// Diameter.
    pub diameter: f64,
    /// Peak-to-valley; `None` where only centres were read.
    pub roundness: Option<f64>,
}

/// Every bore that was read, bank by bank.
pub(super) fn bores(job: &Job, survey: &Survey) -> Vec<BoreForm> {
    let mut forms = Vec::new();
    for layout in &job.block.banks {
        for site in &layout.sites {
            let Some(found) = survey.cylinders.get(&site.cylinder) else { continue };
            for (surface, bore) in &found.by_surface {
                let circles = survey
                    .circles
                    .iter()
                    .filter(|c| c.cylinder == site.cylinder && c.surface == *surface)
                    .map(circle)
                    .collect();
                forms.push(form(site.cylinder, &layout.name, *surface, bore, circles));
            }
        }
    }
    forms
}

fn circle(c: &FoundCircle) -> CircleForm {
    CircleForm {
        depth: c.depth_mm,
        set: c.set.clone(),
        lsc: Circle {
            x: c.centre_mm[0],
            y: c.centre_mm[1],
            diameter: c.diameter_mm,
            roundness: c.roundness_mm,
        },
    }
}

fn form(cylinder: u32, bank: &str, surface: Surface, bore: &Bore, circles: Vec<CircleForm>) -> BoreForm {
    let diameters = || bore.diameters_mm.iter().map(|row| row[1]);
    let taper = diameters().fold(f64::NEG_INFINITY, f64::max) - diameters().fold(f64::INFINITY, f64::min);
    BoreForm {
        cylinder,
        bank: bank.to_owned(),
        surface: surface.word(),
        x: bore.axis.at_deck_mm[0],
        y: bore.axis.at_deck_mm[1],
        tilt: bore.axis.tilt,
        diameter: bore.diameter_mm,
        taper,
        circles,
    }
}
