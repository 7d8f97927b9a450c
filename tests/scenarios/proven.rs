//! Go only where it is proven: what the survey measured counts, and what nobody measured holds.

use borewright_planner::plan::Verdict;
use borewright_planner::{load, plan_job};

use crate::bench::{Bench, cylinder, limit, near, off_true, shop, with_file};

const TRUE: [[f64; 2]; 8] = [[0.0, 0.0]; 8];

fn zone(position: &str, off: [f64; 2]) -> Bench {
    // Aiming at the bore that is there lets a centre be put anywhere.
    let mut bench = shop().block_of([off; 8]);
    bench.limits = format!("position: {position}, clean_up: 0.05");
    bench
}

#[test]
fn a_centre_a_hair_off_true_is_judged_as_one_on_it() {
    // R = 0.0148 about the true position, sigma = √(0.004² + 0.004²) = 0.00566 on both axes: in the very middle
    // 1 - exp(-0.0148²/(2·0.00566²)) = 0.9673; along one line alone 0.0148/0.00566 would be 2.6 u.
    let planning = zone("0.0296", [0.0, 0.0]).plan();
    let row = limit(&planning, 1, "position");
    near(row.p, 1.0 - (-0.0148_f64.powi(2) / (2.0 * 2.0 * 0.004_f64.powi(2))).exp(), 1e-6);
    assert_eq!(row.verdict, Verdict::Go);
    // 2.3 u along any line, but 1 - exp(-2.3²/2) = 0.929: not proven.
    let planning = zone("0.0260", [0.0, 0.0]).plan();
    let row = limit(&planning, 1, "position");
    assert!(row.margin > 1.65 * row.u, "{row:?}");
    near(row.p, 0.9289, 0.001);
    assert_eq!((row.verdict, cylinder(&planning, 1).verdict), (Verdict::Hold, Verdict::Hold));
}

#[test]
fn two_parallel_zones_are_judged_each_along_its_own_line() {
    let planning = zone("{ across: 0.0200, along: 0.15 }", [0.3, 0.2]).plan();
    let rows: Vec<_> = cylinder(&planning, 1).limits.iter().filter(|l| l.limit == "position").collect();
    // Across: two-sided 0.010 / 0.00566 = 1.77 u: 2 Phi(1.768) - 1 = 0.923, under the 0.9505 that go asks.
    let across = rows.iter().find(|r| r.feature.contains("across")).unwrap();
    near(across.p, 0.9229, 0.0005);
    assert_eq!(across.verdict, Verdict::Hold);
    assert_eq!(zone("{ across: 0.0230, along: 0.15 }", [0.3, 0.2]).plan().plan.verdict, Verdict::Go);
}

#[test]
fn a_band_worn_wider_than_the_pocket_in_mid_bore_is_no_go() {
    let parent = |wear: f64| {
        let mut bench = shop().block_of(TRUE);
        bench.block = vec![(
            "  liner: { bore: 96.0, outside: 101.0, length: 138.0, material: grey iron }\n",
            String::new(),
        )];
        bench = bench.circle(3, 60.0, [0.0, 0.0], 96.0 + wear);
        bench.limits = "clean_up: 0.05".into();
        bench.plan()
    };
    // Pocket 105.00: half of 105.00 - 104.80 is 0.10, under which 0.05 stand.
    near(limit(&parent(8.8), 3, "clean_up").margin, 0.05, 1e-6);
    let worn = parent(9.2);
    near(limit(&worn, 3, "clean_up").margin, -0.15, 1e-6);
    assert_eq!(cylinder(&worn, 3).verdict, Verdict::Stop);
    assert_ne!(cylinder(&parent(8.95), 3).verdict, Verdict::Go);
}

#[test]
fn an_oval_counts_by_its_farthest_metal() {
    // A parent hole of radius 48 with lobes of ±0.25, as points: the pocket of 52.5 leaves 52.5 - 48.25 - 0.05.
    let mut bench = shop().block_of(TRUE);
    bench.limits = "clean_up: 0.05".into();
    let mut points = String::from("cylinder,depth,x,y,surface\n");
    for depth in [20.0, 70.0, 125.0] {
        for i in 0..16 {
            let t = std::f64::consts::TAU * f64::from(i) / 16.0;
            let r = 51.0 + 0.25 * (2.0 * t).cos();
            points.push_str(&format!("3,{depth},{:.6},{:.6},parent\n", 170.0 + r * t.cos(), r * t.sin()));
        }
    }
    let to = "bores: bores-left.csv\n    points: points.csv";
    let dir = with_file(&bench, "points.csv", &points, "bores: bores-left.csv", to);
    let planning = plan_job(load(dir.path()).unwrap(), None).unwrap();
    near(limit(&planning, 3, "clean_up").margin, 52.5 - 51.25 - 0.05, 2e-3);
}

