//! Figures that nobody read, or that two readings deny: one depth, one bank's column or the description written in their place, a
//! micrometer off its zero, a deck of before a skim. Each is held, and the honest work beside it is let be. Bounds: common practice,
//! no source.

use std::collections::BTreeMap;

use crate::spoil::{Edit, JOB, ONLY_W90, W90, codes, goes, held_by, sample, sample_with};
use crate::table::{Table, plan, plan_with};

/// The first depth's cells of each bore at its other depths.
fn first_depth_down(table: &str, columns: &[usize]) -> Table {
    let table = Table::read(table);
    let mut first: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for row in &table.rows {
        first.entry(row[0].clone()).or_insert_with(|| row.clone());
    }
    table.each(|row| {
        let own = &first[row[0].as_str()];
        columns.iter().for_each(|at| row[*at].clone_from(&own[*at]));
    })
}

#[test]
fn one_depths_centre_at_all_depths_is_held_in_one_bank_and_over_both() {
    let centre = [2, 3];
    held_by(&plan(&["bores-left", "bores-right"].map(|table| first_depth_down(table, &centre))), "copied");
    held_by(&plan(&[first_depth_down("bores-left", &centre)]), "copied");
    // Two depths a bore, told to 0.001 and known to 0.003: each bank leaves it to chance, both do not.
    let two = |table: &str| {
        let mut table = first_depth_down(table, &centre);
        table.rows.retain(|row| row[1] != "75");
        table
    };
    held_by(&plan(&["bores-left", "bores-right"].map(two)), "copied");
    assert!(!codes(&plan(&[two("bores-left")])).contains(&"copied"));
}

#[test]
fn one_y_for_all_bores_beside_an_x_told_finer_is_held() {
    let y = |figure: &'static str| Table::read("bores-left").each(move |row| row[3] = figure.into());
    held_by(&plan(&[y("18.44")]), "copied");
    held_by(&plan(&[y("18.400")]), "copied");
}

#[test]
fn the_other_banks_column_of_diameters_is_held() {
    let right = Table::read("bores-right");
    let mut left = Table::read("bores-left");
    for (own, other) in left.rows.iter_mut().zip(&right.rows) {
        own[4].clone_from(&other[4]);
    }
    held_by(&plan(&[left]), "copied");
}

#[test]
fn a_deck_of_before_a_skim_is_held_against_the_other_banks() {
    let higher = |by: f64| {
        Table::read("deck-left")
            .each(move |row| row[2] = format!("{:.3}", row[2].parse::<f64>().unwrap() + by))
    };
    held_by(&plan(&[higher(0.25)]), "decks_apart");
    held_by(&plan(&[higher(-0.4)]), "decks_apart");
    goes(&plan(&[higher(0.1)]));
    // Both were skimmed, or one alone and its height says so.
    let both = |table: &str| {
        Table::read(table).each(|row| row[2] = format!("{:.3}", row[2].parse::<f64>().unwrap() - 0.25))
    };
    goes(&plan(&["deck-left", "deck-right"].map(both)));
}

/// Six sleeves measured, one of them with another figure.
fn measured(thickness: f64, upper: f64, all_by: f64) -> borewright_planner::Planning {
    let mut table = "number,feature,size\n".to_owned();
    for (number, slip) in (1..=6).zip([0.001, -0.002, 0.0, 0.002, -0.001, 0.001]) {
        let odd = f64::from(u8::from(number == 3));
        let rows = [
            ("thickness", 8.0 + slip + all_by + odd * thickness),
            ("upper register", 89.8 - slip / 2.0 + odd * upper),
            ("wet length", 89.0 + slip),
            ("lower register", 88.6 + slip / 2.0),
        ];
        for (feature, size) in rows {
            table.push_str(&format!("{number},{feature},{size:.4}\n"));
        }
    }
    let stated = (JOB, "aim: journal\n", "aim: journal\nsleeves_measured: readings/sleeves.csv\n");
    sample_with(&[("readings/sleeves.csv", &table)], &[ONLY_W90, stated])
}

