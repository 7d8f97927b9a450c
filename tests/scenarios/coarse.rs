//! Readings told more coarsely than they are said to be known, one written for all, or read where little is learnt of the bore; and
//! instruments that no shop has. Each beside the honest work that it could be taken for, which stays at go.

use borewright_planner::Planning;

use crate::spoil::{BLOCK, Edit, ONLY_W90, SHOP, codes, goes, held_by};
use crate::table::{Table, plan, plan_with};

/// A column of some tables, rounded to a step and told to so many decimals.
fn rounded(tables: &[&str], columns: &[usize], step: f64, decimals: usize) -> Planning {
    let change = |row: &mut Vec<String>| {
        for at in columns {
            if let Ok(value) = row[*at].parse::<f64>() {
                row[*at] = format!("{:.decimals$}", (value / step).round() * step);
            }
        }
    };
    plan(&tables.iter().map(|table| Table::read(table).each(change)).collect::<Vec<_>>())
}

#[test]
fn a_column_far_coarser_than_its_uncertainty_holds() {
    for step in [1.0, 0.1] {
        held_by(&rounded(&["bores-left"], &[2, 3], step, 3), "too_coarse");
        held_by(&rounded(&["bores-left", "bores-right"], &[3], step, 1), "too_coarse");
    }
    held_by(&rounded(&["axis-right"], &[2, 3], 0.1, 3), "too_coarse");
    held_by(&rounded(&["deck-right"], &[2], 0.1, 1), "too_coarse");
    held_by(&rounded(&["walls-left"], &[3], 1.0, 2), "too_coarse");
    // A scale of hundredths with 0.003, and a wall gauge of half millimetres with 0.05, are told as they are.
    let honest = [rounded(&["bores-left"], &[2, 3], 0.01, 2), rounded(&["walls-left"], &[3], 0.5, 1)];
    assert!(honest.iter().all(|planning| !codes(planning).contains(&"too_coarse")));
}

/// One row's cells in all rows.
fn down(table: &str, columns: &[usize]) -> Table {
    let table = Table::read(table);
    let first = table.rows[0].clone();
    table.each(|row| columns.iter().for_each(|at| row[*at].clone_from(&first[*at])))
}

#[test]
fn one_main_or_one_point_of_the_deck_written_for_all_holds() {
    held_by(&plan(&[down("axis-right", &[2, 3])]), "copied");
    held_by(&plan(&[down("deck-right", &[2])]), "copied");
    // One of two coordinates may read alike, and a mandrel may be trammed to zero.
    assert!(!codes(&plan(&[down("axis-right", &[3])])).contains(&"copied"));
    let trammed = Table::read("axis-left").each(|row| row[3] = "-195.200".into());
    assert!(!codes(&plan(&[trammed])).contains(&"copied"));
}

#[test]
fn a_deck_that_leans_against_its_bores_otherwise_than_the_other_holds() {
    let leaning = |over_150: f64| {
        Table::read("deck-left").each(|row| {
            let (y, z): (f64, f64) = (row[1].parse().unwrap(), row[2].parse().unwrap());
            row[2] = format!("{:.3}", z + over_150 / 150.0 * (y - 18.4));
        })
    };
    // The sample's own differ by 0.065 over 150.
    for over_150 in [0.30, -0.30] {
        held_by(&plan(&[leaning(over_150)]), "deck_leans");
    }
    assert!(!codes(&plan(&[leaning(0.03)])).contains(&"deck_leans"));
}

#[test]
fn walls_near_the_deck_alone_hold() {
    let shallow = |share: f64| {
        ["walls-left", "walls-right"].map(|table| {
            Table::read(table).each(|row| {
                let depth: f64 = row[1].parse().unwrap();
                row[1] = format!("{:.1}", share * depth);
            })
        })
    };
    held_by(&plan(&shallow(0.1)), "depths_shallow");
    assert!(!codes(&plan(&shallow(1.0))).contains(&"depths_shallow"));
}

#[test]
fn own_metal_whose_worn_top_nobody_read_holds() {
    let own: [Edit<'_>; 2] = [
        ONLY_W90,
        (BLOCK, "  liner: { bore: 82.0, outside: 86.0, length: 138.0, material: grey iron }\n", ""),
    ];
    let from = |least: f64| {
        ["bores-left", "bores-right"].map(|table| {
            let mut table = Table::read(table);
            table.rows.retain(|row| row[1].parse::<f64>().unwrap() >= least);
            table
        })
    };
    let top = |planning: &Planning| {
        let asked = planning.plan.findings.iter().filter(|f| f.code == "depths_shallow");
        asked.filter(|f| f.text.contains("uppermost")).count()
    };
    assert_eq!(top(&plan_with(&from(70.0), &own)), 6);
    assert_eq!(top(&plan_with(&from(0.0), &own)), 0);
    // A liner wears out with the bore it is in, and goes.
    assert_eq!(top(&plan_with(&from(70.0), &own[..1])), 0);
}

#[test]
fn instruments_that_no_shop_has_hold() {
    goes(&plan_with(&[], &[ONLY_W90]));
    for (is, slipped) in [
        ("diameter: 0.004", "diameter: 0.0004"),
        ("wall: 0.05", "wall: 0.002"),
        ("axis: 0.004", "axis: 0.0004"),
        ("along: 0.010", "along: 0.0004"),
        ("machine: 0.004", "machine: 0.0004"),
    ] {
        held_by(&plan_with(&[], &[ONLY_W90, (SHOP, is, slipped)]), "instruments_odd");
    }
}