#[test]
fn points_over_half_a_circle_hold() {
    let bench = shop().block_of(TRUE);
    let mut points = String::from("cylinder,depth,x,y,surface\n");
    for depth in [20.0, 125.0] {
        for i in 0..9 {
            let t = std::f64::consts::PI * f64::from(i) / 8.0;
            points.push_str(&format!(
                "3,{depth},{:.6},{:.6},parent\n",
                170.0 + 50.5 * t.cos(),
                50.5 * t.sin()
            ));
        }
    }
    let to = "bores: bores-left.csv\n    points: points.csv";
    let dir = with_file(&bench, "points.csv", &points, "bores: bores-left.csv", to);
    let planning = plan_job(load(dir.path()).unwrap(), None).unwrap();
    assert_eq!(cylinder(&planning, 3).verdict, Verdict::Hold);
    let found = planning.plan.findings.iter().find(|f| f.code == "arc_not_read").unwrap();
    assert!(found.text.contains("180 degrees"), "{}", found.text);
}

/// Walls of cylinder 3 at some clocks and depths, thick ones all round the rest.
fn walls(rows: &[(f64, f64)]) -> Bench {
    let mut bench = shop().block_of(TRUE);
    for n in [1, 2, 4, 5, 6, 7, 8] {
        for clock in [0.0, 90.0, 180.0, 270.0] {
            bench = bench.wall(n, 60.0, clock, 8.0 + clock / 9000.0);
        }
    }
    for (clock, depth) in rows {
        bench = bench.wall(3, *depth, *clock, 8.0 + clock / 9000.0);
    }
    bench.walls_all_round = false;
    bench.limits = "clean_up: 0.05, parent_wall: 2.0".into();
    bench
}

#[test]
fn walls_that_nobody_read_are_a_hold_and_the_plan_says_which_to_read() {
    let held = |rows: &[(f64, f64)]| {
        let planning = walls(rows).plan();
        let found = planning.plan.findings.iter().find(|f| f.code == "wall_not_read").cloned();
        assert_eq!(found.is_some(), cylinder(&planning, 3).verdict == Verdict::Hold, "{rows:?}");
        assert!(planning.plan.cylinders.iter().all(|c| c.cylinder == 3 || c.verdict == Verdict::Go));
        found.map(|f| f.text)
    };
    assert!(held(&[]).unwrap().contains("no wall was read behind any dry cut"));
    // One side only.
    let text = held(&[(45.0, 60.0), (90.0, 60.0), (135.0, 60.0)]).unwrap();
    assert!(text.contains("270 degrees") && text.contains("from clock 135"), "{text}");
    // Below the pocket nothing is cut.
    assert!(held(&[(0.0, 139.0), (120.0, 139.0), (240.0, 139.0)]).is_some());
    // All depths together leave 120 at most.
    assert_eq!(held(&[(0.0, 30.0), (120.0, 60.0), (240.0, 100.0)]), None);
    assert!(held(&[(0.0, 30.0), (120.0, 60.0), (239.0, 100.0)]).unwrap().contains("121 degrees"));
    // "nr" is no reading.
    let mut nr = walls(&[(0.0, 30.0), (120.0, 60.0)]);
    nr.walls.get_mut("left").unwrap().push("3,60,240,nr".into());
    assert_eq!(cylinder(&nr.plan(), 3).verdict, Verdict::Hold);
}

#[test]
fn taking_all_walls_of_a_bore_away_never_betters_its_verdict() {
    for thin in [1.2, 3.9, 4.05, 4.3, 8.0] {
        let mut with = walls(&[(0.0, 60.0), (120.0, 60.0), (240.0, 60.0)]).wall(3, 70.0, 60.0, thin);
        with.limits = "position: 0.02, clean_up: 0.05, parent_wall: { least: 2.0, prefer: 2.2 }".into();
        let mut without = walls(&[]);
        without.limits.clone_from(&with.limits);
        let (before, after) = (cylinder(&with.plan(), 3).verdict, cylinder(&without.plan(), 3).verdict);
        // A proven stop rests on the reading itself; nothing that was not a stop becomes a go.
        assert!(after >= before || before == Verdict::Stop, "{thin}: {before:?} {after:?}");
        assert_ne!(after, Verdict::Go);
    }
}

#[test]
fn a_block_far_from_the_rooms_temperature_is_told_and_then_held() {
    let at = |block: f64| {
        let mut bench = shop().block_of(TRUE);
        bench.job_more = format!("temperature: {{ block: {block}, machine: 20.0 }}\n");
        bench.plan()
    };
    let said = |planning: &borewright_planner::Planning| {
        planning.plan.findings.iter().find(|f| f.code == "block_temperature").map(|f| f.verdict)
    };
    assert_eq!(said(&at(22.9)), None);
    assert_eq!(said(&at(23.5)), Some(Verdict::Go));
    let held = at(41.0);
    assert_eq!(said(&held), Some(Verdict::Hold));
    assert!(held.lists.is_empty() && held.plan.verdict == Verdict::Hold);
}

