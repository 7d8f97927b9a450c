//! Rough: from the off-centre surface that is there to the pocket less its finishing allowance.

use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::say;
use borewright_geometry::clock::clock_deg;
use borewright_geometry::eccentric_stock;

use super::cutting::{Purpose, Wanted};
use super::iron::{liner, shell, shows, witness};
use super::mill::{self, Round};
use super::old_surface::{apart, depths, surfaces};
use super::{Bench, Cut, Cutter, Missing, cutting, spread, worked};
use crate::job::pocket::Feature;
use crate::job::words;
use crate::plan::touch::TOUCH_DEPTH_MM;
use crate::plan::worked::Figure;
use crate::plan::{Stage, Stock, TouchCut};

/// Room that a tool needs beyond its cut, mm: its own approach above the deck comes on top. Common practice.
const APPROACH_MM: f64 = 2.0;

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
            feature(bench, &through);
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
            mill_down(bench, &roughing);
            open_mm = end_mm;
            continue;
        }
        feature(bench, &roughing);
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

/// A part milled: rounds of the cutter from what is open to the part's radius less the allowance.
fn mill_down(bench: &mut Bench<'_>, what: &Roughing<'_>) {
    let job = bench.job;
    let parent = job.block.parent.material.name.clone();
    let deep = what.depths_mm[1] + job.machine.clearance_mm;
    // Where the old liner reaches beyond what is open, the cutter meets it too.
    let iron = liner(bench).filter(|liner| {
        bench.cuts.iter().any(|cut| {
            depths(cut, what.depths_mm)
                .into_iter()
                .any(|d| liner.outside_mm / 2.0 + apart(cut, d) > what.open_mm + NOTHING_MM)
        })
    });
    let metal = iron.map(|l| l.material.name);
    let metals: Vec<&str> = metal.iter().map(String::as_str).chain([parent.as_str()]).collect();
    let found = mill::choose(job, deep, what.open_mm, &metals);
    let Some(choice) = bench.tool(Stage::Rough, say!("roughing {}", what.feature), found) else { return };
    let mut last = what.open_mm;
    let Some(radii) = mill::radii(what.open_mm, what.end_mm, choice.cutting.depth_mm) else {
        let text = say!("milling {} would take more than {} rounds", what.feature, spread::MOST_PASSES);
        bench.missing(Stage::Rough, Missing::ManyPasses, text);
        return;
    };
    for radius in radii {
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in &bench.cuts {
            let round = Round {
                stage: Stage::Rough,
                feature: what.feature,
                radius_mm: radius,
                depths_mm: what.depths_mm,
                stock: Stock { min: radius - last, max: radius - last },
                material: &choice.cutting.material,
                to_size: false,
            };
            let mut pass = mill::pass(bench, step, cut, &choice, &round);
            if let Some(pass) = &mut pass {
                pass.worked.push(worked::even(radius, last));
                pass.worked.extend(what.deep.clone());
            }
            passes.extend(pass);
        }
        if passes.len() < bench.cuts.len() {
            let text = say!("roughing {}: no way of the cutter with its step down", what.feature);
            bench.missing(Stage::Rough, Missing::Tool, text);
            return;
        }
        bench.passes.append(&mut passes);
        last = radius;
    }
}

