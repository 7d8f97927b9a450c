//! Tools, loads and what binds: the roughing of an off-centre bore, and machines that are too small.

use borewright_planner::Planning;
use borewright_planner::plan::{Binds, Pass, Stage, Verdict};

use crate::bench::{Bench, near, plan_with};

/// Every bore true, and no wall that was read.
fn true_bores() -> Bench {
    Bench::default().block_of([[0.0, 0.0]; 8])
}

fn first(planning: &Planning, stage: Stage) -> &Pass {
    planning.plan.passes.iter().find(|p| p.stage == stage).unwrap()
}

fn said(planning: &Planning, code: &str) -> String {
    let found = planning.plan.findings.iter().find(|f| f.code == code);
    found.map_or_else(|| panic!("{:?}", planning.plan.findings), |f| f.text.to_string())
}

#[test]
fn an_eccentric_bore_is_copied_by_the_share_that_force_and_stiffness_give() {
    // Cylinder 5 stands 0.38 off: the first cut varies by 0.76 a side; stiff spindle of 20 000 N/mm and a bar of 58 x 175.
    let mut off = [[0.0, 0.0]; 8];
    off[4] = [0.31, -0.22];
    let planning = Bench::default().block_of(off).released();
    let pass = planning.plan.passes.iter().find(|p| p.stage == Stage::Rough && p.cylinder == 5).unwrap();
    let load = pass.load.unwrap();
    let kc = 1160.0 * 0.15_f64.powf(-0.26);
    let bar = 175.0_f64.powi(3) / (3.0 * 206_000.0 * std::f64::consts::PI * 58.0_f64.powi(4) / 64.0);
    let stiffness = 1.0 / (1.0 / 20_000.0 + bar);
    near(load.copied, 0.4 * kc * 0.15 / stiffness * (pass.stock.max - pass.stock.min) / 2.0, 1e-6);
    near(load.force, kc * pass.stock.max * 0.15, 1e-3);
    near(load.peak_to_valley.unwrap(), 1000.0 * 0.15 * 0.15 / (8.0 * 0.8), 1e-6);
    assert_eq!(load.binds, Binds::CuttingSpeed);
    assert!(load.copied < 0.003, "two even passes kill it: {load:?}");
}

#[test]
fn what_binds_speed_and_feed_is_named() {
    let binds = |machine: Vec<(&'static str, &'static str)>, stage: Stage| {
        first(&Bench { machine, ..true_bores() }.released(), stage).load.unwrap().binds
    };
    assert_eq!(binds(vec![("rpm: [40, 2500]", "rpm: [40, 800]")], Stage::Pocket), Binds::SpindleFastest);
    assert_eq!(binds(vec![("rpm: [40, 2500]", "rpm: [600, 2500]")], Stage::Rough), Binds::SpindleSlowest);
    assert_eq!(binds(vec![("feed: 1500", "feed: 20")], Stage::Rough), Binds::MachineFeed);
    // Reach over bar 175 / 40 = 4.4: half the depth and half the feed.
    let slender = Bench { machine: vec![("bar: 58.0", "bar: 40.0")], ..true_bores() }.released();
    let pass = first(&slender, Stage::Rough);
    assert_eq!(pass.load.unwrap().binds, Binds::SlenderBar);
    near(pass.feed_per_rev, 0.075, 1e-9);
    assert!(pass.stock.max <= 0.4 + 1e-9);
}

/// Source: n = 1000 v / (pi D), a tool maker's published formula, whose example of 80 m/min on 250 mm turns 101.859 a minute:
/// ten times that at 336 m/min on 105 mm, told whole.
#[test]
fn the_spindle_turns_as_the_published_formula_says() {
    let machine = vec![("speed: 250", "speed: 336"), ("speed: 300", "speed: 336")];
    let planning = Bench { machine, ..true_bores() }.plan();
    let pocket = |p: &&Pass| p.stage == Stage::Pocket && (p.diameter - 105.0).abs() < 1e-9;
    near(planning.plan.passes.iter().find(pocket).unwrap().rpm, 1019.0, 0.0);
}

#[test]
fn a_weak_spindle_is_slowed_and_one_too_weak_is_told() {
    let strong = true_bores().plan();
    let weak = Bench { machine: vec![("power: 7.5", "power: 0.3")], ..true_bores() }.plan();
    let (before, after) = (first(&strong, Stage::Rough), first(&weak, Stage::Rough));
    assert!(after.rpm < before.rpm && after.load.unwrap().power <= 0.3 + 1e-9);
    assert_eq!(after.load.unwrap().binds, Binds::SpindlePower);
    near(after.minutes / before.minutes, before.rpm / after.rpm, 1e-6);
    let none =
        Bench { machine: vec![("power: 7.5", "power: 0.05"), ("rpm: [40,", "rpm: [200,")], ..true_bores() }
            .plan();
    assert!(said(&none, "power").contains("the spindle has 0.1"), "{:?}", none.plan.findings);
    assert_eq!(none.plan.verdict, Verdict::Hold);
}

