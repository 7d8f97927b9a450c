//! Plain dry sleeves on a step of the parent: the everyday repair of an iron block, with its sums.

use std::path::PathBuf;
use std::process::Command;

use borewright_planner::plan::{Pass, Stage, Verdict};
use borewright_planner::{Planning, load, plan_job};

use crate::bench::{Bench, chosen, edit, near};
use crate::spoil::goes;

/// The Kittiwake in grey iron, bored to 96 in its own metal, walls of 7 all round it, with the shipped plain sleeve.
struct Iron {
    dir: tempfile::TempDir,
}

const BOLTS: &str = "head_bolts: { per_bank: 16, preload: 12000, gas_pressure: 8 }\n";

impl Iron {
    fn new(more: &str) -> Self {
        let mut bench = Bench {
            block: vec![
                ("  material: aluminium", "  material: grey iron".into()),
                ("  liner: { bore: 96.0, outside: 101.0, length: 138.0, material: grey iron }\n", String::new()),
            ],
            block_more: "fire_ring: { inside: 98.0, outside: 102.0 }\n".into(),
            machine: vec![("      ductile iron:", "      grey iron: { speed: 90, feed: 0.10, depth: 0.3 }\n      ductile iron:")],
            limits: "position: 0.8, clean_up: 0.05, flange_gap: 0.0, fire_ring_cover: 0.5, ring_on_flange: 1.0, protrusion_spread: 0.01".into(),
            job_more: more.into(),
            ..Bench::default()
        }
        .block_of([[0.0, 0.0]; 8]);
        for cylinder in 1..=8 {
            for clock in [0.0, 90.0, 180.0, 270.0] {
                bench = bench.wall(cylinder, 60.0, clock, 7.0 + clock / 9000.0);
            }
        }
        let dir = bench.write();
        let shipped = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("blocks/sleeves/p100.yaml");
        std::fs::copy(shipped, dir.path().join("s0.yaml")).unwrap();
        Self { dir }.edit("job.yaml", "bore: 99.0", "bore: 96.0")
    }

    fn edit(self, file: &str, from: &str, to: &str) -> Self {
        edit(self.dir.path(), file, from, to);
        self
    }