/// Appends the rough passes that open one cylinder of the pocket in every bore of the bank, all to the same
/// diameters; what no tool can take is told as missing.
fn feature(bench: &mut Bench<'_>, what: &Roughing<'_>) {
    let job = bench.job;
    let reach = |get: &dyn Fn(&Cut<'_>, f64) -> f64, pick: fn(f64, f64) -> f64, from: f64| {
        let depths = |cut: &Cut<'_>| depths(cut, what.depths_mm);
        bench.cuts.iter().flat_map(|cut| depths(cut).into_iter().map(|d| get(cut, d))).fold(from, pick)
    };
    // Common diameters for the bank, so that the head is set once a pass: from the tightest bore.
    let surfaces = bench.cuts.iter().flat_map(|cut| surfaces(cut, what.depths_mm));
    let innermost = surfaces.map(|s| s.nearest_mm()).fold(f64::INFINITY, f64::min);
    let start = innermost.max(what.open_mm);
    let iron = liner(bench);
    let boundary = match &iron {
        Some(liner) => reach(&|cut, d| liner.outside_mm / 2.0 + apart(cut, d), f64::max, 0.0),
        None => 0.0,
    };
    let parent = job.block.parent.material.name.clone();
    let metal = iron.as_ref().map(|l| l.material.name.clone());
    let deep = what.depths_mm[1] + job.machine.clearance_mm + APPROACH_MM;
    let both: Vec<&str> = metal.iter().map(String::as_str).chain([parent.as_str()]).collect();
    let in_iron = if start < boundary { both.clone() } else { vec![parent.as_str()] };
    let wanted = |radius: f64, open_mm: f64, materials: &[&str]| {
        let wanted = Wanted {
            diameter_mm: 2.0 * radius,
            reach_mm: deep,
            open_mm,
            materials,
            purpose: Purpose::Rough,
            side_mm: 0.0,
        };
        cutting::choose(job, &wanted)
    };
    let tools = wanted(what.end_mm, start, &in_iron)
        .and_then(|before| Ok((before, wanted(what.end_mm, start, &[parent.as_str()])?)));
    let Some((before, after)) = bench.tool(Stage::Rough, say!("roughing {}", what.feature), tools) else {
        return;
    };
    let metals_of = |from: f64| {
        let iron_left = iron.is_some() && from.max(start) < boundary - NOTHING_MM;
        (iron_left, if iron_left { both.as_slice() } else { &both[both.len() - 1..] })
    };
    // Smaller heads on the way can take less than the one that ends it: the shares follow the least of each part.
    let mut most = [before.depth_mm, after.depth_mm];
    let radii = loop {
        let Some(radii) = spread::radii(start, boundary, what.end_mm, most[0], most[1]) else {
            let text = say!(
                "roughing {} would take more than {} passes from {} to {}",
                what.feature,
                spread::MOST_PASSES,
                mm(2.0 * start, 2),
                mm(2.0 * what.end_mm, 2)
            );
            bench.missing(Stage::Rough, Missing::ManyPasses, text);
            return;
        };
        let mut last = what.open_mm;
        let mut tighter = false;
        for radius in &radii {
            let (iron_left, materials) = metals_of(last);
            if let Ok(cutting) = wanted(*radius, last.max(start), materials) {
                let part = usize::from(!iron_left);
                if radius - last.max(start) > cutting.depth_mm + NOTHING_MM && cutting.depth_mm < most[part] {
                    most[part] = cutting.depth_mm;
                    tighter = true;
                }
            }
            last = *radius;
        }
        if !tighter {
            break radii;
        }
    };
    let mut last = what.open_mm;
    for (i, radius) in radii.iter().enumerate() {
        let (iron_left, materials) = metals_of(last);
        let found = wanted(*radius, last.max(start), materials);
        let Some(cutting) = bench.tool(Stage::Rough, say!("roughing {}", what.feature), found) else {
            return;
        };
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in &bench.cuts {
            let (stock, in_cut, figures) = stock(cut, what.depths_mm, last, *radius);
            if stock.max <= NOTHING_MM {
                continue;
            }
            let mut pass = bench.pass(
                step,
                cut,
                &Cutter {
                    stage: Stage::Rough,
                    feature: what.feature,
                    diameter_mm: 2.0 * radius,
                    depths_mm: what.depths_mm,
                    cutting: Some(&cutting),
                    material: &cutting.material,
                },
            );
            pass.stock = stock;
            pass.worked.extend(figures.into_iter().flatten().chain(what.deep.clone()));
            pass.in_cut = in_cut;
            let left = iron.as_ref().filter(|_| iron_left);
            if let Some((shell, figures)) = left.and_then(|l| shell(cut, l.outside_mm / 2.0, *radius)) {
                pass.shell = Some(shell);
                pass.worked.extend(figures);
            }
            if what.is_first && i == 0 {
                // The touch is looked at near the deck, so its stock is that of the deck and not of the bottom of a
                // leaning bore.
                let (at_touch, _, figures) =
                    self::stock(cut, [0.0, TOUCH_DEPTH_MM.min(what.depths_mm[1])], last, *radius);
                pass.stop = Some(position_proof(bench, cut, at_touch).into());
                pass.touch = Some(touched(cut, at_touch, figures));
            } else if let Some(shell) = pass.shell.filter(shows) {
                pass.stop = Some(witness(&shell, *radius).into());
            } else if pass.shell.is_some_and(|s| s.least <= 0.0) {
                pass.stop = Some("is the last iron just gone? No arc of it should be left".into());
            } else if iron_left && *radius >= boundary - NOTHING_MM {
                pass.stop = Some("all iron gone, down to the lower end?".into());
            }
            passes.push(pass);
        }
        bench.passes.append(&mut passes);
        last = *radius;
    }
}

