//! Pocket: every cylinder and the ledge to size.

use super::cutting::{Cutting, Purpose, Wanted};
use super::mill::{self, Round};
use super::window::{self, wet_window, window_mm};
use super::{Bench, Cutter, Missing, cutting, worked};
use crate::job::pocket::Feature;
use crate::plan::sentence::{Sentence, before_mm, celsius, mm, within_mm};
use crate::plan::touch::{TOUCH_DEPTH_MM, TRIED_BEYOND_MM};
use crate::plan::worked::Figure;
use crate::plan::{Stage, Stock};
use crate::say;
use crate::sleeve::LEAST_CUT_MM as LEAST_MM;

/// How much warmer than the machine the block may be when its pockets are cut, K. Sizes are told at 20 °C, and roughing warms it: 2 K
/// are 0.004 mm of a pocket of 90. Common practice, no source.
pub const WARMER_K: f64 = 2.0;

/// Appends the passes that bring every cylinder of the pocket to size, the ledge last; what has no tool or no stock
/// is told as missing and left out.
pub(super) fn stage(bench: &mut Bench<'_>) {
    let job = bench.job;
    let allowance = job.allowances.pocket_mm;
    if allowance <= 0.0 {
        let text = say!(
            "pocket: no stock is left for the finishing cut (`allowances.pocket`), at least {}: the registers would be \
             whatever the rough head leaves, untried and ungauged",
            mm(LEAST_MM, 2)
        );
        bench.missing(Stage::Pocket, Missing::Allowance, text);
        return;
    }
    let parent = job.block.parent.material.name.clone();
    // From the top down: a bar on its way to a narrower part below touches nothing above. The other way round it would
    // take, on its way, what is left for the part above.
    let mut features = bench.positions.pocket.steps.clone();
    features.extend(bench.positions.pocket.flange.iter().map(|f| f.cut.clone()));
    // What a sleeve stands on comes last: the flange's ledge, or the step below a plain one.
    let foot = bench.positions.pocket.foot.is_some();
    let ledge = features.len().saturating_sub(1);
    for (i, feature) in features.iter().enumerate() {
        let deep = feature.depths.to_mm + job.machine.clearance_mm;
        if mill::is_milled(bench, feature) {
            milled(bench, feature, i == ledge, deep, &parent);
            continue;
        }
        if let Some(why) = window::scrapes(job, bench.sleeve, &feature.name) {
            bench.missing(Stage::Pocket, Missing::Tool, say!("pocket, {}: {}", feature.name, why));
            continue;
        }
        let wanted = Wanted {
            diameter_mm: feature.diameter_mm(),
            reach_mm: deep,
            open_mm: feature.radius_mm - allowance,
            materials: &[&parent],
            purpose: Purpose::Finish,
            side_mm: stocks(bench, feature).into_iter().map(|s| s.0).fold(0.0, f64::max),
        };
        let found = cutting::choose(job, &wanted);
        let Some(cutting) = bench.tool(Stage::Pocket, say!("pocket, {}", feature.name), found) else {
            continue;
        };
        if !stock_in_hand(bench, feature, &cutting) {
            continue;
        }
        let step = bench.next();
        let mut passes = Vec::new();
        for cut in bench.spread() {
            let own = own(bench, cut.cylinder(), feature);
            let mut pass = bench.pass(
                step,
                cut,
                &Cutter {
                    stage: Stage::Pocket,
                    feature: &feature.name,
                    diameter_mm: own.diameter_mm(),
                    depths_mm: [own.depths.from_mm, own.depths.to_mm],
                    cutting: Some(&cutting),
                    material: &parent,
                },
            );
            let stock = allowance + own.radius_mm - feature.radius_mm;
            pass.stock = Stock { min: stock, max: stock };
            pass.worked.extend(figures(bench, cut.cylinder(), feature, &own));
            pass.flat_end = foot && i == ledge;
            pass.stop = Some(stop(bench, feature, &own, i == ledge).into());
            passes.push(pass);
        }
        bench.passes.append(&mut passes);
    }
}

