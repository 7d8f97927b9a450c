//! O-rings in the sleeve's grooves: squeeze, stretch and fill, at both ends of the tolerances, aside and at work.

use crate::job::{Job, ORing, Sleeve, Step};
use crate::material::REFERENCE_C;
use crate::place::Positions;
use crate::plan::SleeveFit;
use crate::plan::fit::{ORingFit, Squeeze};
use crate::plan::sentence::{Sentence, mm};
use crate::read::fault::plain;
use crate::say;

/// Squeeze to aim at (shares). Common practice of static radial glands, no source.
pub const SQUEEZE: [f64; 2] = [0.15, 0.27];
/// Stretch to aim at. Common practice, no source.
pub const STRETCH: [f64; 2] = [0.01, 0.04];
/// Gland fill to aim at. Common practice, no source.
pub const FILL: [f64; 2] = [0.65, 0.85];
/// Gland fill never to be passed. Common practice, no source.
pub const FILL_MOST: f64 = 0.90;

/// Either side of the diameter of a groove's floor, mm. Common practice, no source.
const GROOVE_TOLERANCE_MM: f64 = 0.02;
/// Either side of a groove's width, mm. Common practice, no source.
const WIDTH_TOLERANCE_MM: f64 = 0.05;

/// First groove below the edge of the jacket, at least, mm. Common practice, no source.
const FROM_JACKET_MM: f64 = 3.0;
/// A groove from the end of its register, and from the next groove, at least, mm. Common practice, no source.
const LAND_MM: f64 = 2.0;

/// Linear expansion of coolant-proof elastomers, 1/K: from memory, not verified.
const ELASTOMER_PER_K: f64 = 160e-6;

/// Cords and either side of them, mm: ISO 3601-1, from memory, not verified.
const CORDS_MM: [[f64; 2]; 5] = [[1.8, 0.08], [2.65, 0.09], [3.55, 0.10], [5.4, 0.13], [15.0, 0.15]];

/// The gland, mm.
struct Gland {
    pocket: f64,
    groove: f64,
    width: f64,
}

impl Gland {
    fn deep(&self) -> f64 {
        (self.pocket - self.groove) / 2.0
    }

    fn of(&self, cord: f64) -> Squeeze {
        Squeeze {
            squeeze: (cord - self.deep()) / cord,
            fill: std::f64::consts::FRAC_PI_4 * cord * cord / (self.deep() * self.width),
        }
    }
}

/// Every O-ring of the candidate.
pub(super) fn o_rings(job: &Job, sleeve: &Sleeve, positions: &Positions) -> Vec<ORingFit> {
    let steps = sleeve.body.iter().zip(&positions.pocket.steps);
    steps
        .flat_map(|(step, feature)| {
            let from_mm = feature.depths.from_mm - job.engine.deck.cut_mm;
            step.o_rings.iter().map(move |ring| o_ring(job, sleeve, step, from_mm, ring))
        })
        .collect()
}

/// How one O-ring fits in the pocket of its step, with remarks where it is unusual: as drawn, at both ends of the
/// tolerances, pushed aside and hot. `from_mm` is the depth that the step begins at.
fn o_ring(job: &Job, sleeve: &Sleeve, step: &Step, from_mm: f64, ring: &ORing) -> ORingFit {
    let pocket = step.pocket_mm();
    let gland = Gland { pocket, groove: ring.groove_diameter_mm, width: ring.groove_width_mm };
    let stretch = (ring.groove_diameter_mm - ring.inside_mm) / ring.inside_mm;
    // Stretched onto its groove the cord is thinner: rubber keeps its volume.
    let thinner = 1.0 / (1.0 + stretch.max(0.0)).sqrt();
    let cord = ring.cord_mm * thinner;
    let nominal = gland.of(cord);
    let size = step.pocket_tolerance_mm.unwrap_or(job.allowances.pocket_size_mm);
    let either = thinner * CORDS_MM.iter().find(|row| ring.cord_mm <= row[0]).map_or(0.15, |row| row[1]);
    let deepest = Gland {
        pocket: pocket + size,
        groove: gland.groove - GROOVE_TOLERANCE_MM,
        width: gland.width + WIDTH_TOLERANCE_MM,
    };
    let shallowest = Gland {
        pocket: pocket - size,
        groove: gland.groove + GROOVE_TOLERANCE_MM,
        width: gland.width - WIDTH_TOLERANCE_MM,
    };
    // A loose register lets the sleeve go over by half its clearance, which comes off the gland on one side.
    let over = (-step.interference_mm).max(0.0) / 2.0;
    let at = &job.engine.running;
    let (block, iron) = (job.block.parent.material.strain(at.block_c), sleeve.material.strain(at.sleeve_c));
    let rubber = ELASTOMER_PER_K * (at.sleeve_c - REFERENCE_C);
    let hot = |cold: &Gland, cord: f64| {
        let grown = Gland {
            pocket: cold.pocket * (1.0 + block),
            groove: cold.groove * (1.0 + iron),
            width: cold.width * (1.0 + iron),
        };
        grown.of(cord * (1.0 + rubber))
    };
    let from_jacket = job
        .block
        .parent
        .jacket
        .map(|jacket| ring.depth_mm - ring.groove_width_mm / 2.0 + job.engine.deck.cut_mm - jacket.to_mm);
    let mut fit = ORingFit {
        feature: step.name.clone(),
        depth: ring.depth_mm,
        squeeze: nominal.squeeze,
        stretch,
        fill: nominal.fill,
        cord_stretched: cord,
        least: deepest.of(cord - either),
        most: shallowest.of(cord + either),
        aside: [(cord - (gland.deep() + over)) / cord, (cord - (gland.deep() - over)) / cord],
        hot: hot(&gland, cord),
        hot_most: hot(&shallowest, cord + either),
        from_jacket,
        remarks: Vec::new(),
    };
    fit.remarks = remarks(&fit, step, from_mm, ring);
    fit
}

