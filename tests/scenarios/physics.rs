//! What no sleeve may be, whether anyone limits it or not: each on either side of where it holds.

use borewright_planner::plan::sentence::Sentence;
use borewright_planner::plan::{Release, Verdict};
use borewright_planner::{Planning, load, plan_job};

use crate::bench::{Bench, even, near, plan_with};
use crate::spoil::{codes, goes};

/// One rule holds: the verdict of job and cylinders, and no list.
#[track_caller]
fn holds(planning: &Planning, code: &str) {
    assert_eq!(codes(planning), [code], "{:?}", planning.plan.findings);
    assert_eq!(planning.plan.verdict, Verdict::Hold);
    assert!(planning.plan.cylinders.iter().all(|c| c.verdict == Verdict::Hold));
    assert!(planning.lists.is_empty() && planning.plan.passes.is_empty(), "withheld until released");
}

fn with(more: &str) -> Planning {
    Bench { job_more: more.into(), ..even() }.plan()
}

fn sleeve(from: &'static str, to: &'static str) -> Planning {
    Bench { sleeve: vec![(from, to)], ..even() }.plan()
}

#[test]
fn a_ledge_pressed_over_what_its_metal_bears_for_good_holds() {
    // Aluminium at 150 °C bears 100 MPa before it creeps (from memory); the ledge is 998.6 mm², four bolts a cylinder:
    // 4 x 24.9 kN are 99.7 MPa, 4 x 25.05 kN 100.3 MPa. Yield there is 138 MPa.
    let bolts = |preload: u32| {
        with(&format!(
            "head_bolts: {{ per_bank: 16, preload: {preload} }}\nrunning: {{ block: 150, sleeve: 150 }}\n"
        ))
    };
    goes(&bolts(24_900));
    let over = bolts(25_050);
    holds(&over, "seat_yield");
    let said = &over.plan.findings.iter().find(|f| f.code == "seat_yield").unwrap().text;
    assert!(said.contains("bears 100.0 MPa at 150 °C (creep)"), "{said}");
    // By torque it may be a quarter more: T = 0.2 x 22.4 kN x 11 mm = 49.28 N·m; 4 x 22.4 x 1.25 = 112 kN, 112.2 MPa: over
    // at 150 °C, and under the 140 MPa that it bears at 100 °C.
    let torque = "head_bolts: { per_bank: 16, diameter: 11, torque: 49.28 }\n";
    holds(&with(&format!("{torque}running: {{ block: 150, sleeve: 150 }}\n")), "seat_yield");
    goes(&with(torque));
    // Hotter than its table reaches nobody knows what it bears.
    holds(&with(&format!("{torque}running: {{ block: 270, sleeve: 270 }}\n")), "seat_yield");
}

#[test]
fn hoop_stress_over_yield_holds_with_a_wall_and_without_one() {
    // Cold, where it is tightest, a wall of some 5 mm: the block's bore bears p (c² + b²) / (c² - b²).
    let fit = |yield_mpa: f64, walls: bool| {
        let metal = format!(
            "materials:\n  - {{ name: soft cast, elastic: 71000, poisson: 0.33, expansion: 21.4, yield: {yield_mpa} }}\n"
        );
        let bench = if walls { even() } else { Bench::default().block_of([[0.0, 0.0]; 8]) };
        let job_more = format!("{metal}running: {{ block: 60, sleeve: 60 }}\n");
        Bench {
            job_more,
            block: vec![("material: aluminium", "material: soft cast".into())],
            machine: vec![("aluminium:", "soft cast:")],
            sleeve: vec![("interference: 0.03", "interference: 0.10")],
            walls_all_round: walls,
            ..bench
        }
        .plan()
    };
    let planning = fit(165.0, true);
    goes(&planning);
    let register = &planning.plan.sleeves[0].fit.registers[0];
    // As supplied the sleeve is stiffest: 98.4 in 104.93, 0.110 tight at the most.
    let (a, b, c): (f64, f64, f64) = (49.2, 52.465, register.outside.unwrap() / 2.0);
    let outer = ((c * c + b * b) / (c * c - b * b) + 0.33) / 71_000.0;
    let inner = ((b * b + a * a) / (b * b - a * a) - 0.275) / 170_000.0;
    let pressure = 0.110 / (2.0 * b * (outer + inner));
    let hoop = pressure * (c * c + b * b) / (c * c - b * b);
    near(register.hoop_most.unwrap().block, hoop, 0.01);
    goes(&fit(hoop + 0.5, true));
    holds(&fit(hoop - 0.5, true), "hoop_yield");
    // Where no wall was read it may be thin: all of the 0.110 is then taken up by the block, E x 0.110 / 104.93 = 74.43 MPa.
    let told = |yield_mpa: f64| fit(yield_mpa, false).plan.findings.iter().any(|f| f.code == "hoop_yield");
    assert!(!told(74.9) && told(73.9));
}

