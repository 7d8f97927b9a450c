//! Fit: clean, heat, install, hold down, check.

use super::{Bench, Cutter, worked};
use crate::job::{Flange, Sleeve, Stands};
use crate::plan::sentence::{Sentence, before_mm, celsius, mm, signed_before_mm, signed_mm, within_mm};
use crate::plan::{EDGES, PassKind, Stage, Stop};
use crate::read::fault::plain;
use crate::say;

/// Handwork on the edges of one pocket, minutes. Common practice, no source.
const EDGES_MINUTES: f64 = 10.0;
/// Chamfer of a pocket's mouth, at 45 degrees, mm. Common practice, no source.
const MOUTH_MM: f64 = 0.5;
/// How long the edge that O-rings slide over is at the most, mm. Common practice, no source.
const LEAD_IN_MM: f64 = 3.0;
/// Its steeper angle, degrees. Common practice, no source.
const LEAD_IN_DEG: f64 = 20.0;

/// A sleeve down on its step stands as high all round, mm. Common practice, no source.
pub(crate) const ALIKE_MM: f64 = 0.05;
/// A feeler that must not go under a flange, nor under a sleeve on its step, mm. Common practice, no source.
pub(crate) const FEELER_MM: f64 = 0.02;

/// How long a block soaks before its first sleeve, minutes. Common practice, no source.
pub const SOAK_MIN: [f64; 2] = [60.0, 90.0];
/// Handwork on one sleeve, minutes. Common practice, no source.
const MINUTES: f64 = 15.0;

/// Appends the fitting of every sleeve: how warm the block must be, how the sleeve goes in, and
/// what is looked at once it is down.
pub(super) fn sleeves(bench: &mut Bench<'_>) {
    let sleeve = bench.sleeve;
    let going = &bench.fit.going_in;
    let heat = if going.gaps.is_empty() {
        "goes in cold; ".into()
    } else {
        let cold = match going.chilled {
            Some(cold) => say!("sleeve chilled to {}", celsius(cold.floor(), 0)),
            None => say!("sleeve at {}", celsius(going.sleeve, 0)),
        };
        let again = going
            .reheat_below
            .map_or_else(Sentence::new, |c| say!(", below {} heat again", celsius(c.ceil(), 0)));
        say!(
            "block soaked at {}, {}, drops with {} or more{}; ",
            celsius(going.soak.ceil(), 0),
            cold,
            mm(going.clearance, 2),
            again
        )
    };
    let cut = bench.job.engine.deck;
    let waits = cut.cut_mm > 0.0 && cut.after_fit;
    let stands = match sleeve.stands {
        Stands::Flange(flange) => {
            let (least, most) = (flange.protrusion_min_mm, flange.protrusion_max_mm);
            if waits {
                // Flanges stand in a recess that waits for the cut.
                let [least, most] = [least, most].map(|p| p - cut.cut_mm);
                say!(
                    "{} feeler must not enter; flange {} to {} against the deck that is still to be cut, at 4 points",
                    mm(FEELER_MM, 2),
                    signed_before_mm(least, 3).least(most),
                    signed_mm(most, 3).most(least)
                )
            } else {
                say!(
                    "{} feeler must not enter; flange {} to {} proud at 4 points",
                    mm(FEELER_MM, 2),
                    before_mm(least, 3).least(most),
                    mm(most, 3).most(least)
                )
            }
        }
        Stands::Foot(foot) => {
            let above = foot.proud_mm - if waits { cut.cut_mm } else { 0.0 };
            let deck = if waits { "the deck that is still to be cut" } else { "the deck" };
            say!(
                "down on its step all round: {} against {} at 4 points, alike within {}",
                signed_mm(above, 2),
                deck,
                within_mm(above, ALIKE_MM, 2)
            )
        }
    };
    let flats = sleeve.flange().and_then(Flange::flats_cut_mm);
    let flats = flats.map_or("", |_| "flats towards the neighbours; ");
    let rings = sleeve.body.iter().any(|step| !step.o_rings.is_empty());
    let rings = if rings {
        "O-rings wetted with the lubricant their maker allows (mineral oil swells some), none twisted; "
    } else {
        ""
    };
    // A hot block is larger than its sleeve: seated or not is told once both are cold.
    let once = if going.gaps.is_empty() { "" } else { "all in and cooled to room temperature" };
    let how = say!("{}{}{}hold down until gripped", heat, rings, flats);
    let step = bench.next();
    let mut passes = Vec::new();
    for cut in &bench.cuts {
        let mut pass = bench.pass(
            step,
            cut,
            &Cutter {
                stage: Stage::Fit,
                feature: "sleeve",
                diameter_mm: widest(sleeve),
                depths_mm: [bench.job.engine.deck.cut_mm, bench.job.engine.deck.cut_mm + sleeve.length_mm],
                cutting: None,
                material: &sleeve.material.name,
            },
        );
        pass.in_cut = 0.0;
        pass.minutes = MINUTES;
        pass.worked.push(worked::by_hand(MINUTES));
        let own = bench.fit.assigned.iter().find(|a| a.cylinder == cut.cylinder());
        pass.stop = Some(Stop {
            sleeve: own.map(|own| plain(&own.number, 30)),
            how: how.clone(),
            once: once.into(),
            asks: stands.clone(),
        });
        passes.push(pass);
    }
    bench.passes.append(&mut passes);
}

