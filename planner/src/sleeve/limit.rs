//! What a job limits of a sleeve's fit; a limit left out is not applied.

use serde::Serialize;

use super::SleeveFit;
use crate::job::{Job, Limit, Sleeve};
use crate::limits::{self, Better, Stated, of_sleeve};
use crate::plan::Verdict;
use crate::read::fault::plain;

/// Colder than liquid nitrogen no sleeve gets, degrees Celsius.
const COLDEST_C: f64 = -195.0;

/// Compared within this, as the other limits are.
const SAME: f64 = 1e-6;

/// One limit of a sleeve, at the worst of its tolerances.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SleeveLimit {
    /// Which limit.
    pub limit: &'static str,
    /// Where.
    pub feature: String,
    /// What there is: mm, or a share of yield; `None` where the job does not carry it.
    pub value: Option<f64>,
    /// What decides.
    pub least: f64,
    /// What is preferred.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prefer: Option<f64>,
    /// What there is beyond the limit.
    pub margin: Option<f64>,
    /// Go; hold where only the preferred figure is missed, or the figure is not known; stop beyond the limit.
    pub verdict: Verdict,
}

impl SleeveLimit {
    /// In a sentence.
    #[must_use]
    pub fn sentence(&self) -> String {
        let what = format!("{} ({})", crate::job::words::limit(self.limit), plain(&self.feature, 60));
        let bound = if self.better_larger() { "at least" } else { "at most" };
        let Some(value) = self.value else {
            return format!("{what} is limited, and the job does not carry what it rests on");
        };
        match self.verdict {
            Verdict::Go => format!("{what} {value:.3}, {bound} {:.3}", self.least),
            Verdict::Stop => format!("{what} is {value:.3}, {bound} {:.3}", self.least),
            Verdict::Hold if self.short() < 0.0 => {
                format!("{what} is {value:.3}, {bound} {:.3}: nothing is cut for it unreleased", self.least)
            }
            Verdict::Hold => {
                let prefer = self.prefer.unwrap_or(self.least);
                format!("{what} {value:.3} keeps {bound} {:.3} but not the preferred {prefer:.3}", self.least)
            }
        }
    }

    /// What there is beyond the limit, unknown before all that is known.
    pub(super) fn short(&self) -> f64 {
        self.margin.unwrap_or(f64::NEG_INFINITY)
    }

    fn better_larger(&self) -> bool {
        if let Some(stated) = limits::stated(self.limit) {
            return stated.better == Better::Larger;
        }
        matches!(
            self.limit,
            "o_ring_squeeze" | "clamp_at_peak" | "skirt_clearance" | "protrusion" | "chilled" | "ledge_width"
        )
    }
}

/// Every limit that the job sets, known or not, and what no sleeve may be whatever the job sets.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = asked(job, sleeve, fit);
    limits.extend(never(job, sleeve, fit));
    limits
}

/// What the job asks. A limit that is set and has nothing to be judged by is a hold: it was set to be kept.
fn asked(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let set = &job.limits;
    let mut add = |limit: &Stated, feature: &str, value: Option<f64>| {
        if let Some(given) = set.get(limit.name) {
            limits.push(judge(limit.name, given, feature, value));
        }
    };
    let walls = sleeve.body.iter().map(|step| {
        let thinnest = step.o_rings.iter().map(|o| o.groove_diameter_mm).fold(step.diameter_mm, f64::min);
        (step.name.as_str(), (thinnest - step.tolerance_mm - job.finish.bore_mm) / 2.0)
    });
    if let Some((name, wall)) = walls.min_by(|a, b| a.1.total_cmp(&b.1)) {
        add(&of_sleeve::WALL, name, Some(wall));
    }
    let least = fit.fire_ring.iter().min_by(|a, b| a.on_flange_least.total_cmp(&b.on_flange_least));
    let place = least.map_or_else(
        || "the block describes no fire ring".to_owned(),
        |ring| format!("cylinder {} at clock {:.0}", ring.cylinder, ring.least_at),
    );
    add(&of_sleeve::RING_ON_FLANGE, &place, least.map(|r| r.on_flange_least));
    // A deck that will be cut square before the sleeves go in leans no longer.
    let cut_square = job.engine.deck.cut_mm;
    let decks = &fit.protrusion.decks;
    let leaning = decks.iter().filter(|d| d.skim > cut_square).max_by(|a, b| a.spread.total_cmp(&b.spread));
    if let Some(deck) = leaning {
        let place = format!("set-up {}", deck.set_up);
        add(&of_sleeve::PROTRUSION_SPREAD, &place, Some(deck.spread));
    } else if decks.is_empty() {
        add(&of_sleeve::PROTRUSION_SPREAD, "no deck was read", None);
    }
    let stack = fit.stack.as_ref();
    let place = if stack.is_some() { "bottom dead centre" } else { "the job describes no piston" };
    add(&of_sleeve::RING_HOLD, place, stack.map(|s| s.ring_hold));
    add(&of_sleeve::SKIRT_OUT, place, stack.map(|s| s.skirt_out));
    let place = if fit.seat.load.is_some() { "ledge at work" } else { "the job gives no head bolts" };
    add(&of_sleeve::SEAT_RATIO, place, fit.seat.ratio);
    for register in fit.registers.iter().filter(|r| r.interference.most > 0.0) {
        add(&of_sleeve::HOOP_RATIO, &register.feature, register.hoop_ratio);
    }
    limits
}

