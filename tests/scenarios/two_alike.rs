//! Two readings that are off alike, so that neither is odd beside all others: each pair is held, and beside it what is merely unusual
//! and stays at go. Bounds: common practice, no source.

use borewright_planner::Planning;

use crate::bench::{Bench, shop};
use crate::spoil::{JOB, ONLY_W90, codes, goes, held_by, sample_with};
use crate::table::{Table, plan};
use crate::unlikely::of_diameters;

fn walls(bank: &str) -> Table {
    Table::read(&format!("walls-{bank}"))
}

fn times(cell: &mut String, by: f64) {
    if let Ok(wall) = cell.parse::<f64>() {
        *cell = format!("{:.2}", wall * by);
    }
}

#[test]
fn two_walls_that_slipped_alike_are_held_and_two_on_ribs_are_not() {
    let two = |by: f64| {
        plan(&[walls("left").each(|row| {
            if row[0] == "1" && row[1] == "80" && ["90", "270"].contains(&row[2].as_str()) {
                times(&mut row[3], by);
            }
        })])
    };
    for by in [5.0, 10.0, 25.4] {
        let planning = two(by);
        let told = codes(&planning);
        assert!(told.contains(&"wall_odd") || told.contains(&"wrong_unit"), "{by}: {told:?}");
    }
    goes(&two(1.3));
    assert!(!codes(&two(1.8)).contains(&"wall_odd"));
}

#[test]
fn one_ring_of_one_bore_read_twice_over_is_held_and_a_depth_thicker_in_all_bores_is_not() {
    let ring = |bore: &'static str, by: f64| {
        let thick = |bank: &str| {
            walls(bank).each(|row| {
                if row[1] == "80" && (bore == "all" || row[0] == bore) {
                    times(&mut row[3], by);
                }
            })
        };
        plan(&[thick("left"), thick("right")])
    };
    held_by(&ring("1", 2.0), "wall_odd");
    for planning in [ring("1", 1.2), ring("all", 1.5)] {
        assert!(!codes(&planning).contains(&"wall_odd"), "{:?}", codes(&planning));
    }
}

/// Bores true in two banks of four, walls of every bore at two depths and these clocks.
fn walled(clocks: impl Fn(u32) -> Vec<u32>) -> Planning {
    let mut bench = Bench { walls_all_round: false, ..shop() }.block_of([[0.0, 0.0]; 8]);
    bench.limits = "position: 0.8, clean_up: 0.05, parent_wall: 2.0".into();
    for n in 1..=8_u32 {
        for (d, depth) in [(0_u32, 60.0), (1, 100.0)] {
            for k in clocks(n) {
                let wall = 6.0 + 0.1 * f64::from((7 * n + 3 * k + 5 * d) % 11) + 0.01 * f64::from(n);
                bench = bench.wall(n, depth, f64::from(k) * 45.0, (wall * 100.0).round() / 100.0);
            }
        }
    }
    bench.plan()
}

#[test]
fn walls_left_out_in_two_bores_are_held_and_a_coarser_raster_is_not() {
    let all = || (0..8).collect::<Vec<u32>>();
    let without = |clock: u32, bores: &'static [u32]| {
        walled(move |n| all().into_iter().filter(|k| !bores.contains(&n) || *k != clock).collect())
    };
    held_by(&without(2, &[3]), "wall_not_read");
    held_by(&without(2, &[3, 5]), "wall_not_read");
    held_by(&without(7, &[2, 6]), "wall_not_read");
    // Every second place in two bores is a raster of its own.
    goes(&walled(|n| if [3, 5].contains(&n) { vec![0, 2, 4, 6] } else { all() }));
}

#[test]
fn a_circle_left_out_in_two_bores_of_a_bank_is_held_and_one_read_beside_it_is_not() {
    let circles = |at: Option<&'static str>| {
        let mut table = Table::read("bores-left");
        let lowest = |row: &[String]| row[1] == "125" && row[0] != "1";
        match at {
            None => table.rows.retain(|row| !lowest(row)),
            Some(at) => {
                table.rows.iter_mut().filter(|row| lowest(row)).for_each(|row| at.clone_into(&mut row[1]));
            }
        }
        plan(&[table])
    };
    held_by(&circles(None), "row_missing");
    goes(&circles(Some("118")));
}

#[test]
fn two_bores_gauged_with_one_wrong_setting_are_held_and_two_worn_ones_are_not() {
    let two = |own: f64| of_diameters([96.50, 96.51, own, 96.49, own + 0.01, 96.50, 96.51, 96.50]);
    held_by(&two(96.10), "diameter_odd");
    goes(&two(96.40));
    goes(&two(96.62));
}