/// What lies outside the usual ranges.
fn remarks(fit: &ORingFit, step: &Step, from_mm: f64, ring: &ORing) -> Vec<Sentence> {
    let mut said = Vec::new();
    let percent = |share: f64| share * 100.0;
    let range = |what: &str, share: f64, [least, most]: [f64; 2]| {
        (share < least || share > most).then(|| {
            say!("{} {:.1} %, usual {:.0} to {:.0} %", what, percent(share), percent(least), percent(most))
        })
    };
    said.extend(range("squeeze", fit.squeeze, SQUEEZE));
    said.extend(range("stretch", fit.stretch, STRETCH));
    said.extend(range("gland fill", fit.fill, FILL));
    if fit.least.squeeze <= 0.0 || fit.aside[0] <= 0.0 {
        said.push("at one end of its tolerances it is not squeezed at all: it will leak".into());
    }
    if fit.most.fill > FILL_MOST || fit.hot.fill > FILL_MOST {
        let fill = percent(fit.most.fill.max(fit.hot.fill));
        said.push(say!(
            "it fills up to {fill:.0} % of its groove, never more than {:.0} %",
            percent(FILL_MOST)
        ));
    }
    if let Some(gap) = fit.from_jacket.filter(|gap| *gap < FROM_JACKET_MM) {
        said.push(say!("{} below the edge of the jacket, at least {}", mm(gap, 1), mm(FROM_JACKET_MM, 0)));
    }
    let half = ring.groove_width_mm / 2.0;
    let land = (ring.depth_mm - half - from_mm).min(step.to_mm - ring.depth_mm - half);
    if land < LAND_MM {
        said.push(say!("{} from the end of its register, at least {}", mm(land, 1), mm(LAND_MM, 0)));
    }
    let nearest = step
        .o_rings
        .iter()
        .filter(|o| o.depth_mm != ring.depth_mm)
        .map(|other| (other.depth_mm - ring.depth_mm).abs() - half - other.groove_width_mm / 2.0);
    let nearest = nearest.fold(f64::INFINITY, f64::min);
    if nearest < LAND_MM {
        said.push(say!("{} from the next groove, at least {}", mm(nearest, 1), mm(LAND_MM, 0)));
    }
    said
}

/// The remarks of every ring, with the ring.
pub(super) fn notes(fit: &SleeveFit) -> Vec<Sentence> {
    let rings = fit.o_rings.iter().filter(|r| !r.remarks.is_empty());
    rings
        .map(|r| {
            say!(
                "O-ring at {} in {}: {}",
                mm(r.depth, 1),
                plain(&r.feature, 40),
                Sentence::join(r.remarks.iter().cloned(), "; ")
            )
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn squeeze_and_fill_agree_with_the_worked_examples() {
        // Public gland calculator: cord 2.0 in a gland 1.6 deep and 3.2 wide.
        let gland = Gland { pocket: 83.2, groove: 80.0, width: 3.2 };
        let s = gland.of(2.0);
        assert!((s.squeeze - 0.20).abs() < 1e-9 && (s.fill - 0.613_592).abs() < 1e-5, "{s:?}");
        // Common practice: cord 2.62 in 2.09 x 3.62 is squeezed 20.2 % and fills 71 %.
        let gland = Gland { pocket: 84.18, groove: 80.0, width: 3.62 };
        let s = gland.of(2.62);
        assert!((s.squeeze - 0.202).abs() < 1e-3 && (s.fill - 0.7126).abs() < 1e-3, "{s:?}");
    }
}
