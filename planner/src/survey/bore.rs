//! A bore as it was found: its circles, axis, radius and farthest metal.

use std::collections::BTreeMap;

use borewright_geometry::sample::count;
use borewright_geometry::{BoreAxis, ONE_DEPTH_MM};

use crate::job::{Job, Surface};

/// One circle found, in bank coordinates.
#[derive(Debug, Clone, PartialEq)]
pub struct FoundCircle {
    /// Its cylinder.
    pub cylinder: u32,
    /// Index of its bank.
    pub bank: usize,
    /// Index of its set-up.
    pub set_up: usize,
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// Its centre, mm.
    pub centre_mm: [f64; 2],
    /// Its diameter, mm.
    pub diameter_mm: f64,
    /// What it was measured on.
    pub surface: Surface,
    /// Which round of measuring, where several were made.
    pub set: Option<String>,
    /// Index of its round.
    pub round: usize,
    /// Whether it is of the first round that read this cylinder on this surface, which is the one planned with.
    pub planned: bool,
    /// Peak-to-valley about the least-squares circle, mm; `None` where only the centre was read.
    pub roundness_mm: Option<f64>,
    /// Its nearest and farthest metal from its centre, mm: half the diameter where only that was read.
    pub metal_mm: [f64; 2],
    /// Standard uncertainty of one coordinate of its centre, mm: the instrument's, or the fit's where points over a
    /// short arc carry no better.
    pub u_mm: f64,
    /// The widest arc without a point, degrees; `None` where only the centre was read.
    pub gap_deg: Option<f64>,
}

/// One measured circle of a bore.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ring {
    /// Below the deck, mm.
    pub depth_mm: f64,
    /// Its centre, mm.
    pub centre_mm: [f64; 2],
    /// Its nearest and farthest metal from its centre, mm.
    pub metal_mm: [f64; 2],
    /// Standard uncertainty of one coordinate of its centre, mm.
    pub u_mm: f64,
}

/// A bore on one surface: its axis, and its radius by depth.
#[derive(Debug, Clone, PartialEq)]
pub struct Bore {
    /// What it was measured on.
    pub surface: Surface,
    /// Its axis.
    pub axis: BoreAxis,
    /// Depth and mean diameter there, mm, by depth.
    pub diameters_mm: Vec<[f64; 2]>,
    /// Mean of all diameters, mm.
    pub diameter_mm: f64,
    /// Largest peak-to-valley, mm.
    pub roundness_mm: Option<f64>,
    /// Depths of its circles, shallowest and deepest, mm.
    pub depths_mm: [f64; 2],
    /// Its circles, by depth.
    pub rings: Vec<Ring>,
    /// Depth and farthest metal there, mm, by depth.
    pub(super) farthest_rows_mm: Vec<[f64; 2]>,
    /// How its circles lie along it.
    pub(super) scatter: Scatter,
}

/// How the circles of a bore lie along it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Scatter {
    /// Largest standard uncertainty of one coordinate of a centre, mm.
    u_mm: f64,
    /// How many circles.
    count: f64,
    /// Mean of their depths, mm.
    mean_mm: f64,
    /// Sum of squares about it, mm².
    square_mm2: f64,
}

impl Scatter {
    pub(super) fn of(rings: &[Ring]) -> Self {
        let count = count(rings.len());
        let mean_mm = rings.iter().map(|r| r.depth_mm).sum::<f64>() / count;
        let square_mm2 = rings.iter().map(|r| (r.depth_mm - mean_mm).powi(2)).sum();
        Self { u_mm: rings.iter().map(|r| r.u_mm).fold(0.0, f64::max), count, mean_mm, square_mm2 }
    }
}

/// What a table of depths and figures gives at a depth: interpolated between its rows and held beyond them.
pub(super) fn between(rows: &[[f64; 2]], depth_mm: f64) -> Option<f64> {
    let after = rows.partition_point(|row| row[0] < depth_mm);
    match (after.checked_sub(1).and_then(|i| rows.get(i)), rows.get(after)) {
        (Some(above), Some(below)) => {
            Some(above[1] + (below[1] - above[1]) * (depth_mm - above[0]) / (below[0] - above[0]))
        }
        (Some(only), None) | (None, Some(only)) => Some(only[1]),
        (None, None) => None,
    }
}