#[test]
fn a_bar_that_rubs_and_one_too_slender_to_finish_are_named() {
    // An old bore of 96 and a bar of 94: a millimetre a side.
    let rubs = Bench { machine: vec![("bar: 58.0", "bar: 94.0")], ..true_bores() }.plan();
    assert!(said(&rubs, "no_tool").contains("the bar would rub"), "{:?}", rubs.plan.findings);
    let slender =
        Bench { machine: vec![("bar: 60.0", "bar: 30.0"), ("bar: 58.0", "bar: 28.0")], ..true_bores() }
            .plan();
    assert!(said(&slender, "no_tool").contains("too slender to finish"), "{:?}", slender.plan.findings);
    // The same bar in heavy metal goes on.
    let heavy = Bench {
        machine: vec![("bar: 60.0", "bar: 30.0\n    bar_material: heavy metal"), ("bar: 58.0", "bar: 50.0")],
        // Half the depth of a slender bar: less may be left for it.
        job_more: "allowances: { pocket: 0.1 }\n".into(),
        ..true_bores()
    };
    assert!(heavy.released().plan.passes.iter().any(|p| p.stage == Stage::Finish));
}

#[test]
fn a_bar_too_short_for_the_plate_stops_the_finish_bore_at_planning() {
    // Bare 140 and clearance 5 of 205: reached. With a plate of 70 on the deck it is not.
    let with = |plate: &'static str| {
        let mut bench = true_bores();
        bench.limits = "position: 0.8, clean_up: 0.05".into();
        plan_with(&bench, "job.yaml", "finish: { bore: 99.0 }", plate)
    };
    assert_eq!(with("finish: { bore: 99.0, plate: 50 }").plan.verdict, Verdict::Go);
    let short = with("finish: { bore: 99.0, plate: 70 }");
    assert!(said(&short, "no_tool").contains("reaches"), "{:?}", short.plan.findings);
    assert!(
        short.lists.iter().all(|l| l.stage != Stage::Finish),
        "roughing may go on, the finish bore may not"
    );
    assert!(short.lists.is_empty() || short.plan.verdict == Verdict::Hold);
}

#[test]
fn a_span_longer_than_the_travel_is_a_hold() {
    // A stylus of 250 picks the axis up down the bores; the bores themselves are too far apart.
    let machine = vec![("x: [-450, 450]", "x: [-160, 160]"), ("reach: 205.0", "reach: 250.0")];
    let small = Bench { machine, ..true_bores() }.plan();
    assert!(said(&small, "travel").contains("330.0"), "{:?}", small.plan.findings);
}

#[test]
fn stops_are_numbered_in_the_order_of_work_and_lists_say_the_number() {
    let planning = true_bores().plan();
    let numbers: Vec<u32> = planning.plan.checks.iter().map(|c| c.check).collect();
    let most = numbers.iter().copied().max().unwrap();
    assert_eq!(numbers, (1..=most).collect::<Vec<u32>>(), "none is left out, none twice");
    for list in &planning.lists {
        let stops = list.moves.iter().filter(|m| m.note.to_string().starts_with("stop "));
        for stop in stops {
            let number: u32 =
                stop.note.to_string()["stop ".len()..].split(',').next().unwrap().parse().unwrap();
            let cylinder = stop.cylinder.unwrap();
            let own = |p: &&Pass| p.stop_number == Some(number) && p.cylinder == cylinder;
            let pass = planning.plan.passes.iter().find(own).unwrap();
            assert!(stop.note.contains(&pass.stop.as_ref().unwrap().to_string()), "{}", stop.note);
        }
    }
}

#[test]
fn finishing_goes_round_so_that_the_heat_spreads() {
    let planning = true_bores().plan();
    let order: Vec<u32> = planning
        .plan
        .passes
        .iter()
        .filter(|p| p.stage == Stage::Pocket && p.feature == "barrel" && p.bank == "left")
        .map(|p| p.cylinder)
        .collect();
    assert_eq!(order, vec![1, 5, 3, 7]);
}