#[test]
fn a_dry_register_without_interference_at_its_loose_end_holds() {
    // 0.004 of the sleeve and 0.006 of the pocket come off: 0.011 leaves 0.001, 0.010 nothing.
    goes(&sleeve("interference: 0.03", "interference: 0.011"));
    let loose = sleeve("interference: 0.03", "interference: 0.010");
    holds(&loose, "loose_register");
    holds(&sleeve("interference: 0.03", "clearance: 0.02"), "loose_register");
    // Sleeves without a flange take up to 0.10: common practice, no source.
    holds(&sleeve("interference: 0.03", "interference: 0.2"), "tight_register");
    // That the fit opens at work, by (21.4 - 11.5)e-6 x 80 x 105 = 0.083, is told and no hold.
    let told = sleeve("interference: 0.03", "interference: 0.03");
    goes(&told);
    assert!(told.plan.sleeves[0].fit.notes.iter().any(|n| n.contains("may be open")), "{told:?}");
}

#[test]
fn a_wet_sleeves_ringed_register_may_be_loose_while_another_grips() {
    let body = |kind: &str, upper: &str| {
        let rings = "o_rings: [{ depth: 110, groove_diameter: 100.82, groove_width: 3.62, cord: 2.62, inside: 99.8 }]";
        let wet = if kind == "wet" {
            "  - { name: wet, diameter: 104.94, to: 60.0, clearance: 0.22, wet: true }\n"
        } else {
            ""
        };
        format!(
            "  - {{ name: upper, diameter: 105.23, to: 30.0, {upper} }}\n{wet}  - {{ name: lower, diameter: 104.96, to: 138.0, clearance: 0.04, {rings} }}\n"
        )
    };
    let plan = |kind: &str, upper: &str| {
        let bench = Bench {
            job_more: "allowances: { sleeve_wall: 0.5 }\n".into(),
            block: vec![("bore_length:", "jacket: { from: 20.0, to: 80.0 }\n  bore_length:".into())],
            ..even()
        };
        let dir = bench.write();
        let path = dir.path().join("s0.yaml");
        let text = std::fs::read_to_string(&path).unwrap().replace("kind: dry", &format!("kind: {kind}"));
        let head = text.split("  - { name: barrel").next().unwrap().to_owned();
        std::fs::write(&path, head + &body(kind, upper)).unwrap();
        plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), None).unwrap()
    };
    goes(&plan("wet", "interference: 0.02"));
    holds(&plan("wet", "clearance: 0.0"), "loose_register");
    holds(&plan("dry", "interference: 0.02"), "loose_register");
}

#[test]
fn a_sleeve_loose_in_its_only_register_does_not_win_the_choice() {
    // The smaller pocket of 105.00 would win; loose, it ranks behind the larger one that grips.
    let bench = Bench { barrels: vec![105.03, 106.03], ..even() };
    let chosen =
        |planning: &Planning| planning.plan.sleeves.iter().find(|s| s.chosen).unwrap().sleeve.clone();
    assert_eq!(chosen(&bench.plan()), "S0");
    let planning = plan_with(&bench, "s0.yaml", "interference: 0.03", "clearance: 0.0");
    assert_eq!(chosen(&planning), "S1");
    goes(&planning);
    let other = planning.plan.sleeves.iter().find(|s| !s.chosen).unwrap();
    assert_eq!(other.verdict, Verdict::Hold);
    assert!(other.why.contains("no interference") || other.why.contains("a gap"), "{}", other.why);
}

