//! Rough: from the off-centre surface that is there to the pocket less its finishing allowance.

mod bored;
mod milled;
mod proof;
mod stock;

use super::old_surface::surfaces;
use super::{Bench, mill, worked};
use crate::job::pocket::Feature;
use crate::plan::worked::Figure;

/// A move that a first cut cannot show, mm: its two sides then differ by less than the readings of both together may. Common
/// practice, no source.
pub const SHOWS_MM: f64 = 0.05;

/// How far a tip runs past the end of a bore that it goes through, mm. Common practice, no source.
const THROUGH_MM: f64 = 2.0;

/// Less stock than this is rounding, mm.
const NOTHING_MM: f64 = 1e-6;

/// One cylinder of the pocket to be roughed.
struct Roughing<'a> {
    feature: &'a str,
    end_mm: f64,
    depths_mm: [f64; 2],
    /// What its depth is worked from.
    deep: Option<Figure>,
    /// Radius that is open already, concentric with the cut, mm; 0 before the first pass.
    open_mm: f64,
    /// Whether no bore was cut before it: its first cut shows where each bore goes.
    is_first: bool,
}

/// Appends the roughing of every step of the pocket, from the lowest up, the flange's recess last; a ledge and a
/// step that carries the sleeve are left shallower by the pocket allowance.
pub(super) fn stage(bench: &mut Bench<'_>) {
    let allowance = bench.job.allowances.pocket_mm;
    let pocket = bench.positions.pocket.clone();
    let mut open_mm = 0.0;
    let mut first = true;
    let mut steps: Vec<Feature> = pocket.steps.clone();
    // From the lowest step up: each bar passes through what is larger above it.
    steps.reverse();
    if let Some(foot) = &pocket.foot {
        // The step's floor is finished with the pocket. Its own bore is cut only where the old one is smaller, and
        // then right through.
        if let Some(lowest) = steps.first_mut() {
            lowest.depths.to_mm = (lowest.depths.to_mm - allowance).max(0.0);
        }
        if let Some(through) = opened(bench, foot) {
            bored::down(bench, &through);
            open_mm = through.end_mm;
            first = false;
        }
    }
    steps.extend(pocket.flange.iter().map(|f| f.cut.clone()).map(|mut flange| {
        flange.depths.to_mm = (flange.depths.to_mm - allowance).max(0.0);
        flange
    }));
    for (i, step) in steps.iter().enumerate() {
        let end_mm = step.radius_mm - allowance;
        if end_mm <= open_mm + NOTHING_MM || step.depths.to_mm <= 0.0 {
            continue;
        }
        let depths_mm = [0.0, step.depths.to_mm];
        let deep = deep(bench, i, step.depths.to_mm);
        let roughing = Roughing { feature: &step.name, end_mm, depths_mm, deep, open_mm, is_first: first };
        // A cutter needs a way down in the middle: the lowest step is always bored first.
        if open_mm > 0.0 && mill::is_milled(bench, step) {
            milled::down(bench, &roughing);
            open_mm = end_mm;
            continue;
        }
        bored::down(bench, &roughing);
        open_mm = end_mm;
        first = false;
    }
}

/// What the depth of a part is worked from; the lowest is the first, a flange the last.
fn deep(bench: &Bench<'_>, part: usize, value: f64) -> Option<Figure> {
    let (job, sleeve) = (bench.job, bench.sleeve);
    let (cut, left) = (job.engine.deck.cut_mm, job.allowances.pocket_mm);
    match sleeve.body.iter().rev().nth(part) {
        Some(step) => {
            let left = if part == 0 && sleeve.foot().is_some() { left } else { 0.0 };
            Some(worked::step_depth(value, step.to_mm, [cut, left]))
        }
        None => sleeve.flange().map(|f| {
            let proud = [f.protrusion_min_mm, f.protrusion_max_mm];
            worked::ledge_depth(value, worked::Ledge::Described(f.thickness_mm), proud, [cut, left])
        }),
    }
}

/// The bore of a step that a sleeve will stand on, bored through on the new centre so that the step is as wide all
/// round; `None` where every old bore is wider already.
fn opened<'a>(bench: &Bench<'_>, foot: &'a Feature) -> Option<Roughing<'a>> {
    let parent = &bench.job.block.parent;
    let to = parent.bore_length_mm + THROUGH_MM.min(parent.room_below_mm);
    let nearest = bench.cuts.iter().flat_map(|cut| surfaces(cut, [0.0, to])).map(|s| s.nearest_mm());
    let within = nearest.fold(f64::INFINITY, f64::min) < foot.radius_mm - NOTHING_MM;
    within.then_some(Roughing {
        feature: &foot.name,
        end_mm: foot.radius_mm,
        depths_mm: [0.0, to],
        deep: Some(worked::through(to, parent.bore_length_mm)),
        open_mm: 0.0,
        is_first: true,
    })
}
