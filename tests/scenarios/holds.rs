//! Holds, releases and what is withheld.

use borewright_planner::plan::{Release, Verdict};
use borewright_planner::{load, plan_job};

use crate::bench::{Bench, cylinder, limit, listed};

/// Cylinder 4 at hold by its preferred wall, which no place gives on both sides; the rest at go.
fn held() -> Bench {
    let mut bench =
        Bench::default().block_of([[0.0, 0.0]; 8]).wall(4, 70.0, 45.0, 4.3).wall(4, 70.0, 225.0, 4.3);
    bench.limits = "clean_up: 0.05, parent_wall: { least: 2.0, prefer: 2.5 }".into();
    bench
}

#[test]
fn a_cylinder_at_hold_is_withheld_and_the_others_are_listed() {
    let planning = held().plan();
    assert_eq!(cylinder(&planning, 4).verdict, Verdict::Hold);
    assert_eq!(planning.plan.verdict, Verdict::Hold);
    assert_eq!(listed(&planning), [1, 2, 3, 5, 6, 7, 8]);
}

#[test]
fn a_release_lets_the_held_cylinder_through_and_stays_in_the_plan() {
    let dir = held().write();
    let release = Release { who: "A. Lead".into(), why: "wall re-read at 4.5".into() };
    let planning = plan_job(load(dir.path()).unwrap(), Some(release.clone())).unwrap();
    assert_eq!(listed(&planning), [1, 2, 3, 4, 5, 6, 7, 8]);
    assert_eq!(planning.plan.release, Some(release));
    // A release changes no verdict.
    assert_eq!(planning.plan.verdict, Verdict::Hold);
}

#[test]
fn a_release_never_lets_a_stop_through() {
    let mut bench = held().wall(4, 100.0, 90.0, 3.0).wall(4, 100.0, 270.0, 3.0);
    bench.limits = "position: 0.02, clean_up: 0.05, parent_wall: 2.0".into();
    let dir = bench.write();
    let release = Release { who: "A. Lead".into(), why: "hurry".into() };
    let planning = plan_job(load(dir.path()).unwrap(), Some(release)).unwrap();
    assert_eq!(cylinder(&planning, 4).verdict, Verdict::Stop);
    assert!(!listed(&planning).contains(&4));
    assert!(!planning.plan.passes.iter().any(|p| p.cylinder == 4), "no centre of a stopped bore is told");
    // Two walls a millimetre thick, opposite: 3.0 + 50.5 - 52.5 = 1.0 each where 2.0 is asked. Sharing the lack
    // with the zone of 0.02, the bore would stand 1.0 to one side: d - 0.01 = 1.0 - d^2 / 107, 0.991 each.
    let why = &cylinder(&planning, 4).why.whole();
    assert!(
        why.contains("parent wall") && why.contains("cannot both be kept") && why.contains("short by 0.991"),
        "{why}"
    );
    // A parent wall of 1.0 would be refused.
    assert!(!why.contains("asked in the job"), "{why}");
    assert!(why.contains("needs a sleeve of at most 103.02 mm outside"), "{why}");
}

#[test]
fn a_limit_that_frees_a_stop_is_told_as_the_figure_to_ask() {
    // Two walls of 4.3 + 50.5 - 52.5 = 2.3 where 3.0 is asked; what proves them takes the last hundredth.
    let mut bench = held();
    bench.limits = "position: 0.02, clean_up: 0.05, parent_wall: 3.0".into();
    let planning = bench.plan();
    let why = cylinder(&planning, 4).why.whole().to_string();
    let [sleeve, wall] =
        ["needs a sleeve of at most", "needs parent wall 2.29 instead of 3.00 mm asked in the job"]
            .map(|words| why.find(words).unwrap_or_else(|| panic!("no {words:?} in {why}")));
    assert!(sleeve < wall, "{why}");
}

#[test]
fn a_margin_between_is_a_hold_and_says_how_well_it_would_have_to_be_measured() {
    // 45 degrees, least 2.0: 4.62 leaves about 0.12; the gauge's 0.1 cannot prove it, and the bore may not move.
    let mut bench =
        Bench::default().block_of([[0.0, 0.0]; 8]).wall(4, 70.0, 90.0, 4.12).wall(4, 70.0, 270.0, 4.12);
    bench.limits = "position: 0.2, parent_wall: 2.0".into();
    bench.instruments = bench.instruments.replace("wall: 0.0002", "wall: 0.1");
    let planning = bench.plan();
    let wall = limit(&planning, 4, "parent_wall");
    assert_eq!(wall.verdict, Verdict::Hold);
    assert!((wall.margin - 0.12).abs() < 1e-6 && (wall.u - 0.1).abs() < 1e-5, "{wall:?}");
    // 0.12 / 1.65 = 0.073.
    assert!(cylinder(&planning, 4).why.whole().contains("u 0.073"), "{}", cylinder(&planning, 4).why);
}

#[test]
fn a_position_zone_no_wider_than_its_own_uncertainty_is_held_at_the_true_position() {
    // Half of 0.05 against 1.65 x 0.0155: the zone cannot be proven, and moving off true proves nothing.
    let mut bench = Bench::default().block_of([[0.0, 0.0]; 8]);
    bench.limits = "position: 0.05".into();
    bench.instruments =
        "centre: 0.003, diameter: 0.004, wall: 0.05, axis: 0.004, along: 0.015, machine: 0.004".into();
    let planning = bench.plan();
    assert_eq!(planning.plan.verdict, Verdict::Hold);
    for c in &planning.plan.cylinders {
        assert_eq!(c.planned, c.true_position);
    }
}

#[test]
fn a_list_that_would_lack_a_pass_is_not_written_even_when_released() {
    // No tool for the flange of 112.05: the roughing of the flange has none, so nothing after it is listed either.
    let mut bench = Bench::default().block_of([[0.0, 0.0]; 8]);
    bench.machine = vec![("118.0]", "110.0]"), ("116.0]", "110.0]")];
    let dir = bench.write();
    let release = Release { who: "A. Lead".into(), why: "hurry".into() };
    let planning = plan_job(load(dir.path()).unwrap(), Some(release)).unwrap();
    assert_eq!(planning.plan.verdict, Verdict::Hold);
    assert!(planning.lists.is_empty());
    let finding = planning.plan.findings.iter().find(|f| f.code == "no_tool").unwrap();
    assert!(
        finding.text.contains("no boring tool for 111.65 mm") && finding.text.contains("no list"),
        "{finding:?}"
    );
    // With a tool for the pocket only, the finish bore's list is the one withheld.
    let mut bench = Bench::default().block_of([[0.0, 0.0]; 8]);
    bench.machine = vec![("      ductile iron: { speed: 110, feed: 0.10, depth: 0.3 }\n", "")];
    let planning = bench.plan();
    let stages: Vec<&str> = planning.lists.iter().map(|l| l.stage.word()).collect();
    assert_eq!(stages, ["rough", "pocket", "rough", "pocket"]);
}
