//! Readings typed where nothing is judged, and figures of sleeve, deck and fixture that the block denies. Each is held, and what
//! lies just inside stays at go. Bounds: common practice, no source.

use crate::bench::{Bench, shop};
use crate::spoil::{JOB, ONLY_W90, W90, codes, goes, held, held_by, sample, sample_with};
use crate::table::{Table, plan};

/// The walls of a bank with the ring of 80 at another depth, and one thin wall in it.
fn ring(bank: &str, depth: &'static str) -> Table {
    Table::read(&format!("walls-{bank}")).each(move |row| {
        if row[0] == "1" && row[1] == "80" && row[2] == "270" {
            "2.60".clone_into(&mut row[3]);
        }
        if row[1] == "80" {
            depth.clone_into(&mut row[1]);
        }
    })
}

/// The sample's walls with rows of the ring of 80 once more at another depth, a little other.
fn with_ring(bank: &str, depth: &'static str) -> Table {
    let mut table = Table::read(&format!("walls-{bank}"));
    let more: Vec<Vec<String>> = table.rows.iter().filter(|row| row[1] == "80").cloned().collect();
    table.rows.extend(more.into_iter().enumerate().map(|(i, mut row)| {
        depth.clone_into(&mut row[1]);
        if let Ok(wall) = row[3].parse::<f64>() {
            row[3] = format!("{:.2}", wall + [0.31, 0.12, 0.24, -0.07, 0.18][i % 5]);
        }
        row
    }));
    table
}

const BANKS: [&str; 2] = ["left", "right"];

#[test]
fn a_ring_of_walls_typed_where_nothing_is_judged_does_not_hide_what_it_shows() {
    // As read, the thin wall speaks.
    held_by(&plan(&[ring("left", "80")]), "nothing_fits");
    // In the coolant it would be judged by nothing: asked of both banks, once.
    let one = plan(&[ring("left", "30")]);
    held_by(&one, "row_missing");
    assert_eq!(one.plan.findings.iter().filter(|f| f.code == "row_missing").count(), 1);
    held_by(&plan(&BANKS.map(|bank| ring(bank, "40"))), "wall_not_read");
    // A ring behind the short upper register reads nothing of the long one.
    let three = |bank: &str| {
        let slipped = ring(bank, "40").rows;
        let mut table = with_ring(bank, "12");
        table.rows.retain(|row| row[1] == "12");
        table.rows.extend(slipped);
        table
    };
    held_by(&plan(&BANKS.map(three)), "wall_not_read");
    // A ring read in the coolant beside the two that are judged is more than is asked; so is one a little above a register.
    goes(&plan(&BANKS.map(|bank| with_ring(bank, "40"))));
    goes(&plan(&BANKS.map(|bank| with_ring(bank, "46"))));
}

#[test]
fn rings_of_two_banks_a_little_apart_are_rings_of_both() {
    let at = |depth: &'static str| plan(&[ring("left", depth)]);
    let told = |planning: &borewright_planner::Planning| codes(planning).contains(&"row_missing");
    assert!(!told(&at("56")) && told(&at("54")));
    // What was looked at and could not be read is no other depth.
    let mut left = ring("left", "54");
    left.rows.extend(Table::read("walls-left").rows.into_iter().filter(|row| row[1] == "80").map(
        |mut row| {
            "nr".clone_into(&mut row[3]);
            row
        },
    ));
    assert!(!told(&plan(&[left])));
}

#[test]
fn a_wet_length_that_ends_high_in_the_jacket_is_held() {
    // The jacket goes down to 62.
    held(&[(W90, "to: 52.0", "to: 37.9")], "wet_short");
    assert!(!codes(&sample(&[ONLY_W90, (W90, "to: 52.0", "to: 38.1")])).contains(&"wet_short"));
}

#[test]
fn an_interference_that_is_none_is_no_loose_register() {
    let told = |sits: &str| {
        codes(&sample(&[ONLY_W90, (W90, "interference: 0.03", sits)])).contains(&"loose_register")
    };
    // Sleeve and pocket within 0.010 together.
    assert!(told("interference: 0.003") && told("interference: 0.0") && !told("interference: 0.011"));
    assert!(!told("clearance: 0.0") && !told("clearance: 0.03") && !told("fit: H7/m6"));
}

