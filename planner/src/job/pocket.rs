//! The pocket that a sleeve asks for: one cylinder a step, and the flange's recess.

use crate::job::{Depths, Sleeve};

/// One cylinder of a pocket.
#[derive(Debug, Clone, PartialEq)]
pub struct Feature {
    /// The step's name, or `flange`.
    pub name: String,
    /// Its radius, mm.
    pub radius_mm: f64,
    /// Its depths.
    pub depths: Depths,
    /// Whether the step stands in coolant.
    pub wet: bool,
}

impl Feature {
    /// Its diameter, mm.
    #[must_use]
    pub fn diameter_mm(&self) -> f64 {
        2.0 * self.radius_mm
    }
}

/// Depth of a ledge below the deck as it is, for a flange of this thickness, mm.
///
/// Thickness - middle of protrusion, to the deck that is left, + what is still to be cut off it.
#[must_use]
pub fn ledge_mm(sleeve: &Sleeve, thickness_mm: f64, deck_cut_mm: f64) -> f64 {
    thickness_mm - f64::midpoint(sleeve.protrusion_min_mm, sleeve.protrusion_max_mm) + deck_cut_mm
}

/// A pocket: the flange's recess on top, then one cylinder a step down to the sleeve's end.
#[derive(Debug, Clone, PartialEq)]
pub struct Pocket {
    /// The flange's recess; its depth is the flange's thickness less the middle of the protrusion.
    pub flange: Feature,
    /// Radius of the sleeve's own flange, which stands in the recess with clearance, mm.
    pub flange_metal_mm: f64,
    /// Half of what the flange takes up towards its neighbours: half the flats, else the recess' radius, mm.
    pub flange_half_mm: f64,
    /// The cylinders below, from the flange's floor down.
    pub steps: Vec<Feature>,
}

impl Pocket {
    /// The pocket of a sleeve.
    ///
    /// Pocket diameter = outside - interference (or + clearance); flange depth = thickness - middle of
    /// protrusion. A sleeve's depths count from the deck it ends at; the pocket's from the deck as it is, which lies
    /// `deck_cut_mm` above.
    #[must_use]
    pub fn of(sleeve: &Sleeve, deck_cut_mm: f64) -> Self {
        let floor = ledge_mm(sleeve, sleeve.flange.thickness_mm, deck_cut_mm);
        let radius_mm = (sleeve.flange.diameter_mm + sleeve.flange.clearance_mm) / 2.0;
        let flange = Feature {
            name: "flange".into(),
            radius_mm,
            depths: Depths { from_mm: 0.0, to_mm: floor },
            wet: false,
        };
        let mut from_mm = floor;
        let steps = sleeve
            .body
            .iter()
            .map(|step| {
                let depths = Depths { from_mm, to_mm: step.to_mm + deck_cut_mm };
                from_mm = depths.to_mm;
                let radius_mm = (step.diameter_mm - step.interference_mm) / 2.0;
                Feature { name: step.name.clone(), radius_mm, depths, wet: step.wet }
            })
            .collect();
        Self {
            flange,
            flange_metal_mm: sleeve.flange.diameter_mm / 2.0,
            flange_half_mm: sleeve.flange.flats_mm.map_or(radius_mm, |flats| flats / 2.0),
            steps,
        }
    }

    /// Every cylinder, flange first.
    pub fn features(&self) -> impl Iterator<Item = &Feature> {
        std::iter::once(&self.flange).chain(&self.steps)
    }

    /// The cylinder at a depth (from <= depth < to, the last one up to its end); `None` below the pocket.
    #[must_use]
    pub fn at(&self, depth_mm: f64) -> Option<&Feature> {
        let last = self.steps.last().unwrap_or(&self.flange);
        self.features()
            .find(|f| f.depths.from_mm <= depth_mm && depth_mm < f.depths.to_mm)
            .or_else(|| (depth_mm >= last.depths.from_mm && depth_mm <= last.depths.to_mm).then_some(last))
    }

    /// Depth of its lower end, mm.
    #[must_use]
    pub fn depth_mm(&self) -> f64 {
        self.steps.last().unwrap_or(&self.flange).depths.to_mm
    }

    /// The largest diameter below the flange, mm.
    #[must_use]
    pub fn largest_mm(&self) -> f64 {
        self.steps.iter().map(Feature::diameter_mm).fold(0.0, f64::max)
    }
}