/// What no sleeve may be, as far as the job carries it: it holds, for whoever knows better to release.
fn never(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let nothing = Limit { least_mm: 0.0, prefer_mm: None };
    let mut add = |name: &'static str, feature: &str, value: Option<f64>| {
        let mut limit = judge(name, nothing, feature, value);
        if limit.verdict == Verdict::Stop {
            limit.verdict = Verdict::Hold;
            limits.push(limit);
        }
    };
    let ring = |r: &super::ORingFit| r.least.squeeze.min(r.aside[0]);
    if let Some(loosest) = fit.o_rings.iter().min_by(|a, b| ring(a).total_cmp(&ring(b))) {
        add(
            "o_ring_squeeze",
            &format!("at {:.1} mm in {}", loosest.depth, loosest.feature),
            Some(ring(loosest)),
        );
    }
    if fit.seat.pressure_at_peak.is_some() {
        add("clamp_at_peak", "seat at peak pressure, MPa", fit.seat.pressure_at_peak);
    }
    if let Some(clearance) = fit.stack.and_then(|s| s.clearance) {
        add("skirt_clearance", "at work", Some(clearance.hot));
    }
    if let Some(chilled) = fit.going_in.chilled.filter(|c| *c < COLDEST_C) {
        let coldest = Limit { least_mm: COLDEST_C, prefer_mm: None };
        let limit = judge("chilled", coldest, "sleeve as it goes in, °C", Some(chilled));
        limits.push(SleeveLimit { verdict: Verdict::Hold, ..limit });
    }
    if fit.seat.width <= 0.0 {
        let limit = judge("ledge_width", nothing, "round the flange", Some(fit.seat.width));
        limits.push(SleeveLimit { verdict: Verdict::Stop, ..limit });
    }
    // Cut with the sleeves in, flanges end flush: a sleeve that must stand proud cannot.
    let flush = job.engine.deck.after_fit && job.engine.deck.cut_mm > 0.0;
    if flush && sleeve.protrusion_min_mm > 0.0 {
        limits.push(SleeveLimit {
            limit: "protrusion",
            feature: "flush, for the deck is cut with the sleeves in".to_owned(),
            value: Some(0.0),
            least: sleeve.protrusion_min_mm,
            prefer: None,
            margin: Some(-sleeve.protrusion_min_mm),
            verdict: Verdict::Stop,
        });
    }
    limits
}

fn judge(limit: &'static str, given: Limit, feature: &str, value: Option<f64>) -> SleeveLimit {
    let mut result = SleeveLimit {
        limit,
        feature: feature.to_owned(),
        value,
        least: given.least_mm,
        prefer: given.prefer_mm,
        margin: None,
        verdict: Verdict::Hold,
    };
    let Some(value) = value else { return result };
    let sign = if result.better_larger() { 1.0 } else { -1.0 };
    let margin = sign * (value - given.least_mm);
    result.margin = Some(margin);
    let short_of_preferred = given.prefer_mm.is_some_and(|p| sign * (value - p) < -SAME);
    result.verdict = match (margin < -SAME, short_of_preferred) {
        (true, _) => Verdict::Stop,
        (false, true) => Verdict::Hold,
        (false, false) => Verdict::Go,
    };
    result
}
