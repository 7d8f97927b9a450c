//! Readings that were right once or for another set-up, and descriptions that readings were made up from: whole tables, each of
//! which agrees with itself. Bounds: common practice, no source.

use borewright_planner::plan::Verdict;

use crate::bench::{Bench, shop, site};
use crate::random_job::{Kind, RandomJob};
use crate::spoil::{BLOCK, Edit, codes, goes, held_by, sample};
use crate::table::{Table, plan, plan_with};

/// Bores of an honest casting whose rows run so much across over 100, left and right.
fn askew(left: f64, right: f64) -> Bench {
    let own = [0.012, -0.015, 0.009, -0.006, -0.011, 0.013, -0.008, 0.007];
    let mut off = [[0.0; 2]; 8];
    for ((n, off), own) in (1..).zip(&mut off).zip(own) {
        let (x, bank) = site(n);
        *off = [own, -own + (x - 230.0) / 100.0 * if bank == "left" { left } else { right }];
    }
    shop().block_of(off)
}

#[test]
fn a_row_that_runs_across_from_end_to_end_is_asked_about_however_long_it_is() {
    let asked = |left, right| codes(&askew(left, right).plan()).contains(&"bank_turned");
    assert!(asked(0.15, 0.0) && asked(0.0, -0.15));
    // Two banks of one crank that run unlike each other; a casting whose rows do a little, and one whose both do alike.
    assert!(asked(0.075, -0.075));
    // Nothing says which of the two was swept askew: no bore of either is cut.
    assert!(askew(0.075, -0.075).plan().plan.cylinders.iter().all(|c| c.withheld));
    assert!(!asked(0.04, -0.04));
    assert!(!asked(0.1, 0.1));
}

/// A column of a table moved, to three places.
fn moved(table: &str, column: usize, by: f64) -> Table {
    Table::read(table)
        .each(move |row| row[column] = format!("{:.3}", row[column].parse::<f64>().unwrap() + by))
}

/// The sample in a fixture whose set-ups stand so far apart across, its bores near their axes, and with the axes as swept or each in
/// the other's place.
fn fixture(apart: f64, exchanged: bool) -> Vec<Table> {
    let axes = [Table::read("axis-left"), moved("axis-right", 2, apart)];
    let bores = [moved("bores-left", 3, -0.14), moved("bores-right", 3, apart - 0.14)];
    let [left, right] = axes;
    let y = |of: &Table| of.rows.iter().map(|row| row[2].clone()).collect::<Vec<_>>();
    let (of_left, of_right) = (y(&left), y(&right));
    let with = |mut table: Table, y: Vec<String>| {
        table.rows.iter_mut().zip(y).for_each(|(row, y)| row[2] = y);
        table
    };
    let [first, second] = if exchanged { [of_right, of_left] } else { [of_left, of_right] };
    let [left_bores, right_bores] = bores;
    vec![with(left, first), with(right, second), left_bores, right_bores]
}

#[test]
fn axes_of_two_set_ups_in_each_others_place_are_asked_about() {
    held_by(&plan(&fixture(0.3, true)), "banks_swapped");
    for apart in [0.0, 0.3] {
        let found = codes(&plan(&fixture(apart, false)));
        assert!(!found.contains(&"banks_swapped"), "{apart}: {found:?}");
    }
}

#[test]
fn bores_described_beside_exact_studs_are_not_borne_out_by_readings_that_may_be_made_up() {
    // Read in the machine's own numbers, and nearer to where the studs have them.
    let first: [Edit<'_>; 2] =
        [(BLOCK, "first_bore: 46.0", "first_bore: 46.3"), (BLOCK, "first_bore: 64.0", "first_bore: 64.3")];
    let read = |by: f64| plan_with(&["bores-left", "bores-right"].map(|table| moved(table, 2, by)), &first);
    held_by(&read(0.1), "stud_odd");
    assert!(!codes(&read(0.3)).contains(&"stud_odd"));
    goes(&sample(&[]));
}

#[test]
fn two_bores_alone_of_a_bank_stand_no_farther_apart_than_two_of_a_row_do() {
    let pair = |by: f64| {
        let bench = [1, 3, 5, 7].into_iter().fold(shop(), |bench, n| bench.bore(n, [0.01, 0.02]));
        bench.bore(2, [0.02, 0.01]).bore(6, [0.01, by]).plan()
    };
    let asked = pair(0.5);
    assert!(codes(&asked).contains(&"bore_apart"), "{:?}", codes(&asked));
    let own = |n: u32| asked.plan.cylinders.iter().find(|c| c.cylinder == n).unwrap();
    assert!([2, 6].into_iter().all(|n| own(n).withheld && own(n).verdict == Verdict::Hold));
    assert!(!codes(&pair(0.15)).contains(&"bore_apart"));
}

#[test]
fn an_along_datum_that_the_other_banks_mains_bear_out_holds_whatever_its_bores_say() {
    // The casting's own offset hides a datum that is as much off the other way.
    let datum: Edit<'_> = (crate::spoil::JOB, "along: { x: -142.35 }", "along: { x: -142.15 }");
    let hidden = plan_with(&[moved("bores-left", 2, 0.2)], &[datum]);
    held_by(&hidden, "along_datum");
    // Where the mains of both say so, the block has them elsewhere, and its bores bear the datums out.
    let other: Edit<'_> = (crate::spoil::JOB, "along: { x: -160.10 }", "along: { x: -159.90 }");
    let both = plan_with(&[moved("bores-left", 2, 0.2), moved("bores-right", 2, 0.2)], &[datum, other]);
    let found = both.plan.findings.iter().find(|f| f.code == "along_datum");
    assert!(found.is_some_and(|f| f.verdict == Verdict::Go), "{found:?}");
}

#[test]
fn a_long_block_is_held_by_what_its_warmth_moves_and_not_by_its_degrees() {
    let asked = |seed: u64, ppm: f64| {
        let mut job =
            RandomJob::new(seed, Kind { banks: 2, machine: true, parent: false, depths: 3, deck: 6 });
        for (name, table) in &mut job.tables {
            let x = if name.starts_with("axis") { 1 } else { 2 };
            if x == 1 || name.starts_with("bores") {
                for row in &mut table.rows {
                    row[x] = format!("{:.4}", row[x].parse::<f64>().unwrap() * (1.0 + ppm * 1e-6));
                }
            }
        }
        job.questions().0.contains(&"stretched".to_owned())
    };
    let count = |ppm: f64| (0..12).filter(|seed| asked(*seed, ppm)).count();
    assert_eq!(count(400.0), 12);
    assert!(count(40.0) < 2);
}