impl Bore {
    /// The bore's radius at a depth, mm: interpolated between depths, held beyond them.
    #[must_use]
    pub fn radius_mm(&self, depth_mm: f64) -> f64 {
        between(&self.diameters_mm, depth_mm).unwrap_or(self.diameter_mm) / 2.0
    }

    /// The bore at a depth, as it was measured.
    fn at(&self, depth_mm: f64) -> SurfaceAt {
        let (centre_mm, radius_mm) = (self.axis.at(depth_mm), self.radius_mm(depth_mm));
        SurfaceAt { centre_mm, radius_mm, source: RadiusSource::Measured }
    }

    /// The bore's farthest metal from its axis at a depth, mm: of the circles read, interpolated between depths,
    /// held beyond them.
    #[must_use]
    pub fn farthest_mm(&self, depth_mm: f64) -> f64 {
        between(&self.farthest_rows_mm, depth_mm).unwrap_or(self.diameter_mm / 2.0)
    }

    /// Standard uncertainty of one coordinate of its axis at a depth, mm.
    ///
    /// Of a least-squares line through n centres at depths d_i, each of uncertainty u: u · √(1/n + (d − d̄)²/Σ(d_i
    /// − d̄)²), and never under u (JCGM 100:2008, H.3, the variance of a predicted value); from one depth nothing
    /// tells the lean: √(u² + (lean · (d − d_1))²).
    #[must_use]
    pub fn axis_u_mm(&self, depth_mm: f64, lean: f64) -> f64 {
        let Scatter { u_mm: u, count: n, mean_mm: mean, square_mm2: spread } = self.scatter;
        let away = depth_mm - mean;
        if spread < ONE_DEPTH_MM * ONE_DEPTH_MM {
            u.hypot(lean * away)
        } else {
            u * (1.0 / n + away * away / spread).sqrt().max(1.0)
        }
    }
}

/// Where a radius comes from, which decides whether the diameter's uncertainty enters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RadiusSource {
    /// Measured.
    Measured,
    /// Stated in the block description.
    Description,
}

/// A surface round a bore at one depth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SurfaceAt {
    /// Its centre, mm.
    pub centre_mm: [f64; 2],
    /// Its radius, mm.
    pub radius_mm: f64,
    /// Where the radius comes from.
    pub source: RadiusSource,
}

/// One cylinder's bores, by surface.
#[derive(Debug, Clone, PartialEq)]
pub struct CylinderSurvey {
    /// Index of its bank.
    pub bank: usize,
    /// The bore as it is now: parent where it was read, else liner, else sleeve.
    pub now: Bore,
    /// The bore on each surface that was read.
    pub by_surface: BTreeMap<Surface, Bore>,
}

impl CylinderSurvey {
    /// The parent bore at a depth.
    ///
    /// Measured where it was read, else the liner's outside about the liner's measured centre, else the
    /// measured bore.
    #[must_use]
    pub fn parent(&self, job: &Job, depth_mm: f64) -> SurfaceAt {
        if let Some(parent) = self.by_surface.get(&Surface::Parent) {
            return parent.at(depth_mm);
        }
        let read = self.now.at(depth_mm);
        match &job.block.parent.liner {
            Some(liner) => {
                let radius_mm = liner.outside_mm / 2.0;
                SurfaceAt { radius_mm, source: RadiusSource::Description, ..read }
            }
            None => read,
        }
    }

    /// The bore whose surface is the parent metal's, where it was measured.
    #[must_use]
    pub fn parent_bore(&self, job: &Job) -> Option<&Bore> {
        match self.by_surface.get(&Surface::Parent) {
            None if job.block.parent.liner.is_none() => Some(&self.now),
            read => read,
        }
    }

    /// The bore that a surface is measured about: itself, or the liner's for a parent hole that was not read.
    #[must_use]
    pub fn bore_of(&self, surface: Surface) -> &Bore {
        self.by_surface.get(&surface).unwrap_or(&self.now)
    }

    /// The named surface at a depth, for walls measured from it; `None` where nothing is known of it.
    #[must_use]
    pub fn surface(&self, job: &Job, surface: Surface, depth_mm: f64) -> Option<SurfaceAt> {
        if surface == Surface::Parent {
            return Some(self.parent(job, depth_mm));
        }
        Some(self.by_surface.get(&surface)?.at(depth_mm))
    }
}