    fn plan(&self) -> Planning {
        plan_job(load(self.dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
    }
}

#[track_caller]
fn ends(planning: &Planning, verdict: Verdict, code: &str) {
    let codes: Vec<&str> =
        planning.plan.findings.iter().filter(|f| f.verdict != Verdict::Go).map(|f| f.code).collect();
    assert_eq!(codes, [code], "{:?}", planning.plan.findings);
    assert_eq!(planning.plan.verdict, verdict);
    assert!(planning.lists.is_empty());
}

#[test]
fn the_pocket_runs_from_the_deck_to_the_step_that_is_left() {
    let planning = Iron::new(BOLTS).plan();
    goes(&planning);
    let own: Vec<&Pass> = planning.plan.passes.iter().filter(|p| p.cylinder == 1).collect();
    assert!(own.iter().all(|p| p.feature != "flange"));
    // The step's bore of 97 is wider than the old 96: through, and 2 mm past the bore's 140.
    let first = own[0];
    assert_eq!((first.stage, first.feature.as_str()), (Stage::Rough, "step"));
    near(first.diameter, 97.0, 1e-9);
    near(first.to, 142.0, 1e-9);
    // Roughed to 100.00 less 0.2 a side, and 0.2 above the step; then to size, and onto the step.
    let rough = own.iter().rfind(|p| p.stage == Stage::Rough).unwrap();
    near(rough.diameter, 99.6, 1e-9);
    near(rough.to, 134.8, 1e-9);
    let pocket: Vec<&&Pass> = own.iter().filter(|p| p.stage == Stage::Pocket).collect();
    assert_eq!(pocket.len(), 1);
    near(pocket[0].diameter, 100.0, 1e-9);
    assert_eq!((pocket[0].from, pocket[0].to, pocket[0].flat_end), (0.0, 135.0, true));
    assert!(
        pocket[0].stop.as_ref().unwrap().whole().contains("step 135.000 mm deep at 4 points"),
        "{:?}",
        pocket[0].stop
    );
    // Its last 0.2 mm are fed slowly, its last 0.005 over two turns.
    let list = planning.lists.iter().find(|l| l.stage == Stage::Pocket && l.bank == "left").unwrap();
    let slow = list.moves.iter().find(|m| m.note.to_string().starts_with("ledge at depth 135.000")).unwrap();
    near(slow.z_mm.unwrap(), -135.0, 1e-9);
    // In, then cut flush.
    let stages: Vec<(Stage, &str)> =
        planning.plan.passes.iter().map(|p| (p.stage, p.feature.as_str())).collect();
    let at = |what: (Stage, &str)| stages.iter().position(|s| *s == what).unwrap();
    assert!(at((Stage::Fit, "sleeve")) < at((Stage::Deck, "sleeves flush")));
    assert!(at((Stage::Deck, "sleeves flush")) < at((Stage::Finish, "finish bore")));
    // Every sleeve of the block is in before the first is cut, and each is looked at.
    let steps = |feature: &str| -> Vec<u32> {
        planning.plan.passes.iter().filter(|p| p.feature == feature).map(|p| p.step).collect()
    };
    assert!(steps("sleeve").iter().max() < steps("sleeves flush").iter().min());
    let mut looked: Vec<u32> = planning
        .plan
        .checks
        .iter()
        .filter(|c| c.feature == "sleeves flush")
        .flat_map(|c| c.cylinders.iter().filter_map(|at| at.cylinder))
        .collect();
    looked.sort_unstable();
    assert_eq!(looked, [1, 2, 3, 4, 5, 6, 7, 8]);
    let fit = planning.plan.passes.iter().find(|p| p.feature == "sleeve").unwrap();
    assert!(
        fit.stop.as_ref().unwrap().whole().contains("+0.30 mm against the deck at 4 points"),
        "{:?}",
        fit.stop
    );
}

#[test]
fn a_step_high_up_in_the_bore_leaves_the_old_one_below_it() {
    // Of 140 of bore 135 are sleeved.
    let told = |long: &str| {
        let iron = Iron::new(BOLTS).edit("s0.yaml", "length: 135.0", &format!("length: {long}"));
        let iron = iron.edit("s0.yaml", "to: 135.0", &format!("to: {long}"));
        iron.plan().plan.findings.iter().any(|f| f.code == "sleeve_short")
    };
    assert!(told("109.9") && told("75.0") && !told("110.1"));
}

#[test]
fn what_is_said_of_flanges_does_not_apply() {
    let planning = Iron::new(BOLTS).plan();
    let fit = &chosen(&planning).fit;
    assert!(fit.protrusion.is_none() && fit.fire_ring.is_empty() && fit.flats.is_empty());
    assert!(fit.sleeve_limits.is_empty(), "{:?}", fit.sleeve_limits);
    let limits: Vec<&str> = planning.plan.cylinders[0].limits.iter().map(|l| l.limit).collect();
    assert!(limits.contains(&"clean_up") && limits.contains(&"position"), "{limits:?}");
    assert!(!limits.contains(&"flange_gap") && !limits.contains(&"fire_ring_cover"), "{limits:?}");
    // Clean up from the deck down: 50.000 - 48.000 - 0.05.
    let clean = planning.plan.cylinders[0].limits.iter().find(|l| l.limit == "clean_up").unwrap();
    near(clean.margin, 1.95, 1e-6);
    assert!(fit.notes.iter().any(|n| n.contains("runs under the fire ring")), "{:?}", fit.notes);
}

#[test]
fn friction_at_the_least_interference_is_held_against_gas_and_heat() {
    // 0.06 less 0.010 of tolerances; a 48, b 50, c 55: p = 0.05 x 970 / (5525/525 + 4804/196) = 1.3844 MPa, both iron.
    // F = 0.10 x 1.3844 x pi x 100 x 135 = 5871 N, cold and at 100 °C: both parts grow alike.
    // Gas on 96 to 98: 8 x pi/4 x 388 = 2438 N. Nothing pulls, for nothing grows apart.
    let planning = Iron::new(BOLTS).plan();
    let held = chosen(&planning).fit.holding.unwrap();
    near(held.cold.unwrap(), 5871.3, 1.0);
    near(held.at_work.unwrap(), 5871.3, 1.0);
    near(held.gas_load.unwrap(), 2437.9, 0.5);
    near(held.thermal_pull, 0.0, 1e-6);
    near(held.left.unwrap(), 3433.4, 1.5);
    // 19 MPa press with 5790 N, 19.5 with 5942.
    let gas =
        |mpa: &str| Iron::new(&BOLTS.replace("gas_pressure: 8", &format!("gas_pressure: {mpa}"))).plan();
    goes(&gas("19"));
    ends(&gas("19.5"), Verdict::Hold, "sleeve_holding");
    // A sleeve 10 degrees hotter: 10.62e-6 x 90 - 10.5e-6 x 80 = 115.8e-6 more. The fit gains 0.0116 and holds 7231 N; kept
    // as long as the block it would pull with 97000 x pi/4 (100.06² - 96²) x 115.8e-6 = 7022 N.
    let hotter = Iron::new(&format!("{BOLTS}running: {{ block: 100, sleeve: 110 }}\n")).plan();
    let held = chosen(&hotter).fit.holding.unwrap();
    near(held.at_work.unwrap(), 7231.0, 3.0);
    near(held.thermal_pull, 7022.0, 3.0);
    ends(&hotter, Verdict::Hold, "sleeve_holding");
    // Stated friction counts: 0.15 holds half as much again, 8807 N at 100 °C, against 24.0 MPa with 7314 N.
    let rough = Iron::new(&BOLTS.replace("gas_pressure: 8", "gas_pressure: 24"));
    goes(&rough.edit("s0.yaml", "friction: 0.10", "friction: 0.15").plan());
}

#[test]
fn the_step_bears_what_of_the_clamp_stands_on_the_sleeve_and_the_gas() {
    // pi (50² - 48.5²) = 464.2 mm². Of a ring of 98 to 102 the share inside 100.06 is 408.0 / 800 = 0.51.
    // (4 x 12 kN x 0.51 + 2.438 kN) / 464.2 = 58.0 MPa.
    let seat = chosen(&Iron::new(BOLTS).plan()).fit.seat.clone();
    near(seat.area, 464.17, 0.05);
    near(seat.width, 1.5, 1e-9);
    near(seat.load.unwrap(), 24_480.2, 0.5);
    near(seat.pressure.unwrap(), 57.99, 0.02);
    assert_eq!(seat.pressure_at_peak, None, "gas presses it down");
    // Grey iron bears 130 MPa (from memory): 4 x 28.3 kN x 0.51 give 129.6, 28.45 kN 130.3.
    let bolts = |preload: &str| Iron::new(&BOLTS.replace("12000", preload)).plan();
    goes(&bolts("28300"));
    ends(&bolts("28450"), Verdict::Hold, "seat_yield");
}

#[test]
fn a_step_that_is_not_there_or_in_the_way_stops() {
    // 140 less 135 leave 5: at least 5.0, and at least 5.1.
    goes(&Iron::new(BOLTS).edit("s0.yaml", "height: 4.0", "height: 5.0").plan());
    ends(
        &Iron::new(BOLTS).edit("s0.yaml", "height: 4.0", "height: 5.1").plan(),
        Verdict::Stop,
        "step_height",
    );
    // In the finished bore of 96.
    goes(&Iron::new(BOLTS).edit("s0.yaml", "inside: 97.0", "inside: 96.0").plan());
    ends(
        &Iron::new(BOLTS).edit("s0.yaml", "inside: 97.0", "inside: 95.9").plan(),
        Verdict::Stop,
        "step_inside",
    );
}

#[test]
fn every_list_of_a_plain_sleeve_proves_and_its_sheets_are_written() {
    let iron = Iron::new(BOLTS);
    let out = iron.dir.path().join("out");
    let run = Command::new(env!("CARGO_BIN_EXE_borewright"))
        .arg("plan")
        .arg(iron.dir.path())
        .arg("--out")
        .arg(&out)
        .output()
        .unwrap();
    let said = String::from_utf8_lossy(&run.stderr);
    assert_eq!(run.status.code(), Some(0), "{said}");
    let lists = std::fs::read_dir(out.join("lists")).unwrap().count();
    // Rough, pocket and finish of two banks, each as words and as a table.
    assert_eq!(lists, 12);
    assert!(out.join("sheets/figures.pdf").exists());
}
