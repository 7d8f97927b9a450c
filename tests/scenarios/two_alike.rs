//! Two readings that are off alike, so that neither is odd beside all others: each pair is held, and beside it what is merely unusual
//! and stays at go. Bounds: common practice, no source.

use crate::spoil::{codes, goes, held_by};
use crate::table::{Table, plan};

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
