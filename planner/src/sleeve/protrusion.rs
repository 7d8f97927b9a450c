//! Protrusion: how far the flange ends above the deck, from the tolerances and from a deck that leans.

use borewright_geometry::fit_plane;

use crate::job::{Flange, Job, ReadingFrame};
use crate::limits::of_sleeve;
use crate::plan::fit::{DeckTilt, Protrusion};
use crate::plan::sentence::{before_mm, mm};
use crate::plan::{Finding, Subject, Verdict};
use crate::say;

/// The middle of what is asked, with flange and ledge at the ends of their tolerances; and the decks that were read.
pub(super) fn protrusion(job: &Job, flange: &Flange) -> Protrusion {
    let middle = f64::midpoint(flange.protrusion_min_mm, flange.protrusion_max_mm);
    let either = flange.tolerance_mm + job.allowances.ledge_depth_mm;
    // Cut with the sleeves in, flange and deck are one plane.
    let flush = job.engine.deck.after_fit && job.engine.deck.cut_mm > 0.0;
    let (middle, either) = if flush { (0.0, 0.0) } else { (middle, either) };
    Protrusion {
        least: middle - either,
        most: middle + either,
        wanted_least: flange.protrusion_min_mm,
        wanted_most: flange.protrusion_max_mm,
        decks: deck_tilts(job, flange.diameter_mm),
    }
}

/// How each deck that was read leans over a flange of this diameter, mm. Ledges are cut square to the machine's Z; the deck is
/// where it was read.
pub(crate) fn deck_tilts(job: &Job, flange_mm: f64) -> Vec<DeckTilt> {
    let read = job.set_ups.iter().filter_map(|set_up| match &set_up.frame {
        ReadingFrame::Machine(m) if m.deck_mm.len() >= 3 => Some((set_up, &m.deck_mm)),
        _ => None,
    });
    read.filter_map(|(set_up, deck_mm)| {
        let [nx, ny, nz] = fit_plane(deck_mm).ok()?.normal;
        // A deck on edge gives no height, and the survey names it.
        if nz.abs() < 0.5 {
            return None;
        }
        let slope = [-nx / nz, -ny / nz];
        let heights = || deck_mm.iter().map(|p| p[2]);
        let residual = || deck_mm.iter().map(|p| p[2] - slope[0] * p[0] - slope[1] * p[1]);
        let extent = |values: &mut dyn Iterator<Item = f64>| {
            let (low, high) =
                values.fold((f64::INFINITY, f64::NEG_INFINITY), |(l, h), v| (l.min(v), h.max(v)));
            high - low
        };
        Some(DeckTilt {
            set_up: set_up.name.clone(),
            bank: job.bank(set_up.bank).name.clone(),
            along: slope[0] * flange_mm,
            across: slope[1] * flange_mm,
            spread: slope[0].hypot(slope[1]) * flange_mm,
            skim: extent(&mut heights()),
            flatness: extent(&mut residual()),
        })
    })
    .collect()
}

/// A note of each deck that leans over the flange by more than its readings may differ, where no limit judges that: the checks of
/// its ledges will hold for it.
pub(crate) fn leaning(job: &Job, decks: &[DeckTilt]) -> Vec<Finding> {
    if job.limits.get(of_sleeve::PROTRUSION_SPREAD.name).is_some() {
        return Vec::new();
    }
    let leans = |deck: &&DeckTilt| deck.skim > job.engine.deck.cut_mm && deck.spread > of_sleeve::SPREAD_MM;
    let note = |deck: &DeckTilt| Finding {
        code: "flange_leans",
        verdict: Verdict::Go,
        subject: Subject::bank(&deck.bank),
        text: say!(
            "its deck leans {} over the flange, ledges hold over {}: shim it, or skim {} off",
            mm(deck.spread, 3),
            before_mm(of_sleeve::SPREAD_MM, 3),
            before_mm(deck.skim, 3)
        ),
    };
    decks.iter().filter(leans).map(note).collect()
}
