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
        let slope = slope(deck_mm)?;
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

/// How a deck rises along the machine's X and Y, mm per mm.
fn slope(deck_mm: &[[f64; 3]]) -> Option<[f64; 2]> {
    let [nx, ny, nz] = fit_plane(deck_mm).ok()?.normal;
    // A deck on edge gives no height, and the survey names it.
    (nz.abs() >= 0.5).then(|| [-nx / nz, -ny / nz])
}

/// Whether a deck that leans would still lean too much with the block shimmed until the mandrel lies level and the deck with it
/// across: what is left is the deck's own slope along the journal axis, which no shim takes out without tilting the bores.
fn is_its_own(job: &Job, deck: &DeckTilt, flange_mm: f64) -> bool {
    let read = job.set_ups.iter().find(|set_up| set_up.name == deck.set_up);
    let Some(ReadingFrame::Machine(machine)) = read.map(|set_up| &set_up.frame) else { return false };
    let [Some(first), Some(last)] = [machine.axis.first(), machine.axis.last()] else { return false };
    let run = last.at_mm[0] - first.at_mm[0];
    let rises = if run.abs() > 0.0 { (last.at_mm[2] - first.at_mm[2]) / run } else { 0.0 };
    (slope(&machine.deck_mm).map_or(0.0, |own| own[0]) - rises).abs() * flange_mm > of_sleeve::SPREAD_MM
}

/// A deck that leans over the flange by more than this, and by more than the flange's window, holds, mm: most ledges would fail
/// their check. Common practice, no source.
const LEANS_MM: f64 = 0.06;

/// A finding of each deck that leans over the flange by more than its readings may differ, where no limit judges that: the checks
/// of its ledges will hold for it. One way out of it: a shim where the set-up leans, a skim where the deck itself does.
pub(crate) fn leaning(job: &Job, decks: &[DeckTilt], flange: &Flange) -> Vec<Finding> {
    let flange_mm = flange.diameter_mm;
    let most = LEANS_MM.max(flange.protrusion_max_mm - flange.protrusion_min_mm);
    if job.limits.get(of_sleeve::PROTRUSION_SPREAD.name).is_some() {
        return Vec::new();
    }
    let leans = |deck: &&DeckTilt| deck.skim > job.engine.deck.cut_mm && deck.spread > of_sleeve::SPREAD_MM;
    let note = |deck: &DeckTilt| Finding {
        code: "flange_leans",
        verdict: if deck.spread > most { Verdict::Hold } else { Verdict::Go },
        subject: Subject::bank(&deck.bank),
        text: say!(
            "its deck leans {} over the flange, and the check of each ledge holds over {}: {}, read and plan again, or release those \
             checks one by one",
            mm(deck.spread, 3),
            before_mm(of_sleeve::SPREAD_MM, 3),
            if is_its_own(job, deck, flange_mm) {
                say!("skim {} off it", before_mm(deck.skim, 3))
            } else {
                "shim the block until it leans less".into()
            }
        ),
    };
    decks.iter().filter(leans).map(note).collect()
}