#[test]
fn a_flange_or_a_register_off_by_as_much_as_its_fit_is_held() {
    goes(&measured(0.0, 0.0, 0.0));
    // A 0 read as 5: the flange would stand 0.035 below the deck, or as much higher.
    held_by(&measured(0.05, 0.0, 0.0), "sleeve_off");
    held_by(&measured(-0.05, 0.0, 0.0), "sleeve_off");
    goes(&measured(0.02, 0.0, 0.0));
    // A micrometer off its zero.
    held_by(&measured(0.0, 0.0, 0.09), "sleeve_off");
    // 0.020 tight is asked: a slip of 0.023 leaves nothing of it.
    held_by(&measured(0.0, 0.023, 0.0), "sleeve_off");
    held_by(&measured(0.0, -0.023, 0.0), "sleeve_off");
    goes(&measured(0.0, 0.008, 0.0));
}

#[test]
fn readings_round_a_flange_agree_within_what_one_sleeves_protrusion_may_differ_by() {
    let read = |apart: f64| {
        let mut table = "number,feature,size\n".to_owned();
        for number in 1..=6 {
            for (feature, size) in
                [("upper register", 89.8), ("wet length", 89.0), ("lower register", 88.6), ("thickness", 8.0)]
            {
                let slip = f64::from(number) * 0.0003;
                table.push_str(&format!("{number},{feature},{:.4}\n", size + slip));
            }
        }
        table.push_str(&format!("1,thickness,{:.4}\n", 8.0003 + apart));
        let stated = (JOB, "aim: journal\n", "aim: journal\nsleeves_measured: readings/sleeves.csv\n");
        sample_with(&[("readings/sleeves.csv", &table)], &[ONLY_W90, stated])
    };
    held_by(&read(0.019), "read_twice");
    goes(&read(0.010));
}

#[test]
fn two_rounds_that_read_two_sizes_are_held() {
    let round = |wider: f64| {
        let mut table = Table::read("bores-left");
        let again: Vec<Vec<String>> = (0..)
            .zip(&table.rows)
            .map(|(at, row)| {
                let slip = [0.001, -0.002, 0.002][at % 3];
                let by = |cell: &str, by: f64| format!("{:.3}", cell.parse::<f64>().unwrap() + by);
                let cells = [by(&row[2], slip), by(&row[3], -slip), by(&row[4], wider + slip / 2.0)];
                [&row[..2], &cells, &["second".to_owned()]].concat()
            })
            .collect();
        table.rows.iter_mut().for_each(|row| row.push("first".into()));
        table.rows.extend(again);
        let mut text = table.text();
        text = text.replace("diameter\n", "diameter,set\n");
        sample_with(&[("readings/bores-left.csv", &text)], &[])
    };
    held_by(&round(0.09), "sets_disagree");
    goes(&round(0.01));
}

#[test]
fn figures_a_digit_off_are_held() {
    let held = |edit: Edit<'_>, code: &str| held_by(&sample(&[ONLY_W90, edit]), code);
    held((W90, "thickness: 8.0, clearance: 0.10", "thickness: 8.0, clearance: 0.5"), "flange_loose");
    held((W90, "to: 18.0, interference: 0.02", "to: 18.0, interference: 0.14"), "registers_apart");
    held((W90, "min: 0.02, max: 0.05", "min: 0.15, max: 0.20"), "protrusion_high");
    held((JOB, "aim: journal\n", "aim: journal\nlimits: { position: 1.0 }\n"), "limit_odd");
    held((JOB, "aim: journal\n", "aim: journal\nlimits: { squareness: 0.4 }\n"), "limit_odd");
    let machine = "temperature: { block: 20.0, machine: 20.0, cutting: { block: 20.0, machine: 38.0 } }";
    held((JOB, "temperature: { block: 20.0, machine: 20.0 }", machine), "block_temperature");
}

#[test]
fn registers_as_tight_as_none_is_pressed_are_held() {
    let both = |upper: &'static str, lower: &'static str| {
        plan_with(
            &[],
            &[ONLY_W90, (W90, "to: 18.0, interference: 0.02", upper), (W90, "interference: 0.03\n", lower)],
        )
    };
    held_by(&both("to: 18.0, interference: 0.14", "interference: 0.14\n"), "tight_register");
}
