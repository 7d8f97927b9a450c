//! The basis of the proof that goes into `plan.json`: where a list's zero stands, which way its axes run, what it
//! must keep.
//!
//! Worked out from the set-up as it was placed, by the way from machine to bank; lists are traced the other
//! way round, so that a mistake in one does not hide in the other.

use borewright_geometry::clock::distance_mm;
use borewright_geometry::{Displacement, Point};

use super::Planning;
use crate::job::{Front, ToolKind};
use crate::place::Positions;
use crate::plan::moves::MoveList;
use crate::plan::rounding;
use crate::plan::{ListProof, ListUnits, NearLimit, ProofTool, Stage};
use crate::read::inch::MM_PER_INCH;

/// A margin beyond so many steps of a list cannot be lost to rounding: a centre moves two in X and in Y at most.
const IN_REACH_STEPS: f64 = 4.0;

/// The limits that the last digit of a centre could cross.
#[must_use]
pub(super) fn near(positions: &Positions, units: ListUnits) -> Vec<NearLimit> {
    let in_reach = IN_REACH_STEPS * units.step_mm();
    let mut found = Vec::new();
    let mut add = |cylinder, against, limit, margin: f64, towards: [f64; 2]| {
        if margin < in_reach {
            let towards = towards.map(rounding::slope);
            found.push(NearLimit { cylinder, against, limit, margin: rounding::plan(margin), towards });
        }
    };
    for bore in &positions.bores {
        for clause in bore.clauses.iter().filter(|c| c.binding) {
            let margin = clause.constraint.bound.margin(bore.planned_mm);
            add(bore.site.cylinder, None, clause.limit, margin.value_mm, margin.gradient);
        }
    }
    for &(a, b) in &positions.pairs {
        for (own, other) in [(a, b), (b, a)] {
            let (own, other) = (&positions.bores[own], &positions.bores[other]);
            for clause in &positions.pair_clauses {
                let margin = clause.apart.margin(own.planned_mm, other.planned_mm);
                let apart = [0, 1].map(|k| own.planned_mm[k] - other.planned_mm[k]);
                let far = distance_mm(own.planned_mm, other.planned_mm).max(f64::MIN_POSITIVE);
                let (cylinder, against) = (own.site.cylinder, Some(other.site.cylinder));
                add(cylinder, against, clause.limit, margin.value_mm, apart.map(|d| d / far));
            }
        }
    }
    found
}

/// What one list is proven by.
#[must_use]
pub fn basis(planning: &Planning, list: &MoveList) -> ListProof {
    let job = &planning.job;
    let bank = job.block.banks.iter().position(|b| b.name == list.bank);
    let index = bank.and_then(|bank| job.set_ups.iter().position(|s| s.bank == bank));
    let set_up = index.and_then(|i| job.set_ups.get(i));
    let placement = index.and_then(|i| planning.placements.get(i)).and_then(Option::as_ref);
    let described = bank.map_or(0.0, |b| job.bank(b).deck_height_mm);
    let read = set_up.and_then(|s| planning.plan.journal_axis.iter().find(|a| a.set_up == s.name));
    let deck_height = read.and_then(|a| a.deck_height).unwrap_or(described);
    let turn = |sign: f64| [[sign, 0.0, 0.0], [0.0, sign, 0.0], [0.0, 0.0, 1.0]];
    let cut_off = if list.stage == Stage::Finish { job.engine.deck.cut_mm } else { 0.0 };
    let (axes, zero) = match placement {
        None => (turn(if set_up.is_some_and(|s| s.front == Front::Right) { -1.0 } else { 1.0 }), None),
        Some(placement) => {
            // Where each of the machine's axes points in the bank: read across, the bank's in the machine.
            let columns = [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]].map(|[x, y, z]| {
                let v = placement.displacement(Displacement::new(x, y, z));
                [v.x_mm(), v.y_mm(), v.z_mm()]
            });
            let axes = [0, 1, 2].map(|bank| [0, 1, 2].map(|machine: usize| columns[machine][bank]));
            let origin = placement.point(Point::new(0.0, 0.0, 0.0));
            let origin = [origin.x_mm(), origin.y_mm(), origin.z_mm()];
            let foot =
                [0, 1, 2].map(|k: usize| -(0..3).map(|axis| axes[axis][k] * origin[axis]).sum::<f64>());
            let scale = job.at_cutting();
            let zero = [foot[0], foot[1], foot[2] + (deck_height - cut_off) * axes[2][2]];
            (axes, Some(zero.map(|v| v * scale)))
        }
    };
    let plate = job.finish.plate_mm.filter(|_| list.stage == Stage::Finish);
    let machine = &job.machine;
    let used = |name: &str| {
        let own = planning.plan.passes.iter().filter(|p| p.bank == list.bank && p.stage == list.stage);
        own.filter_map(|p| p.tool.as_deref()).any(|tool| tool == name)
    };
    let tools = machine.tools.iter().filter(|t| used(&t.name));
    ListProof {
        zero: zero.map(|zero| zero.map(rounding::plan)),
        axes: axes.map(|axis| axis.map(rounding::slope)),
        scale: rounding::slope(job.at_cutting()),
        deck_height: rounding::plan(deck_height),
        clearance: rounding::plan(machine.clearance_mm + plate.unwrap_or(0.0)),
        stop_clearance: rounding::plan(stops(planning, list, zero, plate.unwrap_or(0.0))),
        plate: plate.map(rounding::plan),
        cut_off: rounding::plan(cut_off),
        deepest: rounding::plan(job.block.parent.floor_mm() - cut_off),
        travel: machine.travel_mm.map(|ends| ends.map(rounding::plan)),
        rpm: machine.rpm.map(rounding::plan),
        feed: rounding::plan(machine.feed_mm_per_min),
        millimetres: machine.millimetres_word.word(),
        inches: match list.units {
            ListUnits::Mm => None,
            ListUnits::In(inches) => Some(inches.word()),
        },
        tools: tools
            .map(|t| ProofTool {
                name: t.name.clone(),
                kind: match t.kind {
                    ToolKind::Boring => "boring",
                    ToolKind::Milling => "milling",
                },
                diameter: t.diameter_mm.map(rounding::plan),
                reach: rounding::plan(t.reach_mm),
            })
            .collect(),
        near: planning.near.iter().filter(|n| list.cylinders.contains(&n.cylinder)).cloned().collect(),
    }
}

/// How far above a list's zero its stops are taken at least, mm: what the machine file says, else the highest that the
/// travel allows up to 150 above the deck; never below where rapids stay.
fn stops(planning: &Planning, list: &MoveList, zero: Option<[f64; 3]>, plate: f64) -> f64 {
    const HIGHEST: f64 = 150.0;
    let machine = &planning.job.machine;
    let lowest = list.moves.iter().filter_map(|m| m.z_mm).fold(0.0, f64::min);
    let [from, to] = machine.travel_mm[2];
    // Where zero is not known the span of the list must fit the travel.
    let highest = zero.map_or(to - from + lowest, |zero| to - zero[2]);
    let told = machine.stop_clearance_mm.map(|told| told + plate);
    // A tenth below the end of the travel is a figure that rounding cannot carry beyond it.
    // A hundredth of an inch likewise.
    let whole = |mm: f64| match list.units {
        ListUnits::Mm => (mm * 10.0).floor() / 10.0,
        ListUnits::In(_) => (mm / MM_PER_INCH * 100.0).floor() / 100.0 * MM_PER_INCH,
    };
    told.unwrap_or_else(|| whole(highest.min(HIGHEST))).max(machine.clearance_mm + plate)
}