/// Least and most stock of a pass over its depth, and the least share of the circle in cut.
fn stock(
    cut: &Cut<'_>,
    ends_mm: [f64; 2],
    open_mm: f64,
    radius_mm: f64,
) -> (Stock, f64, [Option<Figure>; 2]) {
    let mut stock = Stock { min: f64::INFINITY, max: 0.0 };
    let mut figures = [None, None];
    let mut in_cut: f64 = 1.0;
    // What an earlier concentric pass opened is no stock.
    let cap = radius_mm - open_mm;
    for old in surfaces(cut, ends_mm) {
        let [near, far] = old.metal_mm.map(|metal| eccentric_stock(metal, radius_mm, old.apart_mm));
        let (min, max) = (far.least_mm.min(cap).max(0.0), near.most_mm.min(cap));
        let even = |bound: f64| (bound >= cap).then(|| worked::even(radius_mm, open_mm));
        if min < stock.min {
            stock.min = min;
            let against = || worked::roughed(min, &old, old.metal_mm[1], radius_mm, true);
            let none = (min <= 0.0).then(|| worked::nothing(radius_mm, old.apart_mm));
            figures[0] = Some(none.or_else(|| even(far.least_mm)).unwrap_or_else(against));
        }
        if max > stock.max {
            stock.max = max;
            let against = || worked::roughed(max, &old, old.metal_mm[0], radius_mm, false);
            figures[1] = Some(even(near.most_mm).unwrap_or_else(against));
        }
        in_cut = in_cut.min(near.in_cut.min(far.in_cut));
    }
    // A concentric pass takes one stock all round.
    if (stock.max - stock.min).abs() <= NOTHING_MM {
        figures[1] = None;
    }
    (stock, in_cut, figures)
}

/// The touch check of a cut whose stock is known: where it bites first and deepest, with what both are worked from.
fn touched(cut: &Cut<'_>, stock: Stock, [least, most]: [Option<Figure>; 2]) -> TouchCut {
    let old = cut.found.now.axis.at(0.0);
    let towards = [0, 1].map(|k| cut.bore.planned_mm[k] - old[k]);
    // A stock that is even all round is worked once.
    let most = most.or_else(|| least.clone());
    TouchCut { deepest: stock.max, least: stock.min, clock: clock_deg(towards), worked: [least, most] }
}

/// What the first cut must show, in words: on which side it bites, and that it bites nowhere else.
fn position_proof(bench: &Bench<'_>, cut: &Cut<'_>, stock: Stock) -> Sentence {
    let old = cut.found.now.axis.at(0.0);
    let towards = [cut.bore.planned_mm[0] - old[0], cut.bore.planned_mm[1] - old[1]];
    let side = words::offset(bench.job, bench.bank, towards);
    if towards[0].hypot(towards[1]) < SHOWS_MM {
        if stock.max - stock.min > 2.0 * SHOWS_MM {
            // The new centre is the old one, so the first cut cannot show a move; only what is out of round is left
            // to look for.
            return say!(
                "step from old wall to new: the bore does not move, but the old one is not round: most {}, least {}",
                mm(stock.max, 2),
                mm(stock.min, 2)
            );
        }
        // Equal as they are read: one figure.
        if stock.max - stock.min < 0.005 {
            return say!("step from old wall to new: it is even all round, {} a side", mm(stock.max, 2));
        }
        return say!(
            "step from old wall to new: it is even all round to the eye, {} to {} a side",
            before_mm(stock.min, 2),
            mm(stock.max, 2)
        );
    }
    say!(
        "steps from old wall to new: bore moves {}; {} on that side, {} opposite. \
         If it bites elsewhere STOP: zero, sign, bank or bore is wrong",
        side,
        mm(stock.max, 2),
        mm(stock.min, 2)
    )
}
