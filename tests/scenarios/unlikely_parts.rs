//! Metals, tools, studs, pistons and sleeves that no careful machinist would let pass.

use borewright_planner::plan::Verdict;
use borewright_planner::{Planning, load, plan_job};

use crate::bench::{Bench, shop, with_file, with_sleeves};
use crate::spoil::{MACHINE, codes, goes};
use crate::unlikely::{holds, sample, scattered, thousandths};

fn with(more: &str) -> Planning {
    Bench { job_more: more.into(), ..shop().block_of([[0.0, 0.0]; 8]) }.plan()
}

#[test]
fn a_metal_with_another_metals_figures_under_its_name_is_held() {
    let metal = |name: &str, elastic: f64, expansion: f64, strength: f64| {
        with(&format!(
            "materials:\n  - {{ name: {name}, elastic: {elastic}, poisson: 0.3, expansion: {expansion}, yield: {strength} }}\n"
        ))
    };
    goes(&metal("aluminium", 75_000.0, 23.0, 240.0));
    // As iron it is cut too fast as well.
    let iron = metal("aluminium", 206_000.0, 11.5, 165.0);
    assert!(crate::spoil::against(&iron).iter().any(|code| code == "material_odd"));
    holds(&metal("ductile iron", 170_000.0, 11.5, 3000.0), "material_odd");
    holds(&metal("grey iron", 9700.0, 10.5, 130.0), "material_odd");
    // 21.4 / 1.4 = 15.3.
    // A speed of light metal is too fast for what expands as little as iron.
    let near = metal("aluminium", 71_000.0, 15.5, 165.0);
    assert!(!crate::spoil::against(&near).iter().any(|code| code == "material_odd"));
    let far = metal("aluminium", 71_000.0, 15.0, 165.0);
    assert!(crate::spoil::against(&far).iter().any(|code| code == "material_odd"));
}

#[test]
fn an_expansion_that_no_metal_of_an_engine_has_is_refused() {
    for expansion in ["2.1", "50"] {
        let metal = format!(
            "materials:\n  - {{ name: aluminium, elastic: 71000, poisson: 0.33, expansion: {expansion}, yield: 165 }}\n"
        );
        let dir = Bench { job_more: metal, ..shop().block_of([[0.0, 0.0]; 8]) }.write();
        let faults = load(dir.path()).unwrap_err().to_string();
        assert!(faults.contains("materials[0].expansion"), "{faults}");
    }
}

#[test]
fn a_finishing_feed_that_cuts_a_thread_is_held() {
    let feed = |feed: &str| {
        let iron = format!("ductile iron: {{ speed: 110, feed: {feed}");
        let light = format!("aluminium: {{ speed: 300, feed: {feed}");
        sample(&[
            (MACHINE, "ductile iron: { speed: 110, feed: 0.10", &iron),
            (MACHINE, "aluminium: { speed: 300, feed: 0.08", &light),
        ])
    };
    // f² / (8 x 0.4) over 0.010: from 0.179 on.
    goes(&feed("0.12"));
    holds(&feed("0.4"), "surface");
    let nose = sample(&[(MACHINE, "nose_radius: 0.4", "nose_radius: 0.01")]);
    assert!(codes(&nose).contains(&"surface"), "{:?}", codes(&nose));
}

#[test]
fn a_spindle_that_turns_no_slower_than_its_tools_stand_is_held() {
    holds(&sample(&[(MACHINE, "rpm: [40, 2500]", "rpm: [2499, 2500]")]), "speed_forced");
    // 110 m/min at 81.9 are 427 turns; 450 are 1.05 times as fast, in the grey iron of the old liners 1.4 times.
    goes(&sample(&[(MACHINE, "rpm: [40, 2500]", "rpm: [400, 2500]")]));
}

#[test]
fn a_finished_bore_that_cannot_be_measured_or_may_be_anything_is_held() {
    let within = |tolerance: &str| {
        let dir = with_file(
            &shop().block_of([[0.0, 0.0]; 8]),
            "note.txt",
            "",
            "finish: { bore: 99.0 }",
            &format!("finish: {{ bore: 99.0, tolerance: {tolerance} }}"),
        );
        plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
    };
    // 1.65 x 0.004 = 0.0066.
    goes(&within("0.007"));
    holds(&within("0.006"), "finish_tolerance");
    goes(&within("0.045"));
    holds(&within("0.05"), "finish_tolerance");
}

#[test]
fn a_sleeve_off_its_drawing_is_held_and_too_few_are_told() {
    let table = |sleeves: usize, third: f64| {
        let rows: String = (1..=sleeves)
            .map(|i| {
                // No two sleeves measure alike to the last digit.
                let [own, flange] = if i % 2 == 0 { [105.031, 6.001] } else { [105.03, 6.0] };
                format!("{i},thickness,{flange}\n{i},barrel,{}\n", if i == 3 { third } else { own })
            })
            .collect();
        with_sleeves(&rows)
    };
    // Drawn 105.03 within 0.004, and 0.03 tight: half of that beyond is let be.
    goes(&table(8, 105.048));
    holds(&table(8, 105.06), "sleeve_off");
    let few = table(7, 105.03);
    goes(&few);
    assert!(few.plan.findings.iter().any(|f| f.code == "sleeves_few"), "{:?}", few.plan.findings);
    assert!(!table(8, 105.03).plan.findings.iter().any(|f| f.code == "sleeves_few"));
}

/// A stud hole on either side of each gap of a bank, so far across.
fn studs(bank: &str, y: f64) -> String {
    let xs =
        if bank == "left" { [5.0, 115.0, 225.0, 335.0, 445.0] } else { [29.0, 139.0, 249.0, 359.0, 469.0] };
    let both = |x: f64| {
        [y, -y]
            .map(|y| format!("  - {{ bank: {bank}, x: {x}, y: {y}, diameter: 11.0, from: 0.0, to: 80.0 }}\n"))
            .concat()
    };
    xs.map(both).concat()
}