/// The feature milled: one round of the cutter on every bore.
fn milled(bench: &mut Bench<'_>, feature: &Feature, ledge: bool, deep: f64, parent: &str) {
    let allowance = bench.job.allowances.pocket_mm;
    let found = mill::choose(bench.job, deep, feature.radius_mm - allowance, &[parent]);
    let Some(choice) = bench.tool(Stage::Pocket, say!("pocket, {}", feature.name), found) else { return };
    // One round clears a ring as wide as the cutter: on a wider ledge metal would stay under the flange.
    let pocket = &bench.positions.pocket;
    let below = match &pocket.foot {
        Some(foot) => foot.radius_mm,
        None => pocket.steps.first().map_or(0.0, |s| s.radius_mm - allowance),
    };
    if ledge && feature.radius_mm - below > choice.cutter_mm {
        let text = say!(
            "pocket, {}: the ledge is {} wide, the cutter {}: a wider cutter, or bore it",
            feature.name,
            mm(feature.radius_mm - below, 2),
            mm(choice.cutter_mm, 2)
        );
        bench.missing(Stage::Pocket, Missing::Tool, text);
        return;
    }
    if !stock_in_hand(bench, feature, &choice.cutting) {
        return;
    }
    let step = bench.next();
    let mut passes = Vec::new();
    for cut in bench.spread() {
        let own = own(bench, cut.cylinder(), feature);
        let stock = allowance + own.radius_mm - feature.radius_mm;
        let round = Round {
            stage: Stage::Pocket,
            feature: &feature.name,
            radius_mm: own.radius_mm,
            depths_mm: [own.depths.from_mm, own.depths.to_mm],
            stock: Stock { min: stock, max: stock },
            material: parent,
            to_size: !ledge && !feature.wet,
        };
        if let Some(mut pass) = mill::pass(bench, step, cut, &choice, &round) {
            pass.worked.extend(figures(bench, cut.cylinder(), feature, &own));
            pass.flat_end = ledge && bench.positions.pocket.foot.is_some();
            pass.stop = Some(stop(bench, feature, &own, ledge).into());
            passes.push(pass);
        }
    }
    if passes.len() < bench.cuts.len() {
        let text = say!("pocket, {}: no way of the cutter with its step down", feature.name);
        bench.missing(Stage::Pocket, Missing::Tool, text);
        return;
    }
    bench.passes.append(&mut passes);
}

/// What stock, size and depth of a finished part of the pocket are worked from.
fn figures(bench: &Bench<'_>, cylinder: u32, feature: &Feature, own: &Feature) -> Vec<Figure> {
    let left = worked::left(bench.job.allowances.pocket_mm, own.radius_mm, feature.radius_mm);
    let value = own.diameter_mm();
    let flange = bench.sleeve.flange().filter(|_| feature.is_flange());
    let step = feature.step();
    let described = step.and_then(|i| bench.sleeve.body.get(i));
    let size = match (flange, described) {
        (Some(flange), _) => Some(worked::flange_size(value, flange.diameter_mm)),
        // A sleeve that was measured has an outside of its own, and its pocket another size.
        (None, Some(step)) if own.radius_mm == feature.radius_mm => {
            Some(worked::step_size(value, step.diameter_mm))
        }
        _ => None,
    };
    let assigned = bench.fit.assigned.iter().find(|a| a.cylinder == cylinder);
    let measured = || Some(worked::own_size(value, assigned?.pockets.get(step?)?.outside));
    let size = size.or_else(measured);
    let cut_mm = bench.job.engine.deck.cut_mm;
    let depth = match (flange, described) {
        (Some(flange), _) => {
            let proud = [flange.protrusion_min_mm, flange.protrusion_max_mm];
            let cut = bench.job.cut.get(&cylinder).and_then(|c| c.ledge_mm);
            let from = match (assigned.and_then(|a| a.ledge.and(a.thickness)), cut) {
                (Some(_), Some(_)) => worked::Ledge::Cut,
                (Some(thick), None) => worked::Ledge::Measured(thick),
                (None, _) => worked::Ledge::Described(flange.thickness_mm),
            };
            Some(worked::ledge_depth(own.depths.to_mm, from, proud, [cut_mm, 0.0]))
        }
        (None, Some(step)) => Some(worked::step_depth(own.depths.to_mm, step.to_mm, [cut_mm, 0.0])),
        (None, None) => None,
    };
    std::iter::once(left).chain(size).chain(depth).collect()
}

/// What is left for the finishing pass of each bore, a side and in depth, mm.
fn stocks(bench: &Bench<'_>, feature: &Feature) -> Vec<(f64, f64)> {
    let allowance = bench.job.allowances.pocket_mm;
    let stock = |cylinder: u32| {
        let own = own(bench, cylinder, feature);
        let deeper = own.depths.to_mm - feature.depths.to_mm;
        (allowance + own.radius_mm - feature.radius_mm, allowance + deeper)
    };
    bench.cuts.iter().map(|cut| stock(cut.cylinder())).collect()
}

