//! Form of bores, the torque plate and the fixture. Sums: worked by hand, common practice.

use borewright_planner::load;
use borewright_planner::plan::Verdict;
use borewright_planner::report::{SurveyReport, report};

use crate::bench::{Bench, limit, near, with_file};

fn survey(dir: &tempfile::TempDir) -> SurveyReport {
    report(&load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap()
}

/// Radius at a clock: 48 with an oval and three lobes.
fn lobed(clock: f64) -> f64 {
    48.0 + 0.010 * (2.0 * (clock - 30.0).to_radians()).cos()
        + 0.004 * (3.0 * (clock - 50.0).to_radians()).cos()
}

#[test]
fn circles_by_every_definition_and_their_lobes_come_from_raw_points() {
    let mut rows = String::from("cylinder,depth,x,y\n");
    for depth in [20.0, 70.0, 125.0] {
        for step in 0..24_u8 {
            let clock = 15.0 * f64::from(step);
            // A barrel of 0.012 on diameter at mid-depth, and a taper of 0.010 over the depths read.
            let along = (depth - 20.0) / 105.0;
            let grow = (0.010 * along + 0.012 * 4.0 * along * (1.0 - along)) / 2.0;
            let r = lobed(clock) + grow;
            let (sin, cos) = clock.to_radians().sin_cos();
            rows.push_str(&format!("1,{depth},{:.6},{:.6}\n", 60.1 + r * cos, 0.2 + r * sin));
        }
    }
    let bench = Bench::default().bore(3, [0.0, 0.0]);
    let dir = with_file(
        &bench,
        "points.csv",
        &rows,
        "    bores: bores-left.csv\n",
        "    bores: bores-left.csv\n    points: points.csv\n",
    );
    let report = survey(&dir);
    let bore = report.bores.iter().find(|b| b.cylinder == 1).unwrap();
    let circle = &bore.circles[0];
    near(circle.lsc.x, 60.1, 1e-4);
    near(circle.lsc.y, 0.2, 1e-4);
    let roundness = |c: Option<borewright_planner::survey::Circle>| c.unwrap().roundness.unwrap();
    // The minimum zone is the least of all; the four agree on what is nearly round to some micrometres.
    assert!(roundness(circle.mzc) <= circle.lsc.roundness.unwrap() + 1e-9);
    assert!(roundness(circle.mzc) <= roundness(circle.mcc).min(roundness(circle.mic)) + 1e-9);
    assert!(
        circle.mcc.unwrap().diameter > circle.lsc.diameter
            && circle.mic.unwrap().diameter < circle.lsc.diameter
    );
    let lobe = |order: u8| circle.harmonics.iter().find(|h| h.order == order).unwrap();
    near(lobe(2).amplitude, 0.010, 1e-5);
    near(lobe(2).clock, 30.0, 0.1);
    near(lobe(3).amplitude, 0.004, 1e-5);
    near(lobe(3).clock, 50.0, 0.1);
    // Depths 20, 70, 125 are not even: the parabola through three depths is exact.
    near(bore.taper.unwrap().mm, 0.010, 2e-3);
    assert!(bore.barrel.unwrap().mm > 0.008);
    assert!(bore.cylindricity.unwrap() >= circle.lsc.roundness.unwrap() - 1e-4);
    // A bore read by its centres has one definition only.
    let typed = report.bores.iter().find(|b| b.cylinder == 3).unwrap();
    assert!(
        typed.circles[0].mzc.is_none() && typed.circles[0].lsc.roundness.is_none() && typed.barrel.is_none()
    );
}

fn plate(amplitude: f64) -> SurveyReport {
    let mut rows = String::from("cylinder,depth,clock,radius,plate\n");
    for step in 0..16_u8 {
        let clock = 22.5 * f64::from(step);
        let off = lobed(clock) - 48.0;
        // Four studs draw the bore in at 45, 135, ...; size 0.003 smaller, and the gauge sat 0.02 to one side.
        let on = off - amplitude * (4.0 * (clock - 45.0).to_radians()).cos() - 0.003
            + 0.02 * clock.to_radians().cos();
        rows.push_str(&format!("1,20,{clock},{off:.6},off\n1,20,{clock},{on:.6},on\n"));
    }
    let mut bench = Bench::default().bore(1, [0.0, 0.0]).bore(3, [0.0, 0.0]);
    bench.block_more = "studs:\n  - { bank: left, x: 115.0, y: 55.0, diameter: 12.0, from: 0.0, to: 90.0 }\n  - { bank: left, x: 5.0, y: 55.0, diameter: 12.0, from: 0.0, to: 90.0 }\n".into();
    let dir = with_file(
        &bench,
        "shape.csv",
        &rows,
        "    bores: bores-left.csv\n",
        "    bores: bores-left.csv\n    shape: shape.csv\n",
    );
    survey(&dir)
}

#[test]
fn the_plates_own_distortion_is_told_from_size_place_and_the_shape_that_was_there() {
    let report = plate(0.008);
    let bore = &report.torque_plate.as_ref().unwrap().bores[0];
    near(bore.distortion, 0.016, 1e-6);
    near(bore.size, -0.003, 1e-6);
    let four = bore.harmonics.iter().find(|h| h.order == 4).unwrap();
    near(four.amplitude, 0.008, 1e-6);
    assert!(bore.harmonics.iter().filter(|h| h.order != 4).all(|h| h.amplitude < 1e-6), "{bore:?}");
    assert!(bore.text.contains("rigid") && bore.text.contains("4 lobes"), "{}", bore.text);
    // Drawn in at 45, 135, 225 or 315; a stud stands at 45 and at 135.
    if bore.inward_at < 180.0 {
        near(bore.follows.unwrap(), bore.inward_at, 1e-6);
    }
    assert_eq!(report.verdict(), Verdict::Go);
}

/// The Kittiwake's first bore with four studs at 45, 135, 225 and 315, its four lobes drawn in at a clock.
fn with_studs(drawn_in_at: f64) -> borewright_planner::survey::PlateShape {
    let mut rows = String::from("cylinder,depth,clock,radius,plate\n");
    for step in 0..24_u8 {
        let clock = 15.0 * f64::from(step);
        let on = 48.0 - 0.008 * (4.0 * (clock - drawn_in_at).to_radians()).cos();
        rows.push_str(&format!("1,20,{clock},48.0,off\n1,20,{clock},{on:.6},on\n"));
    }
    let mut bench = Bench::default().bore(1, [0.0, 0.0]).bore(3, [0.0, 0.0]);
    bench.block_more = String::from("studs:\n");
    for (x, y) in [(115.0, 55.0), (5.0, 55.0), (5.0, -55.0), (115.0, -55.0)] {
        let stud = format!("  - {{ bank: left, x: {x}, y: {y}, diameter: 12.0, from: 0.0, to: 90.0 }}\n");
        bench.block_more.push_str(&stud);
    }
    let bores = "    bores: bores-left.csv\n";
    let dir = with_file(&bench, "shape.csv", &rows, bores, &format!("{bores}    shape: shape.csv\n"));
    survey(&dir).torque_plate.unwrap().bores.remove(0)
}

#[test]
fn lobes_are_told_to_follow_the_studs_to_stand_between_them_or_to_do_neither() {
    let four =
        |bore: &borewright_planner::survey::PlateShape| *bore.phases.iter().find(|p| p.order == 4).unwrap();
    let at = with_studs(45.0);
    assert_eq!(four(&at).stands, "at");
    near(four(&at).off, 0.0, 0.1);
    near(four(&at).pattern, 1.0, 1e-9);
    assert!(at.studs.len() == 4 && at.studs.iter().all(|s| (s.inward - 0.008).abs() < 1e-5), "{at:?}");
    assert!(
        at.text.contains("it follows the studs") && at.text.contains("45 (-0.008), 135 (-0.008)"),
        "{}",
        at.text
    );
    let between = with_studs(0.0);
    assert_eq!(four(&between).stands, "between");
    assert!(between.text.contains("between the studs"), "{}", between.text);
    // A quarter of the pitch of 90 degrees off.
    let neither = with_studs(67.5);
    assert_eq!(four(&neither).stands, "neither");
    near(four(&neither).off, 22.5, 0.1);
    assert!(neither.text.contains("follow none of them"), "{}", neither.text);
}

#[test]
fn a_plate_that_pulls_the_bore_more_than_the_ordinary_is_a_hold() {
    let report = plate(0.03);
    assert_eq!(report.verdict(), Verdict::Hold);
    let finding = report.findings.iter().find(|f| f.code == "torque_plate").unwrap();
    assert!(finding.text.contains("look at fasteners"), "{finding:?}");
}

/// Mandrel in two end mains (two vees) and the rail: x from the thrust face.
const FIXTURE: &str = "fixture:\n  held_by: mandrel in the mains, rail on the plate\n  feeds_limits: FEEDS\n  locators:\n    - { name: mandrel front across, at: [0, 0, 0], normal: [0, 1, 0], u: 0.003 }\n    - { name: mandrel rear across, at: [470, 0, 0], normal: [0, 1, 0], u: 0.003 }\n    - { name: mandrel front up, at: [0, 0, 0], normal: [0, 0, 1], u: 0.003 }\n    - { name: mandrel rear up, at: [470, 0, 0], normal: [0, 0, 1], u: 0.003 }\n    - { name: thrust face, at: [0, 0, 0], normal: [1, 0, 0], u: 0.005 }\n    - { name: rail, at: [235, 100, -60], normal: [0, 0, 1], u: 0.010 }\nreadings:";

#[test]
fn a_fixtures_budget_names_its_largest_share_and_feeds_the_limits_when_asked() {
    let mut bench = Bench::default().block_of([[0.0, 0.0]; 8]);
    bench.limits = "position: 0.8, clean_up: 0.05".into();
    let job =
        |feeds: &str| with_file(&bench, "unused.txt", "", "readings:", &FIXTURE.replace("FEEDS", feeds));
    let report = survey(&job("false"));
    let budget = report.fixture.unwrap();
    let worst = budget.bores.iter().find(|b| b.cylinder == 1).unwrap();
    // Roll by the rail: 0.010 on 100 against a deck 235 off, 0.0235; the vees' own 0.003 adds some.
    assert_eq!(worst.shares[0].locator, "rail");
    near(worst.shares[0].across.abs(), 0.0235, 0.0002);
    assert!((0.0235..0.027).contains(&worst.at_deck[1]), "{:?}", worst.at_deck);
    // Along: the thrust face's 0.005; the mandrel's ends, 0.003 each over 470, pitch and yaw a deck that is
    // 235 cos 45 = 166 above and beside them.
    let turn = 166.2 * 0.003 * 2.0_f64.sqrt() / 470.0;
    near(worst.at_deck[0], 0.005_f64.hypot(turn).hypot(turn), 0.000_1);
    assert!(worst.at_end[1] < worst.at_deck[1], "nearer the axis a roll moves less");
    let u = |feeds: &str| {
        let planning = borewright_planner::plan_job(load(job(feeds).path()).unwrap(), None).unwrap();
        (limit(&planning, 1, "position").u, limit(&planning, 1, "clean_up").u)
    };
    let (without, with) = (u("false"), u("true"));
    near(without.0, 0.000_2 * 2.0_f64.sqrt(), 1e-6);
    near(with.0, without.0.hypot(worst.at_deck[1].max(worst.at_deck[0])), 1e-4);
    near(with.1, without.1, 1e-9);
}

#[test]
fn locators_that_let_the_block_slide_are_refused_with_the_free_motion_named() {
    let bench = Bench::default().block_of([[0.0, 0.0]; 8]);
    // The thrust face pushes sideways: nothing stops the block along its axis.
    let loose = FIXTURE.replace("FEEDS", "false").replace("normal: [1, 0, 0]", "normal: [0, 1, 0]");
    let dir = with_file(&bench, "unused.txt", "", "readings:", &loose);
    let text = load(dir.path()).unwrap_err().to_string();
    assert!(text.contains("fixture.locators") && text.contains("sliding along (1.00, 0.00, 0.00)"), "{text}");
}
