//! The pocket that a sleeve asks for: one cylinder a step, and the flange's recess or the step left below.

use super::{Depths, Flange, Sleeve};
use crate::plan::rounding;

/// Which part of a pocket a cylinder is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Part {
    /// The flange's recess.
    Flange,
    /// For this step of the sleeve's body, from the top.
    Step(usize),
    /// What is left below a plain sleeve.
    Foot,
}

/// One cylinder of a pocket.
#[derive(Debug, Clone, PartialEq)]
pub struct Feature {
    /// Which it is: a step may be called as another part is.
    pub part: Part,
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
    /// Whether it is the flange's recess.
    #[must_use]
    pub fn is_flange(&self) -> bool {
        self.part == Part::Flange
    }

    /// The step of the sleeve's body that it is for, from the top.
    #[must_use]
    pub fn step(&self) -> Option<usize> {
        match self.part {
            Part::Step(step) => Some(step),
            Part::Flange | Part::Foot => None,
        }
    }

    /// The cylinder's diameter, mm, to a nanometre, so that one size prints as one figure everywhere.
    #[must_use]
    pub fn diameter_mm(&self) -> f64 {
        rounding::plan(2.0 * self.radius_mm)
    }
}

/// The name of what is left of the parent below a pocket.
pub const FOOT: &str = "step";

/// Depth of a ledge below the deck as it is, for a flange of this thickness, mm.
///
/// Thickness - middle of protrusion, to the deck that is left, + what is still to be cut off it.
#[must_use]
pub fn ledge_mm(flange: &Flange, thickness_mm: f64, deck_cut_mm: f64) -> f64 {
    thickness_mm - f64::midpoint(flange.protrusion_min_mm, flange.protrusion_max_mm) + deck_cut_mm
}

/// A flange's recess.
#[derive(Debug, Clone, PartialEq)]
pub struct Recess {
    /// What is cut; its depth is the flange's thickness less the middle of the protrusion.
    pub cut: Feature,
    /// Radius of the sleeve's own flange, which stands in the recess with clearance, mm.
    pub metal_mm: f64,
    /// Half of what the flange takes up towards its neighbours: half the flats, else the recess' radius, mm.
    pub half_mm: f64,
}

/// A pocket: the flange's recess on top, where there is one, then one cylinder a step down to the sleeve's end.
#[derive(Debug, Clone, PartialEq)]
pub struct Pocket {
    /// The flange's recess; `None` for a plain sleeve.
    pub flange: Option<Recess>,
    /// The cylinders below, from the flange's floor, or from the deck, down.
    pub steps: Vec<Feature>,
    /// What is left below for a plain sleeve to stand on: its own bore, from the pocket's end down by its least height.
    pub foot: Option<Feature>,
}

impl Pocket {
    /// The pocket of a sleeve.
    ///
    /// Pocket diameter = outside - interference (or + clearance); flange depth = thickness - middle of
    /// protrusion. A sleeve's depths count from the deck it ends at; the pocket's from the deck as it is, which lies
    /// `deck_cut_mm` above.
    #[must_use]
    pub fn of(sleeve: &Sleeve, deck_cut_mm: f64) -> Self {
        let flange = sleeve.flange().map(|flange| {
            let floor = ledge_mm(flange, flange.thickness_mm, deck_cut_mm);
            let radius_mm = (flange.diameter_mm + flange.clearance_mm) / 2.0;
            let depths = Depths { from_mm: 0.0, to_mm: floor };
            Recess {
                cut: Feature { part: Part::Flange, name: "flange".into(), radius_mm, depths, wet: false },
                metal_mm: flange.diameter_mm / 2.0,
                half_mm: flange.flats_mm.map_or(radius_mm, |flats| flats / 2.0),
            }
        });
        let mut from_mm = flange.as_ref().map_or(0.0, |f| f.cut.depths.to_mm);
        let steps = sleeve
            .body
            .iter()
            .enumerate()
            .map(|(i, step)| {
                let depths = Depths { from_mm, to_mm: step.to_mm + deck_cut_mm };
                from_mm = depths.to_mm;
                let radius_mm = step.pocket_mm() / 2.0;
                Feature { part: Part::Step(i), name: step.name.clone(), radius_mm, depths, wet: step.wet }
            })
            .collect();
        let foot = sleeve.foot().map(|foot| Feature {
            part: Part::Foot,
            name: FOOT.into(),
            radius_mm: foot.inside_mm / 2.0,
            depths: Depths { from_mm, to_mm: from_mm + foot.height_mm },
            wet: false,
        });
        Self { flange, steps, foot }
    }

    /// Every cylinder, flange first.
    pub fn features(&self) -> impl Iterator<Item = &Feature> {
        self.flange.iter().map(|f| &f.cut).chain(&self.steps)
    }

    /// The radius of the pocket's widest part, as the deck shows it, mm.
    #[must_use]
    pub fn mouth_mm(&self) -> f64 {
        self.features().map(|f| f.radius_mm).fold(0.0, f64::max)
    }

    fn last(&self) -> Option<&Feature> {
        self.steps.last().or(self.flange.as_ref().map(|f| &f.cut))
    }

    /// The cylinder at a depth (from <= depth < to, the last one up to its end); `None` below the pocket.
    #[must_use]
    pub fn at(&self, depth_mm: f64) -> Option<&Feature> {
        let last = self.last()?;
        self.features()
            .find(|f| f.depths.from_mm <= depth_mm && depth_mm < f.depths.to_mm)
            .or_else(|| (depth_mm >= last.depths.from_mm && depth_mm <= last.depths.to_mm).then_some(last))
    }

    /// Depth of its lower end, mm.
    #[must_use]
    pub fn depth_mm(&self) -> f64 {
        self.last().map_or(0.0, |f| f.depths.to_mm)
    }

    /// The largest diameter below the flange, mm.
    #[must_use]
    pub fn largest_mm(&self) -> f64 {
        self.steps.iter().map(Feature::diameter_mm).fold(0.0, f64::max)
    }
}
