//! Trials: what is cut and gauged of a pass before it goes to its size or its depth.

use crate::job::{Front, Job};
use crate::limits::of_sleeve;
use crate::plan::check::{Asked, Check, Of, What};
use crate::plan::touch::TOUCH_DEPTH_MM;
use crate::plan::{Pass, SleeveFit, Stage};
use crate::sleeve::LEAST_CUT_MM;

/// How far short of its depth the first ledge is stopped, mm: the last cut is then as thick as one that is meant to be. Common
/// practice, no source.
const SHORT_MM: f64 = 0.1;
/// A deck that leans less than this over the flange is not told of, mm: half of what the points of a ledge may differ by. Common
/// practice, no source.
const LEANS_MM: f64 = of_sleeve::SPREAD_MM / 2.0;

/// The part of a bore that a list cuts first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TriedPart {
    /// Where it begins, mm below the deck.
    pub from_mm: f64,
    /// Where it ends, mm below the deck.
    pub to_mm: f64,
    /// Where its check reads a size within it, mm below the deck.
    pub gauged_mm: Option<f64>,
}

/// What is tried of a part of the pocket: one that begins deep down is tried deep down.
#[must_use]
pub fn tried_part(pass: &Pass, check: Option<&Check>) -> TriedPart {
    let [from_mm, to_mm] = [pass.from, pass.from + TOUCH_DEPTH_MM];
    let sizes = readings(pass, check).iter().filter(|r| r.of == Of::Diameter);
    let gauged_mm = sizes.filter_map(|r| r.depth).find(|depth| (from_mm..to_mm).contains(depth));
    TriedPart { from_mm, to_mm, gauged_mm }
}

/// What the head is set to first for a register too short to be tried over a part of it, mm; `None` where it is not tried so.
///
/// The first bore is cut whole with the head set smaller by half of the stock, so that the cut that is judged is as thick as the one
/// that ends it. Its rows are the same.
#[must_use]
pub fn smaller_head_mm(pass: &Pass, check: &Check) -> Option<f64> {
    let sizes = readings(pass, Some(check)).iter().filter(|r| r.of == Of::Diameter && r.waits);
    // A length in coolant locates nothing, and is gauged at one depth.
    let mut depths: Vec<f64> = sizes.filter_map(|r| r.depth).collect();
    depths.dedup();
    let is_register = pass.stage == Stage::Pocket && check.what == What::Size && depths.len() > 1;
    let half = pass.stock.min;
    // On diameter: a half of it a side.
    let rubs = half / 2.0 < LEAST_CUT_MM;
    (is_register && pass.mill.is_none() && !rubs).then_some(pass.diameter - half)
}

/// A ledge cut short of its depth first.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShortLedge {
    /// How much higher zero is set for it, mm.
    pub higher_mm: f64,
    /// How deep it then comes, mm.
    pub first_mm: f64,
    /// How deep it is to be, mm.
    pub depth_mm: f64,
}

/// How the first of a pass's ledges is tried; `None` of a pass that ends on nothing that a sleeve stands on.
#[must_use]
pub fn short_ledge(job: &Job, pass: &Pass, check: Option<&Check>) -> Option<ShortLedge> {
    let floor = readings(pass, check).iter().find(|r| r.of == Of::Depth)?;
    // A thin allowance is halved.
    let higher_mm = SHORT_MM.min(job.allowances.pocket_mm / 2.0);
    let depth_mm = floor.expected.unwrap_or(pass.to);
    Some(ShortLedge { higher_mm, first_mm: depth_mm - higher_mm, depth_mm })
}

/// A ledge under a deck that leans.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LeaningLedge {
    /// How much the deck leans over the flange, mm.
    pub over_mm: f64,
    /// The depth that each point is expected at, mm, and its clock, degrees.
    pub points: [(f64, f64); 4],
}

/// What each point of a pass's ledge is expected at under a deck that leans, as it was read: the tool cuts square to itself. `None`
/// where it leans too little to be told.
#[must_use]
pub fn leaning_ledge(job: &Job, fit: &SleeveFit, pass: &Pass) -> Option<LeaningLedge> {
    let own = fit.protrusion.as_ref()?.decks.iter().filter(|deck| deck.bank == pass.bank);
    let deck = own.max_by(|a, b| a.spread.total_cmp(&b.spread)).filter(|deck| deck.spread > LEANS_MM)?;
    let bank = job.block.banks.iter().position(|bank| bank.name == pass.bank).unwrap_or_default();
    let front = job.set_up_of(bank).map_or(Front::Left, |set_up| set_up.front);
    // Both axes of the machine are turned where the front is at the right.
    let turn = if front == Front::Left { 0.5 } else { -0.5 };
    let [along, across] = [turn * deck.along, turn * deck.across];
    let points = [(0.0, along), (90.0, across), (180.0, -along), (270.0, -across)];
    Some(LeaningLedge {
        over_mm: deck.spread,
        points: points.map(|(clock, higher)| (pass.to + higher, clock)),
    })
}

/// What a check asks of the bore of a pass.
fn readings<'c>(pass: &Pass, check: Option<&'c Check>) -> &'c [Asked] {
    check.and_then(|c| c.at(Some(pass.cylinder))).map_or(&[], |at| &at.readings)
}
