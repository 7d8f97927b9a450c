//! Tables copied with one offset added throughout, and walls whose `nr` stands where no bridge is; beside each the honest
//! work that it could be taken for, which stays at go.

use std::collections::BTreeMap;

use borewright_planner::Planning;
use borewright_planner::plan::Verdict;

use crate::spoil::{codes, goes, held_by};
use crate::table::{Table, plan};

/// A cell with so much added, told to so many decimals; `nr` stays.
fn add(cell: &mut String, more: f64, decimals: usize) {
    if let Ok(value) = cell.parse::<f64>() {
        *cell = format!("{:.decimals$}", value + more);
    }
}

/// What the plan says of copies.
fn told(planning: &Planning) -> Vec<String> {
    let copied = planning.plan.findings.iter().filter(|f| f.code == "copied");
    copied.map(|f| format!("{}: {}", f.subject, f.text)).collect()
}

/// Held as copied, in these words.
#[track_caller]
fn copied(tables: &[Table], words: &str) {
    let planning = plan(tables);
    held_by(&planning, "copied");
    let told = told(&planning);
    assert!(told.iter().any(|text| text.contains(words)), "{told:#?}");
}

/// The next bank's cylinder.
fn next(cell: &mut String) {
    add(cell, 1.0, 0);
}

#[test]
fn bores_of_a_bank_that_are_the_other_banks_moved_hold() {
    let moved = |slip: f64| {
        let right = Table::read("bores-right").of(Table::read("bores-left").each(|row| {
            next(&mut row[0]);
            add(&mut row[2], 0.246, 3);
            add(&mut row[3], -0.061, 3);
            add(&mut row[4], 0.003, 3);
        }));
        right.each(|row| {
            if row[0] == "4" {
                add(&mut row[3], slip, 3);
            }
        })
    };
    copied(
        &[moved(0.0)],
        "set-up right bank up: all 9 rows of its bores table are those of the set-up left bank up",
    );
    copied(&[moved(0.0)], "x with +0.246 mm added throughout, y with -0.061 mm added throughout");
    // One bore of its own: the other two are still copies, and told as bores.
    copied(&[moved(0.002)], "cylinders 1, 2: all 3 circles of cylinder 2 are those of cylinder 1");
}

#[test]
fn mains_and_deck_of_a_set_up_that_are_the_others_moved_hold() {
    for (table, words) in [("axis", "all 4 rows of its axis table"), ("deck", "all 6 rows of its deck table")]
    {
        let first = |t: &Table, k: usize| t.rows[0][k].parse::<f64>().unwrap();
        let (left, right) = (Table::read(&format!("{table}-left")), Table::read(&format!("{table}-right")));
        let columns = if table == "axis" { [1, 2, 3] } else { [0, 1, 2] };
        let off = columns.map(|k| first(&right, k) - first(&left, k));
        let moved = |slip: f64| {
            let left = Table::read(&format!("{table}-left")).each(|row| {
                for (k, off) in columns.into_iter().zip(off) {
                    add(&mut row[k], off, 3);
                }
            });
            let mut table = Table::read(&format!("{table}-right")).of(left);
            add(&mut table.rows[2][columns[2]], slip, 3);
            table
        };
        copied(&[moved(0.0)], words);
        // One figure of a thousandth otherwise is no copy.
        assert!(told(&plan(&[moved(0.001)])).is_empty());
    }
}

#[test]
fn a_bore_whose_circles_are_anothers_moved_holds_both() {
    let copy = |slip: f64| {
        let left = Table::read("bores-left");
        let from: BTreeMap<String, Vec<String>> =
            left.rows.iter().filter(|r| r[0] == "1").map(|r| (r[1].clone(), r.clone())).collect();
        left.each(|row| {
            if row[0] == "3" {
                let own = &from[&row[1]];
                row.splice(2.., own[2..].iter().cloned());
                add(&mut row[2], 92.0, 3);
                add(&mut row[3], 0.010, 3);
                let more = if row[1] == "75" { 0.002 + slip } else { 0.002 };
                add(&mut row[4], more, 3);
            }
        })
    };
    copied(
        &[copy(0.0)],
        "cylinders 1, 3: all 3 circles of cylinder 3 are those of cylinder 1: x with +92.000 mm",
    );
    goes(&plan(&[copy(0.001)]));
}

