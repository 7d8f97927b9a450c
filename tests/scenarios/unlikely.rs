//! What no careful machinist would let pass: each held, and beside it what is merely unusual and is let be.

use borewright_planner::Planning;
use borewright_planner::plan::Verdict;

use crate::bench::{Bench, edit, shop};
use crate::spoil::{Edit, JOB, changed, codes, goes};

/// One question holds the job, and no list is written for what it doubts.
#[track_caller]
pub fn holds(planning: &Planning, code: &str) {
    assert_eq!(codes(planning), [code], "{:?}", planning.plan.findings);
    assert_eq!(planning.plan.verdict, Verdict::Hold);
    assert!(planning.plan.cylinders.iter().any(|c| c.verdict == Verdict::Hold && c.withheld));
}

/// The sample, with text of its files replaced where it first stands.
pub fn sample(edits: &[Edit<'_>]) -> Planning {
    changed(|blocks| edits.iter().for_each(|(file, from, to)| edit(blocks, file, from, to)))
}

pub const AXIS: &str = "jobs/petrel-0412/readings/axis-left.csv";

#[test]
fn a_main_that_was_not_touched_where_it_is_holds_its_bank() {
    goes(&sample(&[]));
    // A point slipped in x of main 3: 47.4 from where the other three put it.
    let planning = sample(&[(AXIS, "3,52.650", "3,5.265")]);
    holds(&planning, "main_off");
    let said = &planning.plan.findings.iter().find(|f| f.code == "main_off").unwrap().text;
    assert!(said.contains("main 3") && said.contains("-47.385"), "{said}");
    // A main is wider than a millimetre: touched 0.4 off its middle it is no slip.
    goes(&sample(&[(AXIS, "3,52.650", "3,53.050")]));
}

#[test]
fn one_odd_main_does_not_silence_the_others_about_the_along_datum() {
    let along = ("-142.35", "-142.05");
    holds(&sample(&[(JOB, along.0, along.1)]), "along_datum");
    holds(&sample(&[(JOB, along.0, along.1), (AXIS, "3,52.650", "3,53.050")]), "along_datum");
}

#[test]
fn a_bore_far_beyond_the_mains_that_were_read_is_held() {
    let [three, four] = ["3,52.650,18.441,-195.213\n", "4,144.650,18.453,-195.218"];
    // Mains stand 92 apart. Of mains 1 and 2 the rear bore, x 230, lies 127 beyond main 2; of 1 to 3 it lies 35 beyond.
    let planning = sample(&[(AXIS, three, ""), (AXIS, four, "")]);
    assert_eq!(codes(&planning), ["axis_short", "axis_unchecked"]);
    let of = |n: u32| planning.plan.cylinders.iter().find(|c| c.cylinder == n).unwrap().verdict;
    assert_eq!([of(1), of(3), of(5)], [Verdict::Hold; 3]);
    // Three of four do reach far enough; the row left out may be the one that stands off.
    let planning = sample(&[(AXIS, four, "")]);
    holds(&planning, "row_missing");
    assert!(!planning.plan.findings.iter().any(|f| f.code == "axis_short"));
    // Of mains 1 and 4 no bore lies beyond them; that two lie on a line whatever they are is another question.
    holds(&sample(&[(AXIS, "2,-39.350,18.435,-195.202\n", ""), (AXIS, three, "")]), "axis_unchecked");
}

/// Eight bores true, of these diameters.
pub fn of_diameters(diameters: [f64; 8]) -> Planning {
    let mut bench = shop();
    for (n, diameter) in (1..=8).zip(diameters) {
        for depth in [20.0, 125.0] {
            bench = bench.circle(n, depth, [0.0, 0.0], diameter);
        }
    }
    bench.plan()
}

#[test]
fn a_liner_narrower_than_it_was_made_or_worn_through_is_held() {
    // Described 96.0 inside and 101.0 outside.
    goes(&of_diameters([95.92; 8]));
    holds(&of_diameters([95.88; 8]), "diameter_odd");
    holds(&of_diameters([95.4; 8]), "diameter_contradicts_liner");
    goes(&of_diameters([97.0; 8]));
    // All of them 3.0 wider: bored over, or another block's; clean up rests on an outside that nobody read.
    holds(&of_diameters([99.0; 8]), "diameter_contradicts_liner");
    holds(&of_diameters([100.5; 8]), "diameter_contradicts_liner");
}

#[test]
fn one_bore_narrower_all_the_way_down_than_all_others_is_held() {
    let one = |own: f64| {
        let mut diameters = [96.30, 96.31, 96.32, 96.33, 96.34, 96.35, 96.36, 96.37];
        diameters[4] = own;
        of_diameters(diameters)
    };
    // The narrowest of the others of its bank is 96.30.
    goes(&one(96.16));
    holds(&one(96.14), "diameter_odd");
}

/// Bores true, walls at two depths and eight clocks, each its own.
fn walled(change: impl Fn(u32, f64, f64, f64) -> Vec<(f64, f64)>) -> Planning {
    let mut bench = Bench { walls_all_round: false, ..shop() }.block_of([[0.0, 0.0]; 8]);
    bench.limits = "position: 0.8, clean_up: 0.05, parent_wall: 2.0".into();
    for n in 1..=8_u32 {
        for (d, depth) in [60.0, 100.0].into_iter().enumerate() {
            for k in 0..8_u32 {
                let clock = f64::from(k) * 45.0;
                let steps = (7 * n + 3 * k + 5 * u32::try_from(d).unwrap()) % 11;
                let wall = 6.0 + 0.1 * f64::from(steps) + 0.01 * f64::from(n);
                for (clock, wall) in change(n, depth, clock, (wall * 100.0).round() / 100.0) {
                    bench = bench.wall(n, depth, clock, wall);
                }
            }
        }
    }
    bench.plan()
}

#[test]
fn a_wall_that_stands_twice_in_its_table_with_two_figures_is_held() {
    let twice = |by: f64| {
        walled(|n, depth, clock, wall| {
            let own = vec![(clock, wall)];
            let again = (n, depth, clock) == (3, 60.0, 90.0);
            if again { vec![(clock, wall), (clock, wall + by)] } else { own }
        })
    };
    // 4 x sqrt 2 x 0.05 = 0.283.
    goes(&twice(0.27));
    holds(&twice(0.30), "read_twice");
}

#[test]
fn walls_copied_from_another_bore_or_all_of_one_figure_are_held() {
    goes(&walled(|_, _, clock, wall| vec![(clock, wall)]));
    let copied = walled(|n, depth, clock, wall| {
        let steps = (7.0 + 3.0 * (clock / 45.0).round() + if depth > 80.0 { 5.0 } else { 0.0 }) % 11.0;
        let first = ((6.0 + 0.1 * steps + 0.01) * 100.0).round() / 100.0;
        vec![(clock, if n == 4 { first } else { wall })]
    });
    holds(&copied, "copied");
    holds(&walled(|_, _, clock, _| vec![(clock, 6.5)]), "copied");
}

#[test]
fn a_wall_of_twice_all_others_is_held_and_a_thick_corner_is_not() {
    let one = |by: f64| {
        walled(|n, depth, clock, wall| {
            vec![(clock, if (n, depth, clock) == (3, 60.0, 90.0) { wall + by } else { wall })]
        })
    };
    // The thickest of the others is 7.1: twice is 14.2.
    goes(&one(6.0));
    holds(&one(10.0), "wall_odd");
}

#[test]
fn banks_whose_walls_differ_by_a_quarter_and_more_are_held() {
    // Not towards the next bore, which begins after 9 mm: six clocks of eight.
    let left = |times: f64| {
        walled(|n, _, clock, wall| {
            vec![(clock, if n % 2 == 1 && clock % 180.0 != 0.0 { wall * times } else { wall })]
        })
    };
    // Means about 1.15 and 1.45 times the other bank's.
    goes(&left(1.2));
    holds(&left(1.6), "wall_odd");
}

#[test]
fn a_clock_off_the_raster_with_its_own_place_empty_is_held() {
    let moved = |from: f64, to: f64| {
        walled(|n, depth, clock, wall| {
            vec![(if (n, depth, clock) == (3, 60.0, from) { to } else { clock }, wall)]
        })
    };
    for (from, to) in [(270.0, 20.0), (135.0, 13.5), (180.0, 18.0)] {
        holds(&moved(from, to), "wall_odd");
    }
    // Beside a boss, ten degrees off its place; and one more clock than the others have.
    goes(&moved(270.0, 280.0));
    goes(&walled(|n, depth, clock, wall| {
        if (n, depth, clock) == (3, 60.0, 90.0) {
            vec![(clock, wall), (100.0, wall)]
        } else {
            vec![(clock, wall)]
        }
    }));
}

/// Bores at three depths, each a little off of its own.
pub fn scattered(own: impl Fn(u32, u32) -> [f64; 2]) -> Bench {
    let mut bench = shop();
    for n in 1..=8 {
        for (d, depth) in (0..3).zip([20.0, 70.0, 125.0]) {
            bench = bench.circle(n, depth, own(n, d), 96.0);
        }
    }
    bench
}

/// Some thousandths, of no pattern.
pub fn thousandths(n: u32, d: u32, k: u32) -> f64 {
    f64::from((37 * n + 5 * n * d + 3 * d * d + 53 * k) % 17) / 1000.0 - 0.008
}

#[test]
fn a_column_of_the_other_bank_copied_is_held() {
    let own = |n, d| [thousandths(n, d, 0), thousandths(n, d, 1)];
    goes(&scattered(own).plan());
    // Cylinders 2, 4, 6, 8 with the figures of 1, 3, 5, 7.
    let first = |n: u32| n - 1 + n % 2;
    holds(&scattered(|n, d| [thousandths(n, d, 0), thousandths(first(n), d, 1)]).plan(), "copied");
    holds(&scattered(|n, d| [thousandths(first(n), d, 0), thousandths(n, d, 1)]).plan(), "copied");
}

#[test]
fn one_bores_y_in_all_bores_of_its_bank_is_held() {
    let all = |n: u32, d: u32| {
        let of = if n % 2 == 1 { 1 } else { n };
        [thousandths(n, d, 0), thousandths(of, d, 1)]
    };
    holds(&scattered(all).plan(), "copied");
}

#[test]
fn rows_that_stand_twice_in_a_table_are_held() {
    let own = |n, d| [thousandths(n, d, 0), thousandths(n, d, 1)];
    let mut bench = scattered(own);
    let rows = bench.bores["left"].clone();
    // Two may have been read again to the same digits.
    bench.bores.get_mut("left").unwrap().extend(rows.iter().take(2).cloned());
    goes(&bench.plan());
    bench.bores.get_mut("left").unwrap().extend(rows.iter().skip(2).cloned());
    holds(&bench.plan(), "copied");
}

#[test]
fn depths_that_all_lie_near_the_deck_are_held_in_whatever_unit() {
    let at = |depths: [f64; 2]| {
        let mut bench = shop();
        for n in 1..=8 {
            for depth in depths {
                bench = bench.circle(n, depth, [0.0, 0.0], 96.0);
            }
        }
        bench.plan()
    };
    // In cm of a bore of 140: times 25.4 they would be below it.
    holds(&at([2.0, 12.5]), "wrong_unit");
    goes(&at([2.0, 30.0]));
}
