//! Readings typed where nothing is judged, and figures of sleeve, deck and fixture that the block denies. Each is held, and what
//! lies just inside stays at go. Bounds: common practice, no source.

use crate::bench::{Bench, shop};
use crate::spoil::{Edit, JOB, ONLY_W90, W90, codes, goes, held_by, sample, sample_with};
use crate::table::{Table, plan};

#[track_caller]
fn held(edits: &[Edit<'_>], code: &str) {
    let all: Vec<Edit<'_>> = std::iter::once(ONLY_W90).chain(edits.iter().copied()).collect();
    held_by(&sample(&all), code);
}

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

#[test]
fn a_ring_of_walls_typed_where_nothing_is_judged_does_not_hide_what_it_shows() {
    // As read, the thin wall speaks.
    held_by(&plan(&[ring("left", "80")]), "nothing_fits");
    // In the coolant it would be judged by nothing.
    held_by(&plan(&[ring("left", "30")]), "row_missing");
    held_by(&plan(&["left", "right"].map(|bank| ring(bank, "40"))), "wall_not_read");
    // A ring read in the coolant beside the two that are judged is more than is asked.
    let more = |bank: &str| {
        let mut table = Table::read(&format!("walls-{bank}"));
        let more: Vec<Vec<String>> = table.rows.iter().filter(|row| row[1] == "80").cloned().collect();
        table.rows.extend(more.into_iter().enumerate().map(|(i, mut row)| {
            "40".clone_into(&mut row[1]);
            if let Ok(wall) = row[3].parse::<f64>() {
                row[3] = format!("{:.2}", wall + [0.31, 0.12, 0.24, -0.07, 0.18][i % 5]);
            }
            row
        }));
        table
    };
    goes(&plan(&["left", "right"].map(more)));
}

#[test]
fn a_wet_length_that_ends_high_in_the_jacket_is_held() {
    // The jacket goes down to 62.
    held(&[(W90, "to: 52.0", "to: 37.9")], "wet_short");
    assert!(!codes(&sample(&[ONLY_W90, (W90, "to: 52.0", "to: 38.1")])).contains(&"wet_short"));
}

#[test]
fn an_interference_that_is_none_is_no_loose_register() {
    held(&[(W90, "interference: 0.03", "interference: 0.003")], "loose_register");
    goes(&sample(&[ONLY_W90, (W90, "interference: 0.03", "clearance: 0.03")]));
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
    held(&[(JOB, "bore: 82.0,", &finish("81.82"))], "finish_small");
    for (piston, told) in [("81.92", false), ("82.02", true), ("82.17", false)] {
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
    // A tolerance of nothing is described, and the flange may stand 0.03 otherwise.
    assert!(told(0.04, 0.0) && told(-0.04, 0.0) && told(0.0, 0.02) && told(0.0, -0.018));
    assert!(!told(0.0, 0.0) && !told(0.008, 0.003) && !told(-0.008, -0.003));
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
    assert!(!codes(&aside(15.0)).contains(&"deck_field") && codes(&aside(27.0)).contains(&"deck_field"));
}

#[test]
fn a_deck_cut_that_no_cutter_takes_is_held() {
    let cut = |mm: &str| (JOB, "aim: journal\n", format!("aim: journal\ndeck: {{ cut: {mm} }}\n"));
    let told = |mm: &str| {
        let (file, from, to) = cut(mm);
        codes(&sample(&[ONLY_W90, (file, from, &to)])).contains(&"deck_cut")
    };
    assert!(told("0.001") && told("0.019") && !told("0.0") && !told("0.02") && !told("0.10"));
}

/// Bores in the block's own metal, worn by 0.2 at one of three depths.
fn worn(at: f64) -> Bench {
    let bench = Bench {
        block: vec![(
            "  liner: { bore: 96.0, outside: 101.0, length: 138.0, material: grey iron }\n",
            String::new(),
        )],
        ..shop()
    };
    (1..=8).fold(bench, |bench, cylinder| {
        [8.0, 75.0, 130.0].into_iter().fold(bench, |bench, depth| {
            bench.circle(cylinder, depth, [0.01, -0.02], if depth == at { 96.2 } else { 96.0 })
        })
    })
}

#[test]
fn bores_worn_at_their_lower_end_were_read_from_there() {
    for (at, held) in [(8.0, false), (75.0, true), (130.0, true)] {
        assert_eq!(codes(&worn(at).plan()).contains(&"diameter_odd"), held, "{at}");
    }
}

#[test]
fn locators_that_stand_nowhere_near_the_block_are_held() {
    let told = |far: f64| {
        let locator = |name: &str, at: [f64; 3], normal: [u8; 3]| {
            format!("    - {{ name: {name}, at: {:?}, normal: {normal:?}, u: 0.004 }}\n", at.map(|x| x * far))
        };
        let locators = [
            locator("a", [0.0, 0.0, -50.0], [0, 0, 1]),
            locator("b", [280.0, 60.0, -50.0], [0, 0, 1]),
            locator("c", [280.0, -60.0, -50.0], [0, 0, 1]),
            locator("d", [0.0, 60.0, -50.0], [0, 1, 0]),
            locator("e", [280.0, 60.0, -50.0], [0, 1, 0]),
            locator("f", [0.0, 0.0, -50.0], [1, 0, 0]),
        ];
        let fixture =
            format!("fixture:\n  held_by: cradle\n  feeds_limits: true\n  locators:\n{}", locators.concat());
        let bench = Bench { job_more: fixture, ..shop() }.block_of([[0.01, -0.02]; 8]);
        codes(&bench.plan()).contains(&"locator_odd")
    };
    assert!(!told(1.0) && !told(1.5) && told(5.0) && told(10.0));
}