#[test]
fn walls_of_a_bore_or_a_bank_that_are_anothers_and_so_much_hold() {
    for more in [0.05, -0.10] {
        let right = Table::read("walls-right").of(Table::read("walls-left").each(|row| {
            next(&mut row[0]);
            add(&mut row[3], more, 2);
        }));
        copied(&[right], "cylinders 3, 4: 14 walls of cylinder 4 are those of cylinder 3 at the same places");
    }
    let copy = |slip: f64| {
        let left = Table::read("walls-left");
        let from: BTreeMap<Vec<String>, String> =
            left.rows.iter().filter(|r| r[0] == "1").map(|r| (r[1..3].to_vec(), r[3].clone())).collect();
        left.each(|row| {
            if row[0] == "3" {
                row[3] = from[&row[1..3]].clone();
                let more = if row[2] == "90" { 0.02 + slip } else { 0.02 };
                add(&mut row[3], more, 2);
            }
        })
    };
    copied(&[copy(0.0)], "16 walls of cylinder 3 are those of cylinder 1 at the same places with +0.020 mm");
    assert!(!codes(&plan(&[copy(0.01)])).contains(&"copied"));
}

#[test]
fn a_ring_of_walls_that_is_the_ring_above_it_and_so_much_holds() {
    let deeper = |more: f64, decimals: usize| {
        let left = Table::read("walls-left");
        let above: BTreeMap<[String; 2], String> = left
            .rows
            .iter()
            .filter(|r| r[1] == "80")
            .map(|r| ([r[0].clone(), r[2].clone()], r[3].clone()))
            .collect();
        left.each(|row| {
            if row[1] == "125" && row[0] == "5" {
                row[3] = above[&[row[0].clone(), row[2].clone()]].clone();
                add(&mut row[3], more, decimals);
            }
        })
    };
    copied(
        &[deeper(0.1, 2)],
        "cylinder 5: 8 walls of cylinder 5 at depth 125.0 mm are those of cylinder 5 at 80.0 mm, clock by clock",
    );
}

#[test]
fn walls_told_to_half_a_millimetre_go_by_one_step_by_chance() {
    let coarse = |table: &str| {
        Table::read(table).each(|row| {
            if let Ok(wall) = row[3].parse::<f64>() {
                row[3] = format!("{:.1}", (wall * 2.0).round() / 2.0);
            }
        })
    };
    assert!(told(&plan(&[coarse("walls-left"), coarse("walls-right")])).is_empty());
}

#[test]
fn circles_of_one_depth_written_at_another_hold() {
    let level = |bores: &[&str], decimals: usize| {
        ["bores-left", "bores-right"].map(|table| {
            let table = Table::read(table).each(|row| {
                for cell in &mut row[2..] {
                    add(cell, 0.0, decimals);
                }
            });
            let upper: BTreeMap<String, Vec<String>> =
                table.rows.iter().filter(|r| r[1] == "75").map(|r| (r[0].clone(), r.clone())).collect();
            table.each(|row| {
                if row[1] == "125" && bores.contains(&row[0].as_str()) {
                    row.splice(2.., upper[&row[0]][2..].iter().cloned());
                }
            })
        })
    };
    let words =
        "x, y and diameter of cylinders 1, 3 and 5 at depth 125.0 are those at 75.0 mm to the last digit";
    copied(&level(&["1", "3", "5", "2", "4", "6"], 3), words);
    copied(&level(&["1", "5"], 3), "cylinders 1, 5: x, y and diameter of cylinders 1 and 5 at depth 125.0");
    // One bore may be so straight, and told to a hundredth all may.
    assert!(told(&plan(&level(&["1"], 3))).is_empty());
    assert!(told(&plan(&level(&["1", "3", "5", "2", "4", "6"], 2))).is_empty());
}