#[test]
fn the_hone_keeps_the_crosshatch_where_its_strokes_end() {
    let planning = true_bores().plan();
    let stages: Vec<&Pass> =
        planning.plan.passes.iter().filter(|p| p.stage == Stage::Hone && p.cylinder == 1).collect();
    assert_eq!(stages.len(), 4);
    let taken: f64 = stages.iter().map(|p| p.stock.max).sum();
    near(2.0 * taken, 0.06, 1e-9);
    let last = stages[2];
    near(last.diameter, 99.0, 1e-9);
    let text = last.stop.as_ref().unwrap().whole();
    assert!(text.contains("crosshatch 45 deg included") || text.contains("crosshatch 44 deg"), "{text}");
}

#[test]
fn every_rough_pass_says_what_is_left_of_the_liner_as_the_sums_have_it() {
    // Parent 0.310 rearwards and 0.220 outwards of true, liner 101.00 outside: e 0.380, towards clock 325.
    let mut off = [[0.0, 0.0]; 8];
    off[4] = [0.31, -0.22];
    let planning = Bench::default().block_of(off).released();
    let e = 0.31_f64.hypot(0.22);
    let own = |p: &&Pass| p.stage == Stage::Rough && p.cylinder == 5;
    let mut seen = 0;
    for pass in planning.plan.passes.iter().filter(own) {
        let radius = pass.diameter / 2.0;
        let most = 50.5 - radius + e;
        let Some(shell) = pass.shell else {
            assert!(most <= 1e-6, "{pass:?}");
            continue;
        };
        seen += 1;
        near(shell.most, most, 1e-6);
        near(shell.least, (50.5 - radius - e).max(0.0), 1e-6);
        near(shell.thickest_at, 324.64, 0.01);
        let arc = if radius <= 50.5 - e { 360.0 } else { 2.0 * ((radius - 50.5) / e).acos().to_degrees() };
        near(shell.arc, arc, 1e-3);
        let metal = if pass.shell.is_some() { "grey iron" } else { "aluminium" };
        assert_eq!(pass.material, metal, "the harder of the two it meets");
    }
    assert!(seen >= 2, "{seen}");
}

#[test]
fn a_nose_that_comes_down_on_the_clamps_is_told() {
    let with = |clamps: &str| {
        // Rapids cross above the clamps.
        let dir = Bench { machine: vec![("clearance: 5.0", "clearance: 35.0")], ..true_bores() }.write();
        let path = dir.path().join("job.yaml");
        let job = std::fs::read_to_string(&path).unwrap();
        std::fs::write(
            &path,
            job.replace("    front: left\n", &format!("    front: left\n    clamps: {clamps}\n")),
        )
        .unwrap();
        borewright_planner::plan_job(borewright_planner::load(dir.path()).unwrap(), None).unwrap()
    };
    // A head of 175 down to 138 leaves its nose 37 above the deck.
    assert_eq!(with("30").plan.verdict, Verdict::Go);
    let low = with("34");
    assert!(said(&low, "nose").contains("37.0 mm above the deck"), "{:?}", low.plan.findings);
    assert_eq!(low.plan.verdict, Verdict::Hold);
}

#[test]
fn an_axis_that_neither_travel_nor_stylus_reaches_must_be_carried() {
    // Mains span 440, X travels 400, down the bores a stylus needs 245 and the longest tool has 205.
    let small = Bench { machine: vec![("x: [-450, 450]", "x: [-200, 200]")], ..true_bores() }.plan();
    let text = said(&small, "pick_up");
    assert!(text.contains("440.0") && text.contains("245.0") && text.contains("205.0"), "{text}");
    let long = Bench {
        machine: vec![("x: [-450, 450]", "x: [-200, 200]"), ("reach: 205.0", "reach: 250.0")],
        ..true_bores()
    };
    assert!(long.plan().plan.findings.iter().all(|f| f.code != "pick_up"));
}

#[test]
fn times_add_up_stage_by_stage() {
    let planning = true_bores().plan();
    for time in &planning.plan.times {
        let own = planning.plan.passes.iter().filter(|p| p.stage == time.stage);
        near(own.map(|p| p.minutes).sum(), time.work, 1e-3);
    }
    let rough = planning.plan.times.iter().find(|t| t.stage == Stage::Rough).unwrap();
    let stops = planning.plan.passes.iter().filter(|p| p.stage == Stage::Rough && p.stop.is_some()).count();
    let mut steps: Vec<u32> =
        planning.plan.passes.iter().filter(|p| p.stage == Stage::Rough).map(|p| p.step).collect();
    steps.dedup();
    let count = |n: usize| f64::from(u32::try_from(n).unwrap());
    near(rough.handling, 4.0 * count(steps.len()) + 3.0 * count(stops), 1e-6);
}

