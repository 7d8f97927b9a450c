//! Piston against sleeve at both ends of the stroke, and the clearance cold and hot.

use crate::job::{Job, Piston, Sleeve};
use crate::material::Material;
use crate::plan::fit::{Clearance, Stack};
use crate::survey::Survey;

/// Crown below the deck = H - c - sqrt((L ± R)² - d²): slider-crank with the pin's line d off the journal axis.
///
/// H is the final deck of a bank, as read where it was read; R half the stroke, L the rod, c the pin height, d the
/// axis offset.
pub(super) fn stack(job: &Job, survey: &Survey, sleeve: &Sleeve) -> Option<Stack> {
    let piston = job.engine.piston.as_ref()?;
    let cut = job.engine.deck.cut_mm;
    // Each figure where it is worst: the crown under the lowest deck, ring and skirt under the highest.
    let banks = (0..job.block.banks.len()).map(|bank| {
        let height = job.deck_as_it_is_mm(bank, &survey.journal_axis) - cut;
        let offset = job.bank(bank).axis_offset_mm;
        let throw = piston.stroke_mm / 2.0;
        let top = below(height, piston, offset, piston.rod_mm + throw)?;
        Some((top, below(height, piston, offset, piston.rod_mm - throw)?))
    });
    let ends: Vec<(f64, f64)> = banks.collect::<Option<_>>()?;
    let top = ends.iter().map(|e| e.0).fold(f64::INFINITY, f64::min);
    let bottom = ends.iter().map(|e| e.1).fold(f64::NEG_INFINITY, f64::max);
    let at = &job.engine.running;
    let bore = job.finish.bore_mm;
    let grown = |length: f64, metal: &Material, celsius: f64| length * (1.0 + metal.strain(celsius));
    let clearance = piston.clearance_mm.map(|cold| Clearance {
        cold,
        hot: grown(bore, &sleeve.material, at.sleeve_c)
            - grown(bore - cold, &piston.material, piston.temperature_c),
    });
    let oil_ring_bottom = bottom + piston.oil_ring_mm;
    let skirt_bottom = bottom + piston.skirt_mm;
    Some(Stack {
        crown_top: top,
        crown_bottom: bottom,
        oil_ring_bottom,
        skirt_bottom,
        ring_hold: sleeve.length_mm - oil_ring_bottom,
        skirt_out: skirt_bottom - sleeve.length_mm,
        crown_gap: top + piston.gasket_mm.unwrap_or(0.0),
        clearance,
        bore_today: job.temperature.map(|t| grown(bore, &sleeve.material, t.cutting.block_c)),
    })
}

/// `None` where rod and throw do not reach across the offset.
fn below(height: f64, piston: &Piston, offset: f64, reach: f64) -> Option<f64> {
    let square = reach * reach - offset * offset;
    (square > 0.0).then(|| height - piston.pin_height_mm - square.sqrt())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material;

    #[test]
    fn crown_heights_agree_with_the_worked_example() {
        // Common practice, worked by hand: H 235, stroke 92, rod 150, pin height 38.9, no offset.
        let piston = Piston {
            stroke_mm: 92.0,
            rod_mm: 150.0,
            pin_height_mm: 38.9,
            oil_ring_mm: 20.0,
            skirt_mm: 55.0,
            material: material::built_in("piston aluminium").expect("built in"),
            temperature_c: 120.0,
            temperature_stated: false,
            gasket_mm: None,
            clearance_mm: None,
        };
        assert!((below(235.0, &piston, 0.0, 196.0).expect("reaches") - 0.1).abs() < 1e-9);
        assert!((below(235.0, &piston, 0.0, 104.0).expect("reaches") - 92.1).abs() < 1e-9);
        // An offset of 10 takes sqrt(196² - 10²): 0.2553 lower at the top.
        assert!((below(235.0, &piston, 10.0, 196.0).expect("reaches") - 0.355_268).abs() < 1e-5);
        assert_eq!(below(235.0, &piston, 200.0, 196.0), None);
    }
}