/// The sample's walls, each clock counted otherwise.
fn clocks(count: impl Fn(f64) -> f64) -> [Table; 2] {
    ["walls-left", "walls-right"].map(|table| {
        Table::read(table).each(|row| {
            let clock = match row[2].as_str() {
                "rear" => 0.0,
                "front" => 180.0,
                other => other.parse().unwrap(),
            };
            row[2] = format!("{:.0}", count(clock).rem_euclid(360.0));
        })
    })
}

/// The end bores' walls without a reading towards their neighbours at depth 80, as the middle ones' are.
fn siamesed(tables: [Table; 2]) -> [Table; 2] {
    tables.map(|table| {
        table.each(|row| {
            let towards = match row[0].as_str() {
                "1" | "2" => "0",
                "5" | "6" => "180",
                _ => return,
            };
            if row[1] == "80" && row[2] == towards {
                "nr".clone_into(&mut row[3]);
            }
        })
    })
}

#[test]
fn walls_not_read_across_from_the_bridges_tell_of_clocks_counted_from_the_side() {
    goes(&plan(&clocks(|clock| clock)));
    for turn in [90.0, -90.0] {
        let planning = plan(&clocks(|clock| clock + turn));
        held_by(&planning, "clocks_mirrored");
        let found = planning.plan.findings.iter().find(|f| f.code == "clocks_mirrored").unwrap();
        assert!(found.text.contains("counted from the side of the bank"), "{}", found.text);
        assert_eq!(found.verdict, Verdict::Hold);
    }
}

#[test]
fn end_bores_not_read_away_from_the_row_tell_of_the_other_end() {
    goes(&plan(&siamesed(clocks(|clock| clock))));
    let turned = siamesed(clocks(|clock| clock)).map(|table| {
        table.each(|row| row[2] = format!("{:.0}", (row[2].parse::<f64>().unwrap() + 180.0) % 360.0))
    });
    held_by(&plan(&turned), "clocks_mirrored");
    let other_end = siamesed(clocks(|clock| clock)).map(|table| {
        table.each(|row| {
            let other = match row[0].as_str() {
                "1" => "5",
                "5" => "1",
                "2" => "6",
                "6" => "2",
                own => own,
            };
            row[0] = other.to_owned();
        })
    });
    held_by(&plan(&other_end), "clocks_mirrored");
}

#[test]
fn a_boss_rust_or_a_gauge_that_fails_is_no_way_to_count() {
    let spoiled = |places: &[(&str, &str, &str)]| {
        let tables = clocks(|clock| clock).map(|table| {
            table.each(|row| {
                let own = (row[0].as_str(), row[1].as_str(), row[2].as_str());
                let bridge = own.1 == "80" && ["3", "4"].contains(&own.0) && ["0", "180"].contains(&own.2);
                if places.contains(&own) {
                    "nr".clone_into(&mut row[3]);
                } else if bridge {
                    "5.20".clone_into(&mut row[3]);
                }
            })
        });
        codes(&plan(&tables)).contains(&"clocks_mirrored")
    };
    // One bore with a flaw at both depths; a boss beside every bore of a bank; patches of rust.
    assert!(!spoiled(&[("3", "80", "90"), ("3", "125", "90")]));
    assert!(!spoiled(&[("1", "80", "90"), ("3", "80", "90"), ("5", "80", "90")]));
    assert!(!spoiled(&[("3", "80", "90"), ("3", "80", "135"), ("4", "80", "90"), ("4", "80", "45")]));
    // As the sample's bridges are, but across.
    assert!(spoiled(&[("3", "80", "90"), ("3", "80", "270"), ("4", "80", "90"), ("4", "80", "270")]));
}
