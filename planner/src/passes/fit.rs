//! Fit: clean, heat, install, hold down, check.

use super::{Bench, Cutter};
use crate::plan::Stage;

/// Gap on diameter that lets a sleeve drop, mm. Common practice, no source.
const DROP_MM: f64 = 0.10;
/// Block temperature not to be passed, degrees Celsius: aged alloys soften above it. Common practice, no source.
const HOTTEST_C: f64 = 150.0;
/// Handwork on one sleeve, minutes. Common practice, no source.
const MINUTES: f64 = 15.0;
/// ISO 1 reference temperature, degrees Celsius.
const REFERENCE_C: f64 = 20.0;

pub(super) fn stage(bench: &mut Bench<'_>) {
    let sleeve = bench.sleeve;
    let tightest = sleeve
        .body
        .iter()
        .max_by(|a, b| (a.interference_mm / a.diameter_mm).total_cmp(&(b.interference_mm / b.diameter_mm)));
    let heat = tightest.map_or_else(String::new, |step| {
        if step.interference_mm <= 0.0 {
            return "goes in cold; ".into();
        }
        // The hole grows by alpha D dT; the sleeve stays at the reference temperature.
        let expansion = bench.job.block.parent.material.expansion_per_k;
        let block = REFERENCE_C + (step.interference_mm + DROP_MM) / (expansion * step.diameter_mm);
        if block <= HOTTEST_C {
            format!("block soaked at {:.0} C, sleeve at 20 C, drops with {DROP_MM:.2} mm; ", block.ceil())
        } else {
            format!("block at most {HOTTEST_C:.0} C and the sleeve chilled; ")
        }
    });
    let text = format!(
        "{heat}hold down until gripped; 0.02 mm feeler must not enter; flange {:.3} to {:.3} mm proud at 4 points",
        sleeve.protrusion_min_mm, sleeve.protrusion_max_mm
    );
    let step = bench.next();
    let mut passes = Vec::new();
    for cut in &bench.cuts {
        let mut pass = bench.pass(
            step,
            cut,
            &Cutter {
                stage: Stage::Fit,
                feature: "sleeve",
                diameter_mm: sleeve.flange.diameter_mm,
                depths_mm: [0.0, sleeve.length_mm],
                cutting: None,
                material: &sleeve.material.name,
            },
        );
        pass.in_cut = 0.0;
        pass.minutes = MINUTES;
        pass.stop = Some(text.clone());
        passes.push(pass);
    }
    bench.passes.append(&mut passes);
}
