//! Hone: the last stock off, with the crosshatch's speeds.

use std::f64::consts::PI;

use super::{Bench, Cutter};
use crate::plan::{Stage, Stock};

/// Surface speed of stones, m/min. Common practice, no source.
const SPEED_M_PER_MIN: f64 = 55.0;
/// Included crosshatch angle aimed at, degrees. Common practice, no source.
const INCLUDED_DEG: f64 = 45.0;
/// Honing and gauging of one bore, minutes. Common practice, no source.
const MINUTES: f64 = 10.0;

/// Included angle between the two families of scratches, degrees: tan(half) = stroke speed / surface speed.
///
/// Source: Klocke, Manufacturing Processes 2, honing (from memory); stroke speed = 2 x stroke x double
/// strokes a minute.
///
/// ```
/// # use borewright_planner::passes::crosshatch_deg;
/// // D 101.6, 200 1/min, 130 mm stroke, 75 double strokes/min: 33.97 degrees.
/// assert!((crosshatch_deg(101.6, 200.0, 130.0, 75.0) - 33.9721).abs() < 1e-3);
/// ```
#[must_use]
pub fn crosshatch_deg(diameter_mm: f64, rpm: f64, stroke_mm: f64, strokes_per_min: f64) -> f64 {
    (2.0 * stroke_mm * strokes_per_min / (PI * diameter_mm * rpm)).atan().to_degrees() * 2.0
}

pub(super) fn stage(bench: &mut Bench<'_>) {
    let job = bench.job;
    let stock = job.finish.hone_stock_mm / 2.0;
    let bore = job.finish.bore_mm;
    let length = bench.sleeve.length_mm;
    if stock <= 0.0 {
        return;
    }
    let (rpm, strokes) = match job.machine.hone {
        Some(hone) => {
            let rpm = (1000.0 * SPEED_M_PER_MIN / (PI * bore)).clamp(hone.rpm[0], hone.rpm[1]).round();
            let half = (INCLUDED_DEG / 2.0).to_radians().tan();
            let strokes = half * PI * bore * rpm / (2.0 * length);
            (rpm, strokes.clamp(hone.strokes[0], hone.strokes[1]).round())
        }
        None => {
            bench.note(
                "no_hone",
                "the machine file has no hone: speeds of the hone stage are left open".into(),
            );
            (0.0, 0.0)
        }
    };
    let mut text = format!("size {bore:.3} mm within {:.3} mm at 20 C, plate on", job.finish.tolerance_mm);
    if rpm > 0.0 {
        let included = crosshatch_deg(bore, rpm, length, strokes);
        text.push_str(&format!(
            "; {strokes:.0} double strokes/min: crosshatch {included:.0} deg included, {:.0} from level",
            included / 2.0
        ));
    }
    let metal = bench.sleeve.material.name.clone();
    let step = bench.next();
    let mut passes = Vec::new();
    for cut in &bench.cuts {
        let mut pass = bench.pass(
            step,
            cut,
            &Cutter {
                stage: Stage::Hone,
                feature: "hone",
                diameter_mm: bore,
                depths_mm: [0.0, length],
                cutting: None,
                material: &metal,
            },
        );
        pass.stock = Stock { min: stock, max: stock };
        pass.rpm = rpm;
        pass.minutes = MINUTES;
        pass.stop = Some(text.clone());
        passes.push(pass);
    }
    bench.passes.append(&mut passes);
}
