//! Where bores stand and whether the tool cleans up. Sums: worked by hand on the Kittiwake, common practice.

use borewright_planner::plan::{Pattern, Verdict};

use crate::bench::{Bench, cylinder, finding, limit, near, off_true};

#[test]
fn a_quiet_block_is_bored_true_and_raises_no_alarm() {
    // Deviations of cylinders 1, 2, ... 8: left leads, right follows.
    let off = [
        [0.012, 0.041],
        [0.031, -0.048],
        [-0.010, 0.022],
        [0.018, -0.061],
        [0.027, 0.035],
        [-0.015, -0.037],
        [-0.019, 0.046],
        [0.022, -0.055],
    ];
    let planning = Bench::default().block_of(off).plan();
    assert_eq!(planning.plan.verdict, Verdict::Go);
    let bank = |name: &str| planning.plan.banks.iter().find(|b| b.bank == name).unwrap().shift.y;
    near(bank("right"), -0.050, 0.0005);
    near(bank("left"), 0.036, 0.0005);
    // The largest off is cylinder 4 by 0.064; clean-up 2.00 - 0.064 = 1.936.
    near(cylinder(&planning, 4).off_true.distance, 0.064, 0.0005);
    near(limit(&planning, 4, "clean_up").margin + 0.05, 1.936, 0.0005);
    for n in 1..=8 {
        assert_eq!(off_true(&planning, n), [0.0, 0.0]);
    }
    assert!(planning.plan.findings.is_empty(), "{:?}", planning.plan.findings);
}

fn right_bank_outboard() -> Bench {
    Bench::default().block_of([
        [0.0, -0.01],
        [0.0, 0.27],
        [0.0, 0.02],
        [0.0, 0.29],
        [0.0, 0.0],
        [0.0, 0.28],
        [0.0, 0.01],
        [0.0, 0.28],
    ])
}

#[test]
fn a_whole_bank_outboard_cleans_up_and_keeps_its_valley_wall() {
    let mut bench = right_bank_outboard();
    for cylinder in [2, 4, 6, 8] {
        bench = bench.wall(cylinder, 70.0, 270.0, 5.0);
    }
    bench.limits = "clean_up: 0.05, parent_wall: 2.0".into();
    let planning = bench.plan();
    assert_eq!(planning.plan.verdict, Verdict::Go);
    let bank = |name: &str| planning.plan.banks.iter().find(|b| b.bank == name).unwrap().shift.y;
    near(bank("right"), 0.280, 1e-6);
    near(bank("left"), 0.005, 1e-6);
    // 105: clean-up 1.71; valley-side wall 5.0 - 2.0 - 0.29 = 2.71.
    near(limit(&planning, 4, "clean_up").margin + 0.05, 1.71, 1e-6);
    near(limit(&planning, 4, "parent_wall").margin + 2.0, 2.71, 1e-6);
    assert_eq!(limit(&planning, 4, "parent_wall").clock, Some(270.0));
}

#[test]
fn a_pocket_too_small_for_a_bank_outboard_stops_and_says_which_size_frees_it() {
    let mut bench = right_bank_outboard();
    bench.barrels = vec![101.63];
    bench.limits = "position: 0.002, clean_up: 0.05".into();
    let planning = bench.plan();
    // (101.60 - 101.00) / 2 - 0.29 = 0.01 where 0.05 is asked.
    assert_eq!(cylinder(&planning, 4).verdict, Verdict::Stop);
    let text = &finding(&planning, 4).text;
    assert!(text.contains("clean up") && text.contains("cannot both be kept"), "{text}");
    // True, it takes a pocket of 101.00 + 2 (0.29 + 0.05) = 101.68, a barrel 0.03 more, less the zone's radius
    // of 0.001 a side: 101.708.
    assert!(text.contains("at least 101.71 mm outside"), "{text}");
}

#[test]
fn given_room_the_same_bore_is_moved_just_as_far_as_clean_up_asks() {
    let mut bench = right_bank_outboard();
    bench.barrels = vec![101.63];
    bench.job_more = THIN.into();
    let planning = bench.plan();
    // Best compromise: 0.29 - (0.30 - 0.05) = 0.04 off the crank.
    let [x, y] = off_true(&planning, 4);
    near(x, 0.0, 1e-6);
    near(y, 0.04, 0.0005);
    assert_eq!(cylinder(&planning, 4).verdict, Verdict::Go);
    assert!(
        cylinder(&planning, 4).why.whole().contains("limited by clean up"),
        "{}",
        cylinder(&planning, 4).why
    );
}

#[test]
fn one_bad_bore_is_bored_true_and_its_neighbours_do_not_move() {
    let quiet = [
        [0.01, 0.02],
        [-0.02, 0.01],
        [0.0, -0.01],
        [0.01, 0.0],
        [0.31, -0.22],
        [0.0, 0.03],
        [-0.01, 0.01],
        [0.02, 0.0],
    ];
    let planning = Bench::default().block_of(quiet).released();
    let bad = cylinder(&planning, 5);
    near(bad.off_true.distance, 0.380, 0.0005);
    near(bad.off_true.clock, 360.0 - 35.4, 0.05);
    near(limit(&planning, 5, "clean_up").margin + 0.05, 1.62, 0.0005);
    for n in 1..=8 {
        assert_eq!(off_true(&planning, n), [0.0, 0.0]);
    }
    assert_eq!(planning.plan.as_bored.pattern, Pattern::EachItsOwn);
    // The first cut bites on the side the bore moves to: opposite to where it stands, towards -X +Y.
    let first = planning.plan.passes.iter().find(|p| p.cylinder == 5).unwrap();
    let radius = first.diameter / 2.0;
    near(first.stock.max, radius - 48.0 + 0.380, 0.0005);
    near(first.stock.min, radius - 48.0 - 0.380, 0.0005);
    let stop = first.stop.as_ref().unwrap().to_string();
    assert!(stop.contains("0.220 mm towards the valley, 0.310 mm forwards"), "{stop}");
}