/// The Kittiwake with a job line changed.
fn with_job(bench: &Bench, from: &str, to: &str) -> Planning {
    plan_with(bench, "job.yaml", from, to)
}

#[test]
fn no_pass_takes_more_than_the_head_it_is_cut_with_may() {
    // A small head for the first cuts takes 0.3 a pass, the large one 0.8.
    let small = "  - name: small head\n    kind: boring\n    diameter: [70.0, 100.0]\n    reach: 175.0\n    bar: 58.0\n    cuts:\n      \
                 aluminium: { speed: 250, feed: 0.15, depth: 0.4 }\n      grey iron: { speed: 90, feed: 0.15, depth: 0.3 }\n  - name: rough head";
    let planning = Bench { machine: vec![("  - name: rough head", small)], ..true_bores() }.plan();
    let rough = planning.plan.passes.iter().filter(|p| p.stage == Stage::Rough && p.cylinder == 1);
    let mut by_small = 0;
    for pass in rough {
        if pass.tool.as_deref() == Some("small head") {
            by_small += 1;
            let most = if pass.material == "grey iron" { 0.3 } else { 0.4 };
            assert!(pass.stock.max <= most + 1e-6, "{pass:?}");
        }
    }
    assert!(by_small > 1);
}

#[test]
fn a_mandrel_or_a_load_in_the_way_withholds_the_bank() {
    let bench = Bench { block: vec![("housing_bore: 68.0", "housing_bore: 190.0".into())], ..true_bores() };
    let planning = bench.plan();
    assert!(said(&planning, "mandrel").contains("above the journal axis"));
    assert_eq!(planning.plan.verdict, Verdict::Hold);
    assert!(planning.lists.is_empty(), "nothing is listed unreleased");
    assert!(
        planning
            .plan
            .cylinders
            .iter()
            .all(|c| c.verdict == Verdict::Hold && c.why.whole().contains("mandrel"))
    );
}

#[test]
fn a_cutter_narrower_than_the_ledge_is_refused_and_one_meets_iron_only_with_data_for_it() {
    let cutter = |width: &str, cuts: &str| -> &'static str {
        let text = format!(
            "mill: [flange]\ntools:\n  - name: end mill\n    kind: milling\n    diameter: {width}\n    reach: 60.0\n    cuts:\n{cuts}"
        );
        Box::leak(text.into_boxed_str())
    };
    let aluminium = "      aluminium: { speed: 280, feed: 0.3, depth: 2.0 }\n";
    let with = |tools: &'static str| Bench { machine: vec![("tools:\n", tools)], ..true_bores() };
    assert_eq!(with(cutter("32.0", aluminium)).plan().plan.verdict, Verdict::Go);
    // The ledge runs from 104.6 to 112.05: 3.7 wide.
    let narrow = with(cutter("2.0", aluminium)).plan();
    assert!(said(&narrow, "no_tool").contains("the ledge is 3.7"), "{:?}", narrow.plan.findings);
    assert!(narrow.lists.iter().all(|l| l.stage == Stage::Rough));
    // A liner of 110 is still there where the recess is milled.
    let mut iron = with(cutter("32.0", aluminium));
    iron.block = vec![("outside: 101.0", "outside: 110.0".into())];
    iron.limits = "position: 0.8".into();
    let iron = iron.plan();
    assert!(said(&iron, "no_tool").contains("grey iron and aluminium"), "{:?}", iron.plan.findings);
}

#[test]
fn an_arc_that_leaves_the_travel_is_a_hold_though_its_ends_do_not() {
    let mill = "mill: [flange]\ntools:\n  - name: end mill\n    kind: milling\n    diameter: 32.0\n    reach: 60.0\n    cuts:\n      \
                aluminium: { speed: 280, feed: 0.3, depth: 2.0 }\n";
    // The path has a radius of 40: the bores stand on Y 0, and Y travels 70 in all.
    let machine = vec![("tools:\n", mill), ("y: [-220, 220]", "y: [-35, 35]")];
    let planning = Bench { machine, ..true_bores() }.plan();
    let beyond = planning.plan.findings.iter().any(|f| f.code == "travel" && f.text.contains("80.1 mm"));
    assert!(beyond, "{:?}", planning.plan.findings);
    assert_eq!(planning.plan.verdict, Verdict::Hold);
}

#[test]
fn an_allowance_too_thin_to_cut_is_told() {
    let planning = with_job(&true_bores(), "limits:", "allowances: { pocket: 0.02 }\nlimits:");
    assert!(said(&planning, "allowance").contains("the edge would rub"), "{:?}", planning.plan.findings);
}
