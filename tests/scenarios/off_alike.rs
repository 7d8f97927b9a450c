//! Two readings that are off alike, each of which hides the other: where one would be named, the two hold as well, and what honest
//! work does goes. Bounds: common practice, no source.

use borewright_planner::plan::Verdict;

use crate::bench::{Bench, shop, site};
use crate::spoil::{Edit, JOB, codes, goes, held_by, sample};
use crate::table::{Table, plan, plan_with};

/// A column of some rows moved, to three places.
fn moved(table: &str, of: &'static [&str], column: usize, by: f64) -> Table {
    Table::read(table).each(move |row| {
        if of.contains(&row[0].as_str()) {
            row[column] = format!("{:.3}", row[column].parse::<f64>().unwrap() + by);
        }
    })
}

const ALONG: Edit<'_> = (JOB, "along: { x: -142.35 }", "along: { x: -142.05 }");

#[test]
fn a_zero_knocked_between_two_mains_is_no_scatter_of_the_mains() {
    let two = moved("axis-left", &["3", "4"], 1, 0.3);
    held_by(&plan_with(&[two], &[ALONG]), "along_datum");
    held_by(&sample(&[ALONG]), "along_datum");
    let tenth = (JOB, "along: { x: -142.35 }", "along: { x: -142.25 }");
    held_by(&plan_with(&[moved("axis-left", &["3", "4"], 1, 0.1)], &[tenth]), "along_datum");
    // Mains touched a little off their middles.
    goes(&plan(&[moved("axis-left", &["2"], 1, 0.05)]));
    goes(&plan(&[moved("axis-left", &["3", "4"], 1, 0.04)]));
}

/// What each bore of an honest casting stands off, cylinders 1 to 8, mm.
const OWN: [[f64; 2]; 8] = [
    [0.03, -0.06],
    [0.0, 0.07],
    [-0.05, 0.02],
    [0.04, 0.0],
    [0.0, 0.06],
    [0.05, -0.04],
    [0.02, -0.03],
    [-0.04, 0.01],
];

/// A casting some of whose bores were read so much farther across.
fn across(of: &[u32], by: f64) -> Bench {
    let mut off = OWN;
    for (n, off) in (1..).zip(&mut off) {
        off[1] += if of.contains(&n) { by } else { 0.0 };
    }
    shop().block_of(off)
}

#[track_caller]
fn doubted(bench: &Bench, allowed: &[&str]) {
    let planning = bench.plan();
    let found = codes(&planning);
    assert_ne!(planning.plan.verdict, Verdict::Go);
    assert!(allowed.iter().any(|code| found.contains(code)), "{found:?}");
}

#[test]
fn two_bores_that_are_off_alike_do_not_hide_each_other() {
    let same_bank: Vec<u32> = (1..=8).filter(|n| site(*n).1 == "left").collect();
    // One of each bank: what the other leaves is not what the first is held against.
    doubted(&across(&[same_bank[1], 4], 0.6), &["bore_apart"]);
    // Two of a bank: the second and the last, and the two at one end.
    doubted(&across(&[same_bank[1], same_bank[3]], 0.8), &["bore_apart"]);
    doubted(&across(&same_bank[2..], 0.8), &["bank_turned", "bore_apart"]);
    // One alone, as ever; and the casting as it comes.
    doubted(&across(&[same_bank[1]], 0.5), &["bore_apart"]);
    let honest = codes(&across(&[], 0.0).plan());
    assert!(!honest.contains(&"bore_apart") && !honest.contains(&"bank_turned"), "{honest:?}");
}

/// Bores of the left bank that lean by so much over 100.
fn leaning(of: &[u32], over_100: f64) -> Bench {
    let mut bench = shop();
    for n in 1..=8 {
        let lean = if of.contains(&n) { over_100 / 100.0 } else { 0.0002 };
        for depth in [20.0, 60.0, 100.0] {
            let own = OWN[usize::try_from(n).unwrap() - 1];
            bench = bench.circle(n, depth, [own[0], own[1] + lean * (depth - 60.0)], 96.0);
        }
    }
    bench
}

#[test]
fn two_bores_of_a_bank_that_lean_alike_are_asked_about() {
    let left: Vec<u32> = (1..=8).filter(|n| site(*n).1 == "left").collect();
    doubted(&leaning(&left[2..], 0.4), &["bore_leans"]);
    let honest = codes(&leaning(&[], 0.0).plan());
    assert!(!honest.contains(&"bore_leans"), "{honest:?}");
}

#[test]
fn two_deck_points_that_are_off_alike_are_asked_about() {
    let two = |by: f64| {
        let mut table = Table::read("deck-left");
        // Two of the three outer ones.
        for row in table.rows.iter_mut().filter(|row| row[1].starts_with('7')).take(2) {
            row[2] = format!("{:.3}", row[2].parse::<f64>().unwrap() + by);
        }
        table
    };
    held_by(&plan(&[two(0.05)]), "bad_deck_point");
    held_by(&plan(&[two(0.04)]), "bad_deck_point");
    // A deck as it is milled.
    let mut rough = Table::read("deck-left");
    for (row, by) in rough.rows.iter_mut().zip([0.004, -0.003, 0.002, -0.004, 0.003, -0.002]) {
        row[2] = format!("{:.3}", row[2].parse::<f64>().unwrap() + by);
    }
    goes(&plan(&[rough]));
}

#[test]
fn instruments_that_are_too_coarse_are_not_borne_out_by_one_slip() {
    let coarse = (JOB, "readings:\n", "instruments: { centre: 0.05 }\nreadings:\n");
    held_by(&sample(&[coarse]), "no_scatter");
    let mut slip = Table::read("bores-left");
    slip.rows[1][3] = "18.876".into();
    assert!(codes(&plan_with(&[slip], &[coarse])).contains(&"no_scatter"));
    // A deck that is said to be known better than any is.
    let deck = |u: &'static str| sample(&[(JOB, "readings:\n", u)]);
    held_by(&deck("instruments: { deck: 0.0001 }\nreadings:\n"), "instruments_odd");
    goes(&deck("instruments: { deck: 0.002 }\nreadings:\n"));
}

#[test]
fn a_hole_read_at_one_depth_does_not_stand_straight_where_its_liner_leans() {
    let block = |lean_in_100: f64, depths: &[f64]| {
        let mut bench = shop();
        for n in 1..=8 {
            let own = OWN[usize::try_from(n).unwrap() - 1];
            let at = |depth: f64| [own[0], own[1] + lean_in_100 / 100.0 * depth];
            for depth in [20.0, 70.0, 120.0] {
                bench = bench.circle_on("liner", n, depth, at(depth), 96.0);
            }
            for depth in depths {
                let [x, y] = at(*depth);
                bench = bench.circle_on("parent", n, *depth, [x + 0.004, y - 0.003], 101.0);
            }
        }
        bench
    };
    let held = |bench: &Bench| {
        let planning = bench.plan();
        planning.plan.findings.iter().any(|f| f.code == "one_depth" && f.verdict == Verdict::Hold)
    };
    assert!(held(&block(0.2, &[10.0])));
    // Upright, or read where it leans to.
    assert!(!held(&block(0.01, &[10.0])) && !held(&block(0.2, &[10.0, 70.0, 120.0])));
}