/// What lets a sleeve be thinner than the usual.
const THIN: &str = "allowances: { sleeve_wall: 1.0 }\n";

/// A parent hole that leans: measured at 20, 70 and 125, hardest at the bottom.
fn leaning(barrel: f64, scale: f64) -> Bench {
    // Thinner sleeves than hold of themselves, for the sums' sake.
    let mut bench = Bench { barrels: vec![barrel], job_more: THIN.into(), ..Bench::default() };
    for (depth, off) in [(20.0, [0.04, 0.06]), (70.0, [0.09, 0.17]), (125.0, [0.15, 0.29])] {
        bench = bench.circle(8, depth, [off[0] * scale, off[1] * scale], 96.0);
    }
    bench
}

#[test]
fn a_leaning_bore_is_judged_at_the_bottom_that_nobody_measured() {
    // Pocket 101.80: 0.40 a side. e at 138 is 0.358: 0.042 left, where every measured depth leaves 0.074 or more.
    let mut bench = leaning(101.83, 1.0);
    bench.limits = "position: 0.0002, clean_up: 0.001".into();
    let planning = bench.plan();
    let worst = limit(&planning, 8, "clean_up");
    assert_eq!(worst.depth, Some(138.0));
    near(worst.margin + 0.001, 0.042, 0.0005);
}

#[test]
fn a_leaning_bore_passes_with_the_smallest_shift_towards_its_lower_end() {
    let planning = leaning(101.83, 1.0).plan();
    let [x, y] = off_true(&planning, 8);
    let (far, clock) = (x.hypot(y), y.atan2(x).to_degrees());
    assert!((0.008..=0.010).contains(&far), "{far}");
    near(clock, 63.0, 0.5);
    assert_eq!(cylinder(&planning, 8).verdict, Verdict::Go);
    // Nobody measured the other seven: the plan as a whole waits.
    assert_eq!(planning.plan.verdict, Verdict::Hold);
    assert_eq!(planning.plan.findings.iter().filter(|f| f.code == "not_measured").count(), 7);
}

#[test]
fn a_bore_that_leans_farther_asks_for_a_larger_pocket() {
    // e at the bottom 0.62: a pocket of 101.00 + 2 (0.62 + 0.05) = 102.34.
    let scale = 0.62 / 0.357_8;
    let mut bench = leaning(101.83, scale);
    bench.limits = "position: 0.002, clean_up: 0.05".into();
    let planning = bench.plan();
    assert_eq!(planning.plan.verdict, Verdict::Stop);
    let text = &finding(&planning, 8).text;
    // A barrel 0.03 above its pocket.
    assert!(text.contains("at least 102.37 mm outside"), "{text}");
}

#[test]
fn a_wall_and_clean_up_are_met_where_only_the_wall_binds() {
    // C (0,0), P (+.10,-.40), (D_n-D_o)/2 = .35, keep .05: within .30 of P gives (.027,-.109).
    // With a wall of 3.10 at 90, needing 2.50: T = (.000,-.150), clean-up with .031 spare.
    let bench = || {
        let mut bench = Bench { barrels: vec![101.73], ..Bench::default() };
        bench = bench.bore(8, [0.10, -0.40]);
        bench
    };
    let [x, y] = off_true(&bench().plan(), 8);
    near(x, 0.027, 0.0005);
    near(y, -0.109, 0.0005);
    let mut walled = bench().wall(8, 70.0, 90.0, 3.10);
    walled.limits = "position: 0.8, clean_up: 0.05, parent_wall: 2.5".into();
    let planning = walled.plan();
    let [x, y] = off_true(&planning, 8);
    near(x, 0.0, 0.0005);
    near(y, -0.150, 0.0005);
    near(limit(&planning, 8, "clean_up").margin, 0.031, 0.0006);
    let why = &cylinder(&planning, 8).why.whole();
    assert!(why.contains("limited by parent wall") && !why.contains("clean up"), "{why}");
}

#[test]
fn each_pass_says_what_it_leaves_of_the_liner_and_where() {
    // Liner outside 101.00, its centre 0.38 off at -35 degrees: at 100.40 iron is 0.68 thick there and gone opposite.
    let planning = Bench::default().bore(5, [0.31, -0.22]).plan();
    let rough: Vec<_> =
        planning.plan.passes.iter().filter(|p| p.cylinder == 5 && p.shell.is_some()).collect();
    assert!(rough.len() >= 3, "{rough:?}");
    for pass in &rough {
        let (shell, r) = (pass.shell.unwrap(), pass.diameter / 2.0);
        near(shell.most, 50.5 + 0.380_1 - r, 0.000_5);
        near(shell.least, (50.5 - 0.380_1 - r).max(0.0), 0.000_5);
        near(shell.thickest_at, 324.6, 0.1);
        let expected =
            if shell.least > 0.0 { 360.0 } else { 2.0 * ((r - 50.5) / 0.380_1).acos().to_degrees() };
        near(shell.arc, expected, 0.1);
        let witnessed = pass.stop.as_ref().is_some_and(|s| s.whole().contains("iron should be left"));
        assert_eq!(witnessed, shell.least <= 0.0 && pass.step != rough[0].step, "{pass:?}");
    }
    // All iron is gone at 2 (50.5 + 0.38) = 101.76.
    let gone = planning.plan.passes.iter().find(|p| p.cylinder == 5 && p.shell.is_none()).unwrap();
    assert!(gone.diameter >= 101.76 - 0.001, "{gone:?}");
}
