//! Which cuts are others: how many, how wide, how deep, by which tool and with how much stock.

use borewright_planner::plan::{Pass, Plan, cylinder_words};
use borewright_planner::read::fault::plain;

use super::MOVED_MM;
use super::before::{Before, Cut, Stock};
use crate::said::units::Digits;
use crate::text::Terminal;

/// What every cut of each cylinder has become, stage by stage; what a whole set of cylinders shares is said once.
pub(super) fn cuts(before: &Before, plan: &Plan, t: &Terminal) -> Vec<String> {
    let mut shared: Vec<(String, Vec<u32>)> = Vec::new();
    for (stage, cylinder) in stages(plan) {
        let now: Vec<&Pass> =
            plan.passes.iter().filter(|p| p.stage.word() == stage && p.cylinder == cylinder).collect();
        let was: Vec<&Cut> =
            before.passes.iter().filter(|p| p.stage == stage && p.cylinder == cylinder).collect();
        // A cylinder that was not cut before, or is no more, is told by its lists.
        if was.is_empty() {
            continue;
        }
        for words in moved(stage, &was, &now, t) {
            match shared.iter_mut().find(|(said, _)| *said == words) {
                Some((_, cylinders)) if !cylinders.contains(&cylinder) => cylinders.push(cylinder),
                Some(_) => {}
                None => shared.push((words, vec![cylinder])),
            }
        }
    }
    let told = |(words, cylinders): (String, Vec<u32>)| format!("{words} ({})", cylinder_words(&cylinders));
    shared.into_iter().map(told).collect()
}

/// Every stage of every cylinder, in the order of work.
fn stages(plan: &Plan) -> Vec<(&'static str, u32)> {
    let mut stages = Vec::new();
    for pass in &plan.passes {
        let stage = (pass.stage.word(), pass.cylinder);
        if !stages.contains(&stage) {
            stages.push(stage);
        }
    }
    stages
}

/// What one cylinder's cuts of a stage have become.
fn moved(stage: &str, was: &[&Cut], all: &[&Pass], t: &Terminal) -> Vec<String> {
    if was.len() != all.len() {
        let sizes = |all: &mut dyn Iterator<Item = f64>| {
            all.map(|d| t.cell(d, Digits::Fine)).collect::<Vec<_>>().join(", ")
        };
        let is = sizes(&mut all.iter().map(|p| p.diameter));
        let old = sizes(&mut was.iter().map(|p| p.diameter));
        return vec![format!("{stage}: {} cuts to {is}, was {} to {old}", all.len(), was.len())];
    }
    let fine = |mm: f64| t.cell(mm, Digits::Fine);
    let mut said = Vec::new();
    let mut stock: Option<(f64, String)> = None;
    for ((was, now), number) in was.iter().zip(all).zip(1_u32..) {
        // Several cuts to one part are told apart by their number.
        let again = all.iter().filter(|p| p.feature == now.feature).count() > 1;
        let which = if again { format!("{stage} {number}") } else { stage.to_owned() };
        let named = format!("{which}, {}", plain(&now.feature, 40));
        let mut what = Vec::new();
        if was.feature != now.feature {
            what.push(format!("was {}", plain(&was.feature, 40)));
        }
        if (now.diameter - was.diameter).abs() >= MOVED_MM {
            what.push(format!("diameter {}, was {}", fine(now.diameter), fine(was.diameter)));
        }
        if (now.from - was.from).abs() >= MOVED_MM {
            what.push(format!("from depth {}, was {}", fine(now.from), fine(was.from)));
        }
        if (now.to - was.to).abs() >= MOVED_MM {
            what.push(format!("depth {}, was {}", fine(now.to), fine(was.to)));
        }
        if was.tool != now.tool {
            let name = |tool: &Option<String>| plain(tool.as_deref().unwrap_or("no tool"), 30);
            what.push(format!("{}, was {}", name(&now.tool), name(&was.tool)));
        }
        if !what.is_empty() {
            said.push(format!("{named}: {}", what.join(", ")));
        }
        let by = (now.stock.max - was.stock.max).abs().max((now.stock.min - was.stock.min).abs());
        if by >= MOVED_MM && stock.as_ref().is_none_or(|(most, _)| by > *most) {
            let is = Stock { min: now.stock.min, max: now.stock.max };
            stock = Some((by, format!("{named}: stock {}, was {}", sides(is, t), sides(was.stock, t))));
        }
    }
    // The cut whose stock moved most stands for its stage.
    said.extend(stock.map(|(_, words)| words));
    said
}

fn sides(stock: Stock, t: &Terminal) -> String {
    format!("{} to {} a side", t.cell(stock.min, Digits::Fine), t.cell(stock.max, Digits::Fine))
}