/// Six sleeves, each outside its own, the flanges as told.
fn sleeves(flange: impl Fn(u32) -> String) -> Planning {
    let mut rows = String::from("number,feature,size\n");
    for n in 1..=6_u32 {
        let by = 0.001 * f64::from((5 * n) % 7) - 0.003;
        rows.push_str(&format!("{n},thickness,{}\n", flange(n)));
        for (feature, size) in [("upper register", 89.8), ("wet length", 89.0), ("lower register", 88.6)] {
            rows.push_str(&format!("{n},{feature},{:.3}\n", size + by));
        }
    }
    let stated = (JOB, "aim: journal\n", "aim: journal\nsleeves_measured: readings/sleeves.csv\n");
    sample_with(&[("readings/sleeves.csv", &rows)], &[stated, ONLY_W90])
}

#[test]
fn flanges_that_bear_each_other_out_are_held_against_their_drawing() {
    // Drawn 8.0 within 0.005.
    let own = |n: u32| 8.0 + 0.001 * f64::from((3 * n) % 5) - 0.002;
    let off = |by: fn(u32) -> f64| sleeves(move |n| format!("{:.3}", own(n) + by(n)));
    goes(&off(|_| 0.0));
    held_by(&off(|n| if n == 2 { 0.04 } else { 0.0 }), "sleeve_off");
    held_by(&off(|n| if n <= 2 { 0.09 } else { 0.0 }), "sleeve_off");
    held_by(&off(|n| if n <= 3 { 0.03 } else { -0.03 }), "sleeve_off");
    // A ledge is cut for each: two a hundredth and a half thicker are let be.
    goes(&off(|n| if n <= 2 { 0.015 } else { 0.0 }));
    held_by(&sleeves(|_| "8".into()), "copied");
    goes(&sleeves(|n| if n == 1 { "8.001".into() } else { "8.000".into() }));
}

/// The left bank by points, eight a circle, each so far off its circle in cylinder 3: by place round it.
fn points(off: impl Fn(u32) -> f64) -> Planning {
    let table = Table::read("bores-left");
    let mut rows = String::from("cylinder,depth,x,y\n");
    for (row, cells) in (0_u32..).zip(&table.rows) {
        let [depth, x, y, diameter] = [1, 2, 3, 4].map(|k| cells[k].parse::<f64>().unwrap());
        for k in 0..8_u32 {
            let (sin, cos) = (45.0 * f64::from(k) + 3.0).to_radians().sin_cos();
            // No gauge repeats to the last digit.
            let scatter = 0.001 * f64::from((7 * k + 5 * row) % 5) - 0.002;
            let own = if cells[0] == "3" { off(k) } else { 0.0 };
            let r = diameter / 2.0 + scatter + own;
            rows.push_str(&format!("{},{depth},{:.3},{:.3}\n", cells[0], x + r * cos, y + r * sin));
        }
    }
    let named = (JOB, "    bores: readings/bores-left.csv\n", "    points: readings/points-left.csv\n");
    sample_with(&[("readings/points-left.csv", &rows)], &[named])
}

#[test]
fn two_points_off_alike_and_a_circle_that_is_none_are_held_and_a_worn_bore_is_not() {
    let two = |a: u32, b: u32, by: f64| points(move |k| if k == a || k == b { by } else { 0.0 });
    goes(&points(|_| 0.0));
    held_by(&two(2, 3, -0.3), "bad_point");
    held_by(&two(2, 6, -0.3), "bad_point");
    held_by(&two(1, 4, -0.15), "bad_point");
    let oval = |by: f64| points(move |k| by / 4.0 * (90.0 * f64::from(k)).to_radians().cos());
    held_by(&oval(2.0), "bad_point");
    goes(&oval(0.04));
    goes(&oval(0.15));
    // Worn by 0.15 on one side.
    goes(&points(|k| 0.15 * (45.0 * f64::from(k)).to_radians().cos().max(0.0)));
}

/// Radii of cylinder 3 at depth 75, whose circle has 41.012, by place round it.
fn radii(off: impl Fn(u32) -> f64) -> Planning {
    let rows: String = (0..8_u32)
        .map(|k| {
            let scatter = 0.001 * f64::from((7 * k) % 5) - 0.002;
            format!("3,75,{},{:.3},off\n", 45 * k, 41.012 + scatter + off(k))
        })
        .collect();
    let named = (
        JOB,
        "    walls: readings/walls-left.csv\n",
        "    walls: readings/walls-left.csv\n    shape: readings/shape.csv\n",
    );
    let file = format!("cylinder,depth,clock,radius,plate\n{rows}");
    sample_with(&[("readings/shape.csv", &file)], &[ONLY_W90, named])
}

#[test]
fn radii_that_deny_the_circle_at_their_depth_are_held_and_an_oval_is_not() {
    goes(&radii(|_| 0.0));
    goes(&radii(|_| 0.05));
    held_by(&radii(|_| 0.08), "shape_off");
    held_by(&radii(|_| -0.25), "shape_off");
    held_by(&radii(|k| if k == 2 { 0.28 } else { 0.0 }), "shape_off");
    goes(&radii(|k| 0.05 * (90.0 * f64::from(k)).to_radians().cos()));
}
