//! Limits that a job sets on a sleeve's fit; one left out is not applied.

use super::judge::{judge, thinnest};
use crate::job::{Job, Sleeve};
use crate::limits::{Stated, of_sleeve};
use crate::plan::fit::SleeveLimit;
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{SleeveFit, Verdict};
use crate::read::fault::plain;
use crate::say;

impl SleeveLimit {
    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> Sentence {
        if let Some(why) = &self.why {
            return why.clone();
        }
        let what = say!("{} ({})", crate::job::words::limit(self.limit), self.feature);
        let bound = if self.better_larger() { "at least" } else { "at most" };
        let Some(value) = self.value else {
            return say!("{} is limited, and the job does not carry what it rests on", what);
        };
        let figure = |value: f64| if self.is_length { say!("{}", mm(value, 3)) } else { say!("{value:.3}") };
        let (value, least) = (figure(value), figure(self.least));
        match self.verdict {
            Verdict::Go => say!("{} {}, {} {}", what, value, bound, least),
            Verdict::Stop => say!("{} is {}, {} {}", what, value, bound, least),
            Verdict::Hold if self.short() < 0.0 => {
                say!("{} is {}, {} {}: nothing is cut for it unreleased", what, value, bound, least)
            }
            Verdict::Hold => {
                let prefer = figure(self.prefer.unwrap_or(self.least));
                say!("{} {} keeps {} {} but not the preferred {}", what, value, bound, least, prefer)
            }
        }
    }

    /// What there is beyond the limit, for sorting: an unknown figure comes before every known one.
    pub(super) fn short(&self) -> f64 {
        self.margin.unwrap_or(f64::NEG_INFINITY)
    }
}

/// The limits that the job sets. One without a figure to judge it by is a hold.
pub(super) fn asked(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let set = &job.limits;
    let mut add = |limit: &Stated, feature: &str, value: Option<f64>| {
        if let Some(given) = set.get(limit.name) {
            limits.push(judge(limit.name, given, plain(feature, 60), value));
        }
    };
    if let Some((name, wall)) = thinnest(job, sleeve) {
        add(&of_sleeve::WALL, name, Some(wall));
    }
    let least = fit.fire_ring.iter().min_by(|a, b| a.on_flange_least.total_cmp(&b.on_flange_least));
    let place = least.map_or_else(
        || "the block describes no fire ring".to_owned(),
        |ring| format!("cylinder {} at clock {:.0}", ring.cylinder, ring.least_at),
    );
    // Limits on a flange do not concern a plain sleeve.
    if sleeve.flange().is_some() {
        add(&of_sleeve::RING_ON_FLANGE, &place, least.map(|r| r.on_flange_least));
    }
    // A deck that will be cut square before the sleeves go in leans no longer.
    let cut_square = job.engine.deck.cut_mm;
    let decks = fit.protrusion.as_ref().map_or(&[][..], |p| &p.decks);
    let leaning = decks.iter().filter(|d| d.skim > cut_square).max_by(|a, b| a.spread.total_cmp(&b.spread));
    if let Some(deck) = leaning {
        let place = format!("set-up {}", deck.set_up);
        add(&of_sleeve::PROTRUSION_SPREAD, &place, Some(deck.spread));
    }
    if fit.protrusion.is_some() {
        let held = |bank: usize| job.set_ups.iter().any(|s| s.bank == bank);
        let read = |bank: usize| decks.iter().any(|d| d.bank == job.bank(bank).name);
        for bank in (0..job.block.banks.len()).filter(|bank| held(*bank) && !read(*bank)) {
            let place = format!("bank {}: no deck was read", plain(&job.bank(bank).name, 30));
            add(&of_sleeve::PROTRUSION_SPREAD, &place, None);
        }
    }
    let stack = fit.stack.as_ref();
    let place = if stack.is_some() { "bottom dead centre" } else { "the job describes no piston" };
    add(&of_sleeve::RING_HOLD, place, stack.map(|s| s.ring_hold));
    add(&of_sleeve::SKIRT_OUT, place, stack.map(|s| s.skirt_out));
    let place = if fit.seat.load.is_some() {
        if sleeve.flange().is_some() { "ledge at work" } else { "step at work" }
    } else {
        "the job gives no head bolts"
    };
    add(&of_sleeve::SEAT_RATIO, place, fit.seat.ratio);
    for register in fit.registers.iter().filter(|r| r.interference.most > 0.0) {
        add(&of_sleeve::HOOP_RATIO, &register.feature, register.hoop_ratio);
    }
    limits
}