/// The sleeve's widest part, mm.
fn widest(sleeve: &Sleeve) -> f64 {
    let body = sleeve.body.iter().map(|s| s.diameter_mm).fold(0.0, f64::max);
    sleeve.flange().map_or(body, |f| f.diameter_mm)
}

/// How the edges are sloped that O-rings slide over, each no longer than the step that it is cut from is wide; nothing where no step
/// has rings.
fn lead_ins(bench: &Bench<'_>) -> Sentence {
    let pocket = &bench.positions.pocket;
    let mut told: Vec<Sentence> = Vec::new();
    let mut before: Option<usize> = None;
    for (own, _) in bench.sleeve.body.iter().enumerate().filter(|(_, step)| !step.o_rings.is_empty()) {
        // Past parts that are no wider the ring is pushed in farther up.
        let wider = |at: usize| {
            pocket.steps.get(at).zip(pocket.steps.get(at + 1)).is_some_and(|(a, b)| a.radius_mm > b.radius_mm)
        };
        let entry = (0..own).rev().find(|at| wider(*at)).map_or(0, |above| above + 1);
        let Some(edge) = pocket.steps.get(entry).filter(|_| before.replace(entry) != Some(entry)) else {
            continue;
        };
        let wide = match entry.checked_sub(1).and_then(|above| pocket.steps.get(above)) {
            Some(above) => above.radius_mm - edge.radius_mm,
            // More would be taken off what the flange rests on.
            None if pocket.flange.is_some() => bench.job.allowances.ledge_chamfer_mm,
            None => f64::INFINITY,
        };
        let long = (wide / LEAD_IN_DEG.to_radians().tan()).min(LEAD_IN_MM);
        // A tenth that is not there is not cut.
        let long = (long * 10.0 + 1e-9).floor() / 10.0;
        told.push(if entry == 0 && pocket.flange.is_none() {
            say!("by {} at the mouth", mm(long, 1))
        } else {
            say!("by {} at {} depth", mm(long, 1), mm(edge.depths.from_mm, 2))
        });
    }
    if told.is_empty() {
        return Sentence::new();
    }
    say!("; 15 to {LEAD_IN_DEG:.0} degrees where O-rings slide in: {}", Sentence::join(told, ", "))
}

/// Every edge broken and every chip washed out before a sleeve comes near: one chip under a flange is a sunk sleeve
/// later.
pub(super) fn edges(bench: &mut Bench<'_>) {
    let sleeve = bench.sleeve;
    let stands = match sleeve.stands {
        Stands::Flange(flange) => {
            let fillet = flange.fillet_mm.map_or_else(
                || "no smaller than the sleeve's fillet".into(),
                |fillet| say!("clear of the sleeve's fillet of {}", mm(fillet, 2)),
            );
            say!("ledge's inner edge {} x 45 deg, {}", mm(bench.job.allowances.ledge_chamfer_mm, 1), fillet)
        }
        Stands::Foot(_) => "step's inner edge free of burrs, its corner clean".into(),
    };
    let corner =
        if sleeve.flange().is_some() { "; recess corner no larger than the flange's own edge" } else { "" };
    let mut rings = lead_ins(bench);
    if sleeve.body.iter().any(|s| s.wet || !s.o_rings.is_empty()) {
        rings.push("; no burr at the jacket");
    }
    let text = say!(
        "{}; mouth {} x 45 deg{}{}; washed, oil ways brushed, {} wiped and felt with a fingertip",
        stands,
        mm(MOUTH_MM, 1),
        corner,
        rings,
        sleeve.seat_word()
    );
    let step = bench.next();
    let metal = bench.job.block.parent.material.name.clone();
    let mut passes = Vec::new();
    for cut in &bench.cuts {
        let pocket = &bench.positions.pocket;
        let (mouth, deep) = pocket
            .flange
            .as_ref()
            .map_or((pocket.mouth_mm(), pocket.depth_mm()), |f| (f.cut.radius_mm, f.cut.depths.to_mm));
        let what = Cutter {
            stage: Stage::Fit,
            feature: EDGES,
            diameter_mm: 2.0 * mouth,
            depths_mm: [bench.job.engine.deck.cut_mm, deep],
            cutting: None,
            material: &metal,
        };
        let mut pass = bench.pass(step, cut, &what);
        pass.kind = PassKind::Edges;
        pass.in_cut = 0.0;
        pass.minutes = EDGES_MINUTES;
        pass.worked.push(worked::by_hand(EDGES_MINUTES));
        pass.stop = Some(text.clone().into());
        passes.push(pass);
    }
    bench.passes.append(&mut passes);
}