/// Whether every bore has stock for the finishing pass, and none more than the tool may take, which for a slender
/// bar is half of its data.
fn stock_in_hand(bench: &mut Bench<'_>, feature: &Feature, with: &Cutting) -> bool {
    let stocks = stocks(bench, feature);
    let most = stocks.iter().map(|s| s.0).fold(0.0, f64::max);
    let least = stocks.iter().map(|s| s.0.min(s.1)).fold(f64::INFINITY, f64::min);
    let text = if most > with.depth_mm + 1e-9 {
        say!(
            "pocket, {}: {} are left a side, more than {} may take ({}{})",
            feature.name,
            mm(most, 3),
            with.tool,
            mm(with.depth_mm, 3),
            if with.share < 1.0 { "; half of its data, since its bar is slender" } else { "" }
        )
    } else if least < LEAST_MM {
        say!(
            "pocket, {}: {} are left for the finishing cut, at least {}: the edge would rub",
            feature.name,
            mm(least, 3),
            mm(LEAST_MM, 2)
        )
    } else {
        return true;
    };
    bench.missing(Stage::Pocket, Missing::Allowance, text);
    false
}

/// What to measure of a finished part of the pocket.
fn stop(bench: &Bench<'_>, feature: &Feature, own: &Feature, ledge: bool) -> Sentence {
    let allowances = &bench.job.allowances;
    let milled = mill::is_milled(bench, feature);
    let parent = &bench.job.block.parent.material;
    let warm = bench.job.at_cutting_words(own.diameter_mm(), parent.expansion_per_k);
    if ledge && bench.positions.pocket.foot.is_some() {
        say!(
            "size {} within {}, 3 depths x 2 ways, at {}; step {} deep at 4 points, within {}, flat, its corner no larger than \
             the sleeve's own edge",
            mm(own.diameter_mm(), 3),
            within_mm(
                own.diameter_mm(),
                window_mm(bench.job, bench.sleeve, &feature.name).unwrap_or(allowances.pocket_size_mm),
                3
            ),
            celsius(20.0, 0),
            mm(own.depths.to_mm, 3),
            within_mm(own.depths.to_mm, allowances.ledge_depth_mm, 3)
        )
    } else if ledge {
        say!(
            "ledge {} deep at 4 points, within {}",
            mm(own.depths.to_mm, 3),
            within_mm(own.depths.to_mm, allowances.ledge_depth_mm, 3)
        )
    } else if feature.wet {
        let jacket = bench.job.block.parent.jacket.and_then(|jacket| jacket.shared(&own.depths));
        let breaks = jacket.map_or_else(Sentence::new, |shared| {
            say!(
                "; breaks into the jacket from {} to {} deep: gauge it only where metal stands on both sides, else nr; wash the chips out",
                before_mm(shared.from_mm, 1),
                mm(shared.to_mm, 1)
            )
        });
        say!(
            "size {} within {}{}{}",
            mm(own.diameter_mm(), 3),
            within_mm(own.diameter_mm(), wet_window(bench.job, bench.sleeve, &feature.name).0, 3),
            warm,
            breaks
        )
    } else {
        let tried = if milled || own.depths.to_mm - own.depths.from_mm <= TRIED_BEYOND_MM {
            Sentence::new()
        } else {
            say!(
                "; where the head is set anew try it to {} deep first",
                mm(own.depths.from_mm + TOUCH_DEPTH_MM, 1)
            )
        };
        say!(
            "size {} within {}, 3 depths x 2 ways, at {}{}{}",
            mm(own.diameter_mm(), 3),
            within_mm(
                own.diameter_mm(),
                window_mm(bench.job, bench.sleeve, &feature.name).unwrap_or(allowances.pocket_size_mm),
                3
            ),
            celsius(20.0, 0),
            warm,
            tried
        )
    }
}

/// The feature as one bore gets it: for the sleeve proposed there, where they were measured.
fn own(bench: &Bench<'_>, cylinder: u32, feature: &Feature) -> Feature {
    let mut own = feature.clone();
    let Some(assigned) = bench.fit.assigned.iter().find(|a| a.cylinder == cylinder) else { return own };
    if feature.is_flange() {
        own.depths.to_mm = assigned.ledge.unwrap_or(own.depths.to_mm);
        return own;
    }
    let step = feature.step();
    if let Some(pocket) = step.and_then(|i| assigned.pockets.get(i)) {
        own.radius_mm = pocket.diameter / 2.0;
        if step == Some(0) {
            own.depths.from_mm = assigned.ledge.unwrap_or(own.depths.from_mm);
        }
    }
    own
}