#[test]
fn a_finished_wall_under_a_millimetre_and_a_half_holds_unless_the_shop_says_otherwise() {
    // (102.01 - 0.004 - 99) / 2 = 1.503; of 102.00 it is 1.498.
    let barrel =
        |outside: f64, more: &str| Bench { barrels: vec![outside], job_more: more.into(), ..even() }.plan();
    goes(&barrel(102.01, ""));
    holds(&barrel(102.00, ""), "thin_sleeve");
    goes(&barrel(102.00, "allowances: { sleeve_wall: 1.4 }\n"));
    holds(&barrel(102.01, "allowances: { sleeve_wall: 2.0 }\n"), "thin_sleeve");
}

#[test]
fn an_o_ring_squeezed_stretched_or_filled_too_far_holds() {
    // Cord 2.62 ± 0.09 stretched onto its groove, pocket 105.000 ± 0.006, groove ± 0.02, width ± 0.05; both parts at 100 °C.
    let plan = |groove: f64, width: f64, inside: f64| {
        let rings = format!(
            "interference: 0.03, o_rings: [{{ depth: 110, groove_diameter: {groove}, groove_width: {width}, cord: 2.62, inside: {inside} }}]"
        );
        let bench = Bench { job_more: "allowances: { sleeve_wall: 0.5 }\n".into(), ..even() };
        plan_with(&bench, "s0.yaml", "interference: 0.03", &rings)
    };
    goes(&plan(100.82, 3.62, 99.8));
    // Squeezed at the least 8.1 % and 7.3 %.
    goes(&plan(100.40, 3.62, 99.8));
    holds(&plan(100.36, 3.62, 99.8), "o_ring_squeeze");
    // At the most 34.7 % and 35.1 %.
    goes(&plan(101.44, 3.9, 100.4));
    holds(&plan(101.48, 3.9, 100.4), "o_ring_squeeze");
    // Stretched by (100.82 - 93.4) / 93.4 = 7.94 % and (100.82 - 93.3) / 93.3 = 8.06 %.
    goes(&plan(100.82, 3.62, 93.4));
    holds(&plan(100.82, 3.62, 93.3), "o_ring_stretch");
    // Hot and at the most of its tolerances it fills 94.5 % and 95.5 % of its groove.
    goes(&plan(100.82, 2.97, 99.8));
    holds(&plan(100.82, 2.94, 99.8), "o_ring_fill");
}

#[test]
fn a_flange_that_rides_its_fillet_holds() {
    // The ledge's edge is broken 0.50.
    goes(&sleeve("thickness: 6.0", "thickness: 6.0, fillet: 0.50"));
    holds(&sleeve("thickness: 6.0", "thickness: 6.0, fillet: 0.51"), "fillet_rides");
}

#[test]
fn a_finishing_cut_under_the_chip_that_its_nose_forms_holds() {
    let pocket = |allowance: &str, machine: Vec<(&'static str, &'static str)>| {
        Bench { job_more: format!("allowances: {{ pocket: {allowance} }}\n"), machine, ..even() }.plan()
    };
    // An eighth of a nose of 0.8 is 0.10. The chip there: 0.1 x 0.08 / (0.8 acos 0.875) = 0.0198.
    let blunt = || vec![("nose_radius: 0.4", "nose_radius: 0.8")];
    goes(&pocket("0.10", blunt()));
    holds(&pocket("0.09", blunt()), "chip");
    // With a nose of 0.4 and 0.10 a side the arc is 0.4 acos 0.75 = 0.289: 0.0154 thick at 0.0446 a turn, 0.0149 at 0.043.
    let feed = |feed: &'static str| vec![("feed: 0.08, depth: 0.3", feed)];
    goes(&pocket("0.10", feed("feed: 0.0446, depth: 0.3")));
    holds(&pocket("0.10", feed("feed: 0.043, depth: 0.3")), "chip");
    // In the sleeve, 0.06 left for the hone: (98.94 - 98.74) / 2 = 0.10 a side; 0.05 does not reach all round, 0.04 is no cut.
    goes(&sleeve("bore: 98.4", "bore: 98.74"));
    holds(&sleeve("bore: 98.4", "bore: 98.84"), "finish_stock");
    let thin = sleeve("bore: 98.4", "bore: 98.86");
    holds(&thin, "chip");
    assert_eq!(thin.plan.findings.iter().filter(|f| f.code == "chip").count(), 1, "said once");
}