#[test]
fn a_recess_that_binds_its_flange_is_held() {
    held(&[(W90, "clearance: 0.10", "clearance: 0.015")], "flange_tight");
    goes(&sample(&[ONLY_W90, (W90, "clearance: 0.10", "clearance: 0.017")]));
}

#[test]
fn a_piston_of_no_size_is_asked_about() {
    let finish = |piston: &str| format!("piston: {piston}, clearance: 0.08,");
    // The liner's bore was 82.0.
    for (piston, held) in [("81.855", false), ("81.845", true), ("81.72", true), ("81.71", false)] {
        let planning = sample(&[ONLY_W90, (JOB, "bore: 82.0,", &finish(piston))]);
        assert_eq!(codes(&planning).contains(&"finish_small"), held, "{piston}");
    }
    for (piston, told) in
        [("81.94", false), ("81.96", true), ("82.11", true), ("82.13", false), ("82.17", false)]
    {
        let planning = sample(&[ONLY_W90, (JOB, "bore: 82.0,", &finish(piston))]);
        goes(&planning);
        let found = planning.plan.findings.iter().any(|f| f.code == "finish_between");
        assert_eq!(found, told, "{piston}");
    }
}

/// A set of eight sleeves, its flanges and its outsides off by so much.
fn measured(flange: f64, outside: f64) -> borewright_planner::Planning {
    let mut rows = String::from("number,feature,size\n");
    for n in 1..=8_u32 {
        let by = 0.001 * f64::from((5 * n) % 7) - 0.003;
        rows.push_str(&format!("{n},thickness,{:.3}\n", 8.0 + 0.7 * by + flange));
        for (feature, size) in [("upper register", 89.8), ("wet length", 89.0), ("lower register", 88.6)] {
            rows.push_str(&format!("{n},{feature},{:.3}\n", size + by + outside));
        }
    }
    let stated = (JOB, "aim: journal\n", "aim: journal\nsleeves_measured: readings/sleeves.csv\n");
    sample_with(&[("readings/sleeves.csv", &rows)], &[stated, ONLY_W90])
}

#[test]
fn a_micrometer_off_its_zero_is_asked_about() {
    let told = |flange, outside| codes(&measured(flange, outside)).contains(&"sleeve_off");
    // Half of 0.03 beyond 0.005 of a flange, 0.010 beyond 0.004 of a register.
    assert!(told(0.0215, 0.0) && told(-0.0215, 0.0) && told(0.0, 0.0155) && told(0.0, -0.0155));
    assert!(
        !told(0.0, 0.0)
            && !told(0.0185, 0.0)
            && !told(-0.0185, 0.0)
            && !told(0.0, 0.0135)
            && !told(0.0, -0.0135)
    );
    // Once, of the set.
    let all = measured(0.0, 0.05).plan.findings;
    assert_eq!(all.iter().filter(|f| f.code == "sleeve_off").count(), 1);
}

#[test]
fn a_deck_read_beside_its_bores_is_held() {
    let turned =
        Table::read("deck-left").each(|row| row[1] = format!("{:.3}", -row[1].parse::<f64>().unwrap()));
    held_by(&plan(&[turned]), "deck_field");
    let aside = |by: f64| {
        plan(&[Table::read("deck-left")
            .each(move |row| row[1] = format!("{:.3}", row[1].parse::<f64>().unwrap() + by))])
    };
    // Of 116: 0.3 are 34.8.
    assert!(!codes(&aside(34.0)).contains(&"deck_field") && codes(&aside(36.0)).contains(&"deck_field"));
}

#[test]
fn a_deck_cut_that_no_cutter_takes_is_held() {
    let cut = |mm: &str| (JOB, "aim: journal\n", format!("aim: journal\ndeck: {{ cut: {mm} }}\n"));
    let told = |mm: &str| {
        let (file, from, to) = cut(mm);
        codes(&sample(&[ONLY_W90, (file, from, &to)])).contains(&"deck_cut")
    };
    assert!(told("0.0001") && told("0.0249") && !told("0.0") && !told("0.0254") && !told("0.10"));
}

