//! What a job limits of a sleeve's fit; a limit left out is not applied.

use serde::Serialize;

use super::SleeveFit;
use crate::job::{Job, Limit, Sleeve};
use crate::plan::Verdict;
use crate::read::fault::plain;

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
        let what = format!("{} ({})", crate::words::limit(self.limit), plain(&self.feature, 60));
        let bound = if self.better_larger() { "at least" } else { "at most" };
        let Some(value) = self.value else {
            return format!("{what} is limited, and the job does not carry what it rests on");
        };
        match self.verdict {
            Verdict::Go => format!("{what} {value:.3}, {bound} {:.3}", self.least),
            Verdict::Stop => format!("{what} is {value:.3}, {bound} {:.3}", self.least),
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
        matches!(self.limit, "sleeve_wall" | "ring_on_flange" | "ring_hold")
    }
}

/// Every limit that the job sets and this sleeve has something to say to.
pub(super) fn limits(job: &Job, sleeve: &Sleeve, fit: &SleeveFit) -> Vec<SleeveLimit> {
    let mut limits = Vec::new();
    let set = &job.limits;
    let mut add = |name: &'static str, given: Option<Limit>, feature: &str, value: Option<f64>| {
        if let Some(given) = given {
            limits.push(judge(name, given, feature, value));
        }
    };
    let walls = sleeve.body.iter().map(|step| {
        let thinnest = step.o_rings.iter().map(|o| o.groove_diameter_mm).fold(step.diameter_mm, f64::min);
        (step.name.as_str(), (thinnest - step.tolerance_mm - job.finish.bore_mm) / 2.0)
    });
    if let Some((name, wall)) = walls.min_by(|a, b| a.1.total_cmp(&b.1)) {
        add("sleeve_wall", set.sleeve_wall, name, Some(wall));
    }
    let least = fit.fire_ring.iter().min_by(|a, b| a.on_flange_least.total_cmp(&b.on_flange_least));
    if let Some(ring) = least {
        let feature = format!("cylinder {} at clock {:.0}", ring.cylinder, ring.least_at);
        add("ring_on_flange", set.ring_on_flange, &feature, Some(ring.on_flange_least));
    }
    // A deck that will be cut square before the sleeves go in leans no longer.
    let cut_square = job.engine.deck.cut_mm;
    let leaning = fit.protrusion.decks.iter().filter(|d| d.skim > cut_square);
    if let Some(deck) = leaning.max_by(|a, b| a.spread.total_cmp(&b.spread)) {
        add(
            "protrusion_spread",
            set.protrusion_spread,
            &format!("set-up {}", deck.set_up),
            Some(deck.spread),
        );
    }
    if let Some(stack) = &fit.stack {
        add("ring_hold", set.ring_hold, "bottom dead centre", Some(stack.ring_hold));
        add("skirt_out", set.skirt_out, "bottom dead centre", Some(stack.skirt_out));
    }
    if fit.seat.load.is_some() {
        add("seat_ratio", set.seat_ratio, "ledge at work", fit.seat.ratio);
    }
    for register in fit.registers.iter().filter(|r| r.interference.most > 0.0) {
        add("hoop_ratio", set.hoop_ratio, &register.feature, register.hoop_ratio);
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
