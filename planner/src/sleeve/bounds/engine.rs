//! Figures of sleeve and piston that fit no engine: a digit slipped, or another engine's. Each is a hold.

use super::{Missed, holds};
use crate::job::{Job, Sleeve};
use crate::material::{LIGHT_PER_K, Material};
use crate::plan::SleeveFit;
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{celsius, mm};
use crate::read::fault::plain;
use crate::say;
use crate::sleeve::judge::SAME;

/// Hotter than this an aluminium block loses its heat treatment, degrees Celsius. Common practice, no source.
const HOTTEST_ALUMINIUM_C: f64 = 170.0;
/// A recess wider than its flange by more than this lets the sleeve stand anywhere, mm on diameter. Common
/// practice, no source.
const FLANGE_LOOSE_MM: f64 = 0.30;
/// A recess no wider than this round a flange may be tight by what tool and flange vary, mm on diameter: the flange
/// then hangs or wedges the deck. Common practice, no source.
const FLANGE_TIGHT_MM: f64 = 0.01;
/// A crown deeper below the deck than this is another engine's, mm. Common practice, no source.
const CROWN_LOW_MM: f64 = 5.0;

/// Every such figure of the job, each a hold.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = stroke(job, fit);
    limits.extend(hot(job, fit));
    limits.extend(flange(job, sleeve));
    limits
}

/// A piston that is not this engine's: its crown far below the deck, or its skirt down among the mains.
fn stroke(job: &Job, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let Some(stack) = fit.stack else { return Vec::new() };
    let mut limits = Vec::new();
    let crown = stack.crown_top;
    if crown > CROWN_LOW_MM + SAME {
        let text = say!(
            "the crown stops {} below the deck at top dead centre, over {}: are stroke, rod and pin height this engine's?",
            mm(crown, 2),
            mm(CROWN_LOW_MM, 2)
        );
        limits.push(holds("crown_low", "top dead centre", Missed::length(crown, CROWN_LOW_MM), text));
    }
    let deck = job.block.banks.iter().map(|b| b.deck_height_mm).fold(f64::INFINITY, f64::min);
    let mains = deck - job.engine.deck.cut_mm - job.block.journal_axis.housing_bore_mm / 2.0;
    if stack.skirt_bottom > mains + SAME {
        let text = say!(
            "the skirt ends {} below the deck at bottom dead centre, where the main housings begin at {}: are stroke, rod and skirt this engine's?",
            mm(stack.skirt_bottom, 2),
            mm(mains, 2)
        );
        limits.push(holds(
            "skirt_low",
            "bottom dead centre",
            Missed::length(stack.skirt_bottom, mains),
            text,
        ));
    }
    limits
}

/// A block of aluminium that must get so hot that it softens.
fn hot(job: &Job, fit: &SleeveFit) -> Option<SleeveLimit> {
    let block = fit.going_in.block;
    let Material { name: metal, expansion_per_k, .. } = &job.block.parent.material;
    if *expansion_per_k <= LIGHT_PER_K || block <= HOTTEST_ALUMINIUM_C + SAME {
        return None;
    }
    let text = say!(
        "to take the sleeve the block would have to be {} hot, over {}: {} loses its heat treatment",
        celsius(block, 0),
        celsius(HOTTEST_ALUMINIUM_C, 0),
        plain(metal, 40)
    );
    Some(holds("block_hot", "block as it goes in, °C", Missed::plain(block, HOTTEST_ALUMINIUM_C), text))
}

/// A recess that does not hold its flange.
fn flange(job: &Job, sleeve: &Sleeve) -> Option<SleeveLimit> {
    let loose = sleeve.flange()?.clearance_mm;
    let least = FLANGE_TIGHT_MM + job.allowances.pocket_size_mm;
    if loose < least - SAME {
        let text = say!(
            "the recess is {} wider than the flange on diameter, and may be cut {} narrower: under {} is left, and the flange hangs or \
             wedges before it lies on the ledge",
            mm(loose, 4),
            mm(job.allowances.pocket_size_mm, 3),
            mm(FLANGE_TIGHT_MM, 2)
        );
        return Some(holds("flange_tight", "flange", Missed::length(loose, least), text));
    }
    if loose <= FLANGE_LOOSE_MM + SAME {
        return None;
    }
    let text = say!(
        "the recess is {} wider than the flange, over {} on diameter: is `flange.clearance` in this unit?",
        mm(loose, 2),
        mm(FLANGE_LOOSE_MM, 2)
    );
    Some(holds("flange_loose", "flange", Missed::length(loose, FLANGE_LOOSE_MM), text))
}
