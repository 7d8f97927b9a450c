//! The free zone of each bore: where its centre could be planned, and which limit makes each edge.
//!
//! Around one bore two areas are found: where every limit is at go, and where every margin is at least 0.
//! The limits are those that the positions are solved against; a neighbour stands at its planned centre, and
//! what no position changes is told beside. Nothing is decided here: the planned centre comes in as it is.

mod field;
mod trace;

use borewright_geometry::ON_LIMIT_MM;
use rayon::prelude::*;
use serde::Serialize;

use self::field::{Field, Level};
use super::judged::verdict_of;
use super::seated::{Positions, Seated};
use crate::job::Job;
use crate::job::words;
use crate::plan::rounding::plan as round;
use crate::plan::sentence::mm;
use crate::plan::{Verdict, Why, Xy};
use crate::read::fault::plain;
use crate::say;
use crate::survey::Survey;

/// Every point of an edge lies this near to where its limit's margin turns, mm.
const EDGE_WITHIN_MM: f64 = 0.001;

/// The free zone of one bore with the chosen sleeve, in its bank.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct FreeZone {
    /// The cylinder.
    pub cylinder: u32,
    /// Its bank.
    pub bank: String,
    /// The sleeve planned with.
    pub sleeve: String,
    /// The bore's verdict at its planned centre, with what is asked about its readings.
    pub verdict: Verdict,
    /// Where it should be.
    #[serde(rename = "true")]
    pub true_position: Xy,
    /// Where the bore stands now, at the deck.
    pub old: Xy,
    /// Where it is planned; `None` where that is not at go, so that a survey does not tell what a plan withholds.
    pub planned: Option<Xy>,
    /// Where every limit is at go.
    pub go: Vec<Outline>,
    /// Where every margin is at least 0: it holds the go area.
    pub possible: Vec<Outline>,
    /// Limits that no position changes and that are not at go, in words.
    pub everywhere: Vec<crate::plan::sentence::Sentence>,
    /// What holds the bore where it is planned, in words.
    pub why: Why,
    /// Every point of an edge is this near, mm.
    pub within: f64,
}

/// A closed outline: the last point of its last edge is the first of its first. Round an area it runs
/// anticlockwise seen from outside the deck, round a hole in one clockwise.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Outline {
    /// Whether it goes round a hole: the side where no centre may stand is inside it.
    pub hole: bool,
    /// Its stretches in order.
    pub edges: Vec<Edge>,
}

/// A stretch of an outline that one limit makes.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Edge {
    /// The limit.
    #[serde(flatten)]
    pub made_by: MadeBy,
    /// Points along it, x and y in the bank, mm.
    pub points: Vec<[f64; 2]>,
}

/// What makes an edge.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct MadeBy {
    /// The limit's name; `none` where no limit ends the area and the search does.
    pub limit: &'static str,
    /// Which feature, and against what.
    pub feature: String,
    /// At which depth, mm.
    pub depth: Option<f64>,
    /// At which clock, degrees.
    pub clock: Option<f64>,
    /// Whether it is the preferred figure that ends here, not the least.
    pub preferred: bool,
}

/// The free zone of every bore.
#[must_use]
pub fn free_zones(job: &Job, survey: &Survey, positions: &Positions) -> Vec<FreeZone> {
    (0..positions.bores.len()).into_par_iter().filter_map(|i| free_zone(job, survey, positions, i)).collect()
}

/// The free zone of the bore `index`, its areas in the bank, mm; the planned centre is left out unless the bore is
/// at go. `None` where its old bore was not measured.
fn free_zone(job: &Job, survey: &Survey, positions: &Positions, index: usize) -> Option<FreeZone> {
    let bore = &positions.bores[index];
    let old = survey.cylinders.get(&bore.site.cylinder)?.now.axis.at_deck_mm;
    let xy = |[x, y]: [f64; 2]| Xy { x: round(x), y: round(y) };
    let standing = |verdict: Verdict| standing_at_most(bore, verdict);
    let outlines = |level: Level, allowed: bool| {
        if allowed { trace::outlines(&Field::of(positions, index, level)) } else { Vec::new() }
    };
    let asked = survey.suspicions.iter().filter(|s| s.cylinders.of(bore.site.cylinder));
    let verdict = asked.map(|s| s.verdict).fold(bore.verdict, Verdict::max);
    let told = verdict == Verdict::Go;
    Some(FreeZone {
        cylinder: bore.site.cylinder,
        bank: job.bank(bore.bank).name.clone(),
        sleeve: job.sleeves[positions.sleeve].name.clone(),
        verdict,
        true_position: xy(bore.true_mm),
        old: xy(old),
        planned: told.then(|| xy(bore.planned_mm)),
        go: outlines(Level::Go, standing(Verdict::Go)),
        possible: outlines(Level::Possible, bore.standing.iter().all(|s| s.margin_mm >= -ON_LIMIT_MM)),
        everywhere: bore
            .standing
            .iter()
            .filter(|s| standing_verdict(s) > Verdict::Go)
            .map(|s| {
                say!("{} ({}), margin {}", words::limit(s.limit), plain(&s.feature, 60), mm(s.margin_mm, 3))
            })
            .collect(),
        why: if told { bore.why.clone() } else { bore.why.clone().withheld() },
        within: EDGE_WITHIN_MM,
    })
}

fn standing_verdict(standing: &crate::limits::Standing) -> Verdict {
    verdict_of(standing.margin_mm, standing.u_mm, standing.prefer_margin_mm)
}

fn standing_at_most(bore: &Seated, verdict: Verdict) -> bool {
    bore.standing.iter().all(|s| standing_verdict(s) <= verdict)
}

#[cfg(test)]
mod tests;
