use std::path::PathBuf;

use borewright_planner::plan::Plan;
use borewright_planner::{Planning, load, plan_job};

use super::changes;
use crate::text::Terminal;

fn petrel() -> Planning {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../blocks/jobs/petrel-0412");
    plan_job(load(&path).unwrap_or_else(|faults| panic!("{faults}")), None).unwrap()
}

/// What is said of the sample against a plan that was another in this.
fn since(planning: &Planning, change: impl Fn(&mut Plan)) -> String {
    let mut before = planning.plan.clone();
    change(&mut before);
    before.fingerprint = "0".repeat(64);
    let before = String::from_utf8(crate::plan_json(&before).unwrap()).unwrap();
    let said =
        changes(&before, planning, &planning.plan, &Terminal::new(planning.job.sheet_units, 80, false));
    said.split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn what_moved_is_told_cut_by_cut_and_nothing_else() {
    let planning = petrel();
    let quiet = since(&planning, |_| {});
    assert!(
        quiet.contains("no planned centre, size, depth, stock, touch check, order or list moved"),
        "{quiet}"
    );
    // Another order of the bores of one bank, by turning its finishing round.
    let said = since(&planning, |plan| {
        let own = |p: &&borewright_planner::plan::Pass| p.stage.word() == "finish" && p.bank == "left";
        let mut turned: Vec<_> = plan.passes.iter().filter(own).cloned().collect();
        turned.reverse();
        plan.passes.retain(|p| !own(&p));
        plan.passes.extend(turned);
    });
    assert!(said.contains("finish left: bores in the order 1 5 3, was 3 5 1"), "{said}");
    // One roughing cut more: all sizes are told, by stage and once for all bores.
    let said = since(&planning, |plan| {
        let extra: Vec<_> = plan.passes.iter().filter(|p| p.step == 10).cloned().collect();
        plan.passes.splice(0..0, extra);
    });
    assert!(said.contains("rough:") && said.contains("(cylinders 1, 3 and 5)"), "{said}");
    // A cut in the middle of roughing, and one by another tool.
    let said = since(&planning, |plan| {
        for pass in plan.passes.iter_mut().filter(|p| p.step == 20) {
            pass.diameter -= 0.2;
            pass.tool = Some("old head".into());
        }
    });
    assert!(
        said.contains("rough 2, lower register: diameter 84.891, was 84.691, rough head, was old head"),
        "{said}"
    );
    // A thousandth on a touch check, half of one on nothing.
    let said = since(&planning, |plan| {
        for check in plan.checks.iter_mut().filter(|c| c.check == 1) {
            check.cylinders[0].readings[0].expected = Some(230.035);
        }
        plan.passes[0].stock.max += 0.000_4;
    });
    assert!(
        said.contains("touch check, rough left: cylinder 5 X +230.034 Y +0.191, was X +230.035 Y +0.191"),
        "{said}"
    );
    assert!(!said.contains("stock"), "{said}");
}