/// Crown 0.10 below a deck of 235 with a pin height of 38.9.
fn piston(height: &str, more: &str) -> String {
    format!("piston: {{ stroke: 92, rod: 150, pin_height: {height}, oil_ring: 20, skirt: 45{more} }}\n")
}

#[test]
fn a_skirt_that_touches_at_work_holds() {
    // Skirt at 120 °C, 19.7e-6/K; sleeve at 100 °C, 11.5e-6/K: 99 x 0.00092 = 0.0911 against 98.9 x 0.00197 = 0.1948 closes 0.104.
    let clearance = |piston_mm: &str, gap: &str| {
        let bench = Bench { job_more: piston("38.9", ""), ..even() };
        let to = format!("finish: {{ piston: {piston_mm}, clearance: {gap} }}");
        plan_with(&bench, "job.yaml", "finish: { bore: 99.0 }", &to)
    };
    goes(&clearance("98.892", "0.108"));
    holds(&clearance("98.900", "0.100"), "skirt_touches");
}

#[test]
fn a_crown_that_touches_holds() {
    goes(&with(&piston("38.9", "")));
    // 0.10 above the deck: with nothing known between crown and head, with a gasket of 1.2, and with one of 0.1.
    let proud = with(&piston("39.1", ""));
    holds(&proud, "crown_touches");
    assert!(proud.plan.findings.iter().any(|f| f.text.contains("piston.gasket")));
    goes(&with(&piston("39.1", ", gasket: 1.2")));
    let touching = with(&piston("39.1", ", gasket: 0.1"));
    holds(&touching, "crown_touches");
    assert!(touching.plan.findings.iter().any(|f| f.text.contains("touches the head")));
}

#[test]
fn what_holds_of_itself_is_released_by_name_and_by_nothing_else() {
    let bench = Bench { barrels: vec![102.00], limits: "position: 0.8, sleeve_wall: 1.0".into(), ..even() };
    // A limit of the shop that it keeps does not take it away.
    holds(&bench.plan(), "thin_sleeve");
    let dir = bench.write();
    let release = Release { who: "A. Lead".into(), why: "the maker allows 1.4".into() };
    let released = plan_job(load(dir.path()).unwrap_or_else(|f| panic!("{f}")), Some(release)).unwrap();
    assert_eq!(released.plan.verdict, Verdict::Hold);
    assert!(!released.lists.is_empty() && released.plan.release.is_some());
}

#[test]
fn the_notes_say_what_was_judged_from_memory_and_what_was_not_judged() {
    let planning = with("head_bolts: { per_bank: 16, preload: 20000 }\n");
    let notes = Sentence::join(planning.plan.sleeves[0].fit.notes.clone(), "\n");
    assert!(notes.contains("pressure on the ledge (yield when hot and creep of aluminium)"), "{notes}");
    assert!(notes.contains("the finished wall (1.50 mm, common practice)"), "{notes}");
    assert!(notes.contains("not judged for want of figures: the fillet under the flange"), "{notes}");
    let bare = Sentence::join(with("").plan.sleeves[0].fit.notes.clone(), "\n");
    assert!(bare.contains("pressure on the ledge (the job gives no head bolts)"), "{bare}");
}