#[test]
fn lists_are_multiplied_back_for_the_temperature_at_cutting() {
    let mut bench = shop().block_of(TRUE);
    // Read and cut at 26, the machine at 24: (1 + 11.5e-6·4) / (1 + 21.4e-6·6) on the readings.
    bench.job_more = "temperature: { block: 26.0, machine: 24.0, u: 0.5 }\n".into();
    bench.limits = "clean_up: 0.05".into();
    let planning = bench.plan();
    let factor = (1.0 + 11.5e-6 * 4.0) / (1.0 + 21.4e-6 * 6.0);
    near(cylinder(&planning, 7).measured.x, 390.0 * factor, 1e-6);
    near(off_true(&planning, 7)[0], 0.0, 1e-9);
    assert_eq!(planning.plan.verdict, Verdict::Go, "{:#?}", planning.plan.findings);
    let list = planning.lists.iter().find(|l| l.cylinders.contains(&7)).unwrap();
    // The old bore is found where it was read; the new one is cut where 390.000 at 20 °C stands now.
    let touched = list.touch.iter().find(|t| t.what.contains("cylinder 7")).unwrap();
    near(touched.x_mm.unwrap(), 390.0, 1e-9);
    let (moves, expected) = (format!("{:?}", list.moves), format!("{:.3}", 390.0 / factor));
    assert!(moves.contains(&expected), "{expected}");
    // The u of the difference acts over the length: 390 · 21.4e-6 · 0.5 = 0.0042 beside along and machine.
    bench.limits = "position: 0.8, clean_up: 0.05".into();
    bench = bench.circle(7, 70.0, [0.0, 0.0], 96.0);
    let row = limit(&bench.plan(), 7, "position").u;
    near(row, (0.004_f64.powi(2) * 2.0 + (390.0 * 21.4e-6_f64 * 0.5).powi(2)).sqrt(), 2e-4);
}

#[test]
fn an_axis_carried_beyond_the_depths_read_is_less_sure() {
    let read = |depths: &[f64]| {
        let mut bench = shop();
        for n in 1..=8 {
            for depth in depths {
                bench = bench.circle(n, *depth, [0.0, 0.0], 96.0);
            }
        }
        bench.limits = "clean_up: 0.05".into();
        let planning = bench.plan();
        let row = limit(&planning, 3, "clean_up");
        (row.u, row.depth.unwrap())
    };
    let u = |centre: f64| centre.hypot(0.004);
    // An upright bore has the same margin at both ends; the upper one is told. Two depths, 20 and 40, carried up to it:
    // 0.003 · √(1/2 + (30 - d)²/200).
    let (found, depth) = read(&[20.0, 40.0]);
    near(found, u(0.003 * (0.5 + (30.0 - depth).powi(2) / 200.0).sqrt()), 2e-6);
    // One depth: √(0.003² + (1e-4 · (60 - d))²).
    let (found, depth) = read(&[60.0]);
    near(found, u(0.003_f64.hypot(1e-4 * (60.0 - depth))), 2e-6);
}

#[test]
fn a_limit_on_what_nobody_described_is_a_hold_and_none_near_is_an_answer() {
    let codes = |untold: bool, limit: &str, more: &str| {
        let bench = Bench {
            untold,
            limits: format!("position: 0.8, {limit}"),
            block_more: more.into(),
            ..shop().block_of([[0.1, 0.2]; 8])
        };
        let planning = bench.plan();
        let held = planning.plan.findings.iter().filter(|f| f.verdict == Verdict::Hold).map(|f| f.code);
        held.collect::<std::collections::BTreeSet<_>>().into_iter().collect::<Vec<_>>()
    };
    let ring = "fire_ring: { inside: 100.0, outside: 102.2 }\n";
    assert_eq!(codes(true, "stud_wall: 2.0", ""), ["studs_not_described"]);
    assert_eq!(codes(false, "stud_wall: 2.0", ""), [""; 0]);
    assert_eq!(codes(true, "coolant_hole: 1.0", ""), ["coolant_holes_not_described"]);
    assert_eq!(codes(false, "coolant_hole: 1.0", ""), [""; 0]);
    assert_eq!(codes(true, "fire_ring_cover: 0.5", ""), ["ring_not_described"]);
    assert_eq!(codes(true, "fire_ring_bore: 0.4", ""), ["ring_not_described"]);
    assert_eq!(codes(true, "fire_ring_cover: 0.5", ring), [""; 0]);
}

#[test]
fn a_pocket_that_does_not_clean_up_holds_though_no_limit_asks_for_it() {
    // Pocket 105.00, liner 101.00 outside, 2.000 all round about the old centre: 2.1 off true leaves 0.1 of it uncut.
    let held = |by: f64| {
        let bench = Bench { limits: "position: 0.05".into(), ..shop().block_of([[0.0, by]; 8]) };
        let planning = bench.plan();
        planning.plan.findings.iter().any(|f| f.code == "does_not_clean_up" && f.verdict == Verdict::Hold)
    };
    assert!(held(2.1));
    assert!(!held(1.5));
}