/// The depths at which the bores of a worn block are read, and the deck and rings that wear them.
const DEPTHS: [f64; 4] = [4.0, 22.0, 70.0, 130.0];

/// Bores in the block's own metal, so many of them with these excesses at the four depths.
fn worn(bores: u32, by: [f64; 4]) -> borewright_planner::Planning {
    let bench = Bench {
        block: vec![(
            "  liner: { bore: 96.0, outside: 101.0, length: 138.0, material: grey iron }\n",
            String::new(),
        )],
        ..shop()
    };
    let bench = (1..=8).fold(bench, |bench, cylinder| {
        DEPTHS.into_iter().zip(by).fold(bench, |bench, (depth, by)| {
            let by = if cylinder <= bores { by } else { 0.0 };
            bench.circle(cylinder, depth, [0.01, -0.02], 96.0 + by)
        })
    });
    bench.plan()
}

#[test]
fn bores_worn_far_from_the_rings_were_read_from_the_other_end() {
    let told = |bores, by| codes(&worn(bores, by)).contains(&"diameter_odd");
    // The lip, the rings' wear and the skirt's, read from the deck and from below.
    assert!(!told(8, [0.0, 0.20, 0.02, 0.0]) && told(8, [0.0, 0.02, 0.20, 0.0]));
    assert!(
        told(3, [0.0, 0.02, 0.12, 0.0])
            && !told(2, [0.0, 0.02, 0.12, 0.0])
            && !told(8, [0.0, 0.02, 0.09, 0.0])
    );
    // Barrelled, and relieved at the lower end.
    assert!(
        !told(8, [0.0, 0.05, 0.12, 0.0]) && !told(8, [0.0, 0.0, 0.0, 0.5]) && told(8, [0.0, 0.0, 0.0, 0.25])
    );
}

#[test]
fn diameters_that_nothing_described_checks_are_told() {
    let told = |planning: &borewright_planner::Planning| {
        planning.plan.findings.iter().filter(|f| f.code == "diameter_unchecked").count()
    };
    assert_eq!(told(&worn(0, [0.0; 4])), 1);
    assert_eq!(told(&sample(&[ONLY_W90])), 0);
}

#[test]
fn locators_that_stand_nowhere_near_the_block_are_held() {
    let told = |feeds: bool, [x, y, z]: [f64; 3]| {
        let locator = |name: &str, at: [f64; 3], normal: [u8; 3]| {
            format!("    - {{ name: {name}, at: {at:?}, normal: {normal:?}, u: 0.004 }}\n")
        };
        let locators = [
            locator("a", [0.0, 0.0, -50.0], [0, 0, 1]),
            locator("b", [280.0, 60.0, -50.0], [0, 0, 1]),
            locator("c", [x, y, z], [0, 0, 1]),
            locator("d", [0.0, 60.0, -50.0], [0, 1, 0]),
            locator("e", [280.0, 60.0, -50.0], [0, 1, 0]),
            locator("f", [0.0, 0.0, -50.0], [1, 0, 0]),
        ];
        let fixture = format!(
            "fixture:\n  held_by: cradle\n  feeds_limits: {feeds}\n  locators:\n{}",
            locators.concat()
        );
        let bench = Bench { job_more: fixture, ..shop() }.block_of([[0.01, -0.02]; 8]);
        codes(&bench.plan()).contains(&"locator_odd")
    };
    // Bores and mains lie from 0 to some 480, the deck 235 up: 400 beyond, 282 across, 587 down.
    for (at, held) in [
        ([280.0, -60.0, -50.0], false),
        ([700.0, -60.0, -50.0], false),
        ([2800.0, -60.0, -50.0], true),
        ([280.0, -280.0, -50.0], false),
        ([280.0, -285.0, -50.0], true),
        ([280.0, -60.0, -500.0], false),
        ([280.0, -60.0, -600.0], true),
    ] {
        assert_eq!(told(true, at), held, "{at:?}");
    }
    // Where its error enters no limit, nothing hangs on it.
    assert!(!told(false, [2800.0, -60.0, -50.0]));
}