fn with_studs(studs: &str) -> Planning {
    let limits = "position: 0.8, clean_up: 0.05, stud_wall: 1.0".into();
    Bench { limits, block_more: format!("studs:\n{studs}"), ..shop().block_of([[0.0, 0.0]; 8]) }.plan()
}

#[test]
fn studs_of_one_bank_only_count_as_not_described_for_the_other() {
    goes(&with_studs(&(studs("left", 62.0) + &studs("right", 62.0))));
    let planning = with_studs(&studs("left", 62.0));
    holds(&planning, "studs_not_described");
    let of = |n: u32| planning.plan.cylinders.iter().find(|c| c.cylinder == n).unwrap().verdict;
    assert_eq!([of(1), of(2)], [Verdict::Go, Verdict::Hold]);
}

#[test]
fn a_stud_farther_than_a_spacing_from_every_bore_is_held() {
    // 55 along and 95 or 96 across: 109.8 and 110.6, bores 110 apart.
    goes(&with_studs(&(studs("left", 95.0) + &studs("right", 95.0))));
    holds(&with_studs(&(studs("left", 96.0) + &studs("right", 96.0))), "stud_far");
}

#[test]
fn a_deck_cut_by_more_than_half_a_millimetre_is_held() {
    goes(&with("deck: { cut: 0.5 }\n"));
    holds(&with("deck: { cut: 0.6 }\n"), "deck_cut");
}

#[test]
fn a_recess_a_quarter_millimetre_wider_than_its_flange_is_held() {
    let loose = |clearance: &'static str| {
        Bench { sleeve: vec![("clearance: 0.05", clearance)], ..shop().block_of([[0.0, 0.0]; 8]) }.plan()
    };
    goes(&loose("clearance: 0.2"));
    holds(&loose("clearance: 0.5"), "flange_loose");
    goes(&loose("clearance: 0.02"));
    holds(&loose("clearance: 0.0"), "flange_tight");
}

#[test]
fn a_piston_of_another_engine_is_held() {
    // Deck 235; crown 235 - 150 - 46 - 38.9 = 0.1 below it at the top, 92.1 at the bottom, the mains from 235 - 34 = 201 on.
    let piston = |pin: f64, skirt: f64| {
        with(&format!(
            "piston: {{ stroke: 92, rod: 150, pin_height: {pin}, oil_ring: 20, skirt: {skirt} }}\n"
        ))
    };
    goes(&piston(34.1, 55.0));
    holds(&piston(33.9, 55.0), "crown_low");
    goes(&piston(38.9, 60.0));
    assert!(!codes(&piston(38.9, 108.0)).contains(&"skirt_low"));
    assert!(codes(&piston(38.9, 110.0)).contains(&"skirt_low"));
}

#[test]
fn an_aluminium_block_that_must_get_hotter_than_its_heat_treatment_bears_is_held() {
    let gap = |clearance: &str| {
        with(&format!("going_in: {{ clearance: {clearance}, sleeve: 20, hottest: 300 }}\n"))
    };
    // 105 mm, 0.040 tight at the most: 105 x 22.5e-6 x 150 = 0.354 at 170 °C.
    goes(&gap("0.30"));
    holds(&gap("0.42"), "block_hot");
    // By what it is, whatever it is called.
    let own = |clearance: &str| {
        let metal =
            "materials:\n  - { name: A 356, elastic: 71000, poisson: 0.33, expansion: 21.4, yield: 165 }\n";
        let more = format!("{metal}going_in: {{ clearance: {clearance}, sleeve: 20, hottest: 300 }}\n");
        Bench {
            job_more: more,
            block: vec![("material: aluminium", "material: A 356".to_owned())],
            ..shop().block_of([[0.0, 0.0]; 8])
        }
        .plan()
    };
    assert!(codes(&own("0.43")).contains(&"block_hot"));
}

#[test]
fn a_bore_that_the_torque_plate_pulls_far_out_of_round_is_held_in_the_plan_too() {
    let plate = |pulled: f64| {
        let mut rows = "cylinder,depth,clock,radius,plate\n".to_owned();
        for clock in (0..360_u32).step_by(15) {
            let wave = pulled * (4.0 * f64::from(clock).to_radians()).cos();
            rows.push_str(&format!("3,60,{clock},48.0,off\n3,60,{clock},{:.5},on\n", 48.0 + wave));
        }
        let dir = with_file(
            &shop().block_of([[0.0, 0.0]; 8]),
            "shape.csv",
            &rows,
            "bores: bores-left.csv",
            "bores: bores-left.csv\n    shape: shape.csv",
        );
        plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
    };
    // Peak to valley 0.04 is ordinary, 0.06 is the lead's to decide.
    goes(&plate(0.02));
    let planning = plate(0.03);
    holds(&planning, "torque_plate");
    let of = |n: u32| planning.plan.cylinders.iter().find(|c| c.cylinder == n).unwrap().verdict;
    assert_eq!([of(1), of(3)], [Verdict::Go, Verdict::Hold]);
}

#[test]
fn instruments_said_to_be_ten_times_better_than_they_read_are_held() {
    let own = |n, d| [thousandths(n, d, 0), thousandths(n, d, 1)];
    let centre = |u: &str| {
        let bench = scattered(own);
        Bench { instruments: bench.instruments.replace("centre: 0.003", &format!("centre: {u}")), ..bench }
    };
    goes(&centre("0.003").plan());
    // In inches: 0.003 / 25.4.
    assert!(codes(&centre("0.000118").plan()).contains(&"instruments_odd"));
}
