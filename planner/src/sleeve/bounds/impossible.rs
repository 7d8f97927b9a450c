//! Sleeves that cannot be fitted at all: each is a stop.

use super::{Missed, holds};
use crate::job::{Job, Sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{SleeveFit, Verdict};
use crate::say;
use crate::sleeve::judge::SAME;

/// Every one of them.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let mut stop = |limit: &'static str, feature: &str, value: f64, least_mm: f64, why: Sentence| {
        let mut held = holds(limit, feature, Missed::length(value, least_mm), why);
        held.verdict = Verdict::Stop;
        limits.push(held);
    };
    if let Some(foot) = sleeve.foot() {
        let inside = foot.inside_mm;
        if inside < job.finish.bore_mm - SAME {
            let why = say!(
                "the step's bore of {} stands in the finished bore of {}: boring head and hone would hit it",
                mm(inside, 2),
                mm(job.finish.bore_mm, 2)
            );
            stop("step_inside", "bore of the step", inside, job.finish.bore_mm, why);
        }
        let end = job.end_mm(sleeve);
        let left = job.block.parent.bore_length_mm - end;
        if left < foot.height_mm - SAME {
            let why = say!(
                "the pocket ends {} deep in a bore of {}: {} of step are left, at least {}",
                mm(end, 2),
                mm(job.block.parent.bore_length_mm, 2),
                mm(left, 2),
                mm(foot.height_mm, 2)
            );
            stop("step_height", "below the sleeve", left, foot.height_mm, why);
        }
        if fit.seat.width <= 0.0 {
            let why =
                "the old bore is as wide as the pocket where the step should be: nothing is left to stand on"
                    .into();
            stop("step_width", "below the sleeve", fit.seat.width, 0.0, why);
        }
    } else if fit.seat.width <= 0.0 {
        let why = say!(
            "the ledge's chamfer of {} leaves nothing of it to stand on",
            mm(job.allowances.ledge_chamfer_mm, 2)
        );
        stop("ledge_width", "round the flange", fit.seat.width, 0.0, why);
    }
    // Cut with the sleeves in, flanges end flush: a sleeve that must stand proud cannot.
    let flush = job.engine.deck.after_fit && job.engine.deck.cut_mm > 0.0;
    let proud = sleeve.flange().map_or(0.0, |f| f.protrusion_min_mm);
    if flush && proud > 0.0 {
        let why = say!(
            "the sleeve asks for at least {} above the deck, which is cut with the sleeves in: it ends flush",
            mm(proud, 3)
        );
        stop("protrusion", "flush", 0.0, proud, why);
    }
    limits
}
