//! Readings that were worked out from others and not read: circles on straight lines, mains in one line, a bore between its
//! neighbours, walls mirrored in one bank; and half a bank in another unit.

use crate::bench::shop;
use crate::spoil::{codes, held_by};
use crate::table::{Table, plan};

fn number(row: &[String], at: usize) -> f64 {
    row[at].parse().unwrap()
}

/// A column of each group of rows put on the straight line through its first and last row.
fn straightened(
    table: &str,
    [along, decimals]: [usize; 2],
    across: &[usize],
    same: fn(&[String], &[String]) -> bool,
) -> Table {
    let mut table = Table::read(table);
    for group in table.rows.chunk_by_mut(|one, other| same(one, other)) {
        let (first, last) = (group[0].clone(), group[group.len() - 1].clone());
        for row in group {
            for at in across {
                let share = (number(row, along) - number(&first, along))
                    / (number(&last, along) - number(&first, along));
                row[*at] = format!(
                    "{:.decimals$}",
                    number(&first, *at) + share * (number(&last, *at) - number(&first, *at))
                );
            }
        }
    }
    table
}

#[test]
fn bores_read_above_and_below_and_filled_in_between_hold() {
    let by_bore = |one: &[String], other: &[String]| one[0] == other[0];
    let filled = ["bores-left", "bores-right"].map(|table| straightened(table, [1, 3], &[2, 3], by_bore));
    held_by(&plan(&filled), "no_scatter");
    assert!(!codes(&plan(&[])).contains(&"no_scatter"));
}

#[test]
fn mains_on_one_line_to_the_last_digit_hold() {
    let all = |_: &[String], _: &[String]| true;
    held_by(&plan(&[straightened("axis-right", [1, 6], &[2, 3], all)]), "no_scatter");
}

#[test]
fn a_bore_filled_in_between_its_neighbours_holds() {
    let read = |filled: bool| {
        let mut bench = shop();
        for n in 1..=8_u32 {
            for (at, depth) in (0..).zip([20.0, 70.0, 125.0]) {
                // As bores stand and scatter; cylinder 3 lies between 1 and 5.
                let y = |n: u32| {
                    0.002 * f64::from((37 * n * n + 11 * n) % 41) + 0.001 * f64::from((5 * n + 3 * at) % 7)
                };
                let wide = |n: u32| {
                    96.0 + 0.004 * f64::from((13 * n * n) % 17) + 0.002 * f64::from((3 * n + 2 * at) % 5)
                };
                let mean = |of: &dyn Fn(u32) -> f64| {
                    if filled && n == 3 { f64::midpoint(of(1), of(5)) } else { of(n) }
                };
                bench = bench.circle(n, depth, [0.001 * f64::from(n * at % 3), mean(&y)], mean(&wide));
            }
        }
        codes(&bench.plan()).into_iter().filter(|code| *code == "copied").count()
    };
    assert_eq!((read(true), read(false)), (1, 0));
}

fn clock_deg(row: &[String]) -> f64 {
    match row[2].as_str() {
        "rear" => 0.0,
        "front" => 180.0,
        told => told.parse().unwrap(),
    }
}

#[test]
fn walls_of_one_bank_mirrored_hold() {
    for across in [|clock: f64| 360.0 - clock, |clock: f64| 540.0 - clock, |clock: f64| clock + 180.0] {
        let mut table = Table::read("walls-left");
        for at in 0..table.rows.len() {
            let row = table.rows[at].clone();
            let there = across(clock_deg(&row)).rem_euclid(360.0);
            let other =
                table.rows[..at].iter().find(|r| r[..2] == row[..2] && (clock_deg(r) - there).abs() < 1e-6);
            if let Some(wall) = other.map(|r| r[3].clone()) {
                table.rows[at][3] = wall;
            }
        }
        held_by(&plan(&[table]), "copied");
    }
}

#[test]
fn y_of_half_a_bank_in_inches_holds() {
    let left = [0.42, 0.45, 0.41, 0.46];
    let typed = |factors: [f64; 4]| {
        let mut off = [[0.0, 0.02]; 8];
        for (at, (y, factor)) in left.iter().zip(factors).enumerate() {
            off[2 * at] = [0.0, y * factor];
        }
        shop().block_of(off).plan()
    };
    for factors in [[1.0, 1.0, 1.0 / 25.4, 1.0 / 25.4], [1.0 / 25.4, 1.0, 1.0, 1.0 / 25.4]] {
        held_by(&typed(factors), "wrong_unit");
    }
    assert!(!codes(&typed([1.0; 4])).contains(&"wrong_unit"));
    // A bank that is askew is none of it.
    assert!(!codes(&typed([0.1, 0.4, 0.7, 1.0])).contains(&"wrong_unit"));
}
