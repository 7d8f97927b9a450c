//! A datum that is off: the journal axis askew, a zero that moved, a surface that is another. Each held, and beside it what
//! castings do.

use borewright_planner::plan::Verdict;

use crate::bench::{Bench, shop, site};
use crate::unlikely::{AXIS, sample};

#[track_caller]
fn held(bench: &Bench, code: &str) {
    let planning = bench.plan();
    let found = planning.plan.findings.iter().find(|f| f.code == code);
    let verdict = found.unwrap_or_else(|| panic!("{:?}", planning.plan.findings)).verdict;
    assert_eq!((verdict, planning.plan.verdict), (Verdict::Hold, Verdict::Hold), "{code}");
}

#[track_caller]
fn untold(bench: &Bench, code: &str) {
    let planning = bench.plan();
    assert!(!planning.plan.findings.iter().any(|f| f.code == code), "{:?}", planning.plan.findings);
}

/// What each bore of an honest casting stands off, cylinders 1 to 8, mm.
const OWN: [[f64; 2]; 8] = [
    [0.01, -0.02],
    [0.0, 0.03],
    [-0.02, 0.01],
    [0.01, 0.0],
    [0.0, 0.02],
    [0.02, 0.01],
    [0.01, -0.01],
    [0.0; 2],
];

/// The left bank's row askew to the axis by so much in 100, the right one straight.
fn askew(in_100: f64) -> Bench {
    let mut off = OWN;
    for (n, off) in (1..).zip(&mut off) {
        let (x, bank) = site(n);
        off[1] += if bank == "left" { in_100 / 100.0 * (x - 225.0) } else { 0.0 };
    }
    shop().block_of(off)
}

#[test]
fn a_bank_whose_row_runs_askew_to_its_journal_axis_is_held() {
    // 0.2 in 100 is 0.66 over the bores: a mandrel lifted at one end.
    for in_100 in [0.2, -0.2, 0.5] {
        held(&askew(in_100), "bank_turned");
    }
    // A casting's own: some tenths over its length. Common practice, no source.
    for in_100 in [0.03, -0.03, 0.1] {
        untold(&askew(in_100), "bank_turned");
    }
}

#[test]
fn a_bank_of_another_length_than_the_other_is_held() {
    let long = |by: f64| {
        let off = [1, 2, 3, 4, 5, 6, 7, 8].map(|n| {
            let (x, bank) = site(n);
            [if bank == "left" { by / 330.0 * (x - 225.0) } else { 0.01 }, 0.02]
        });
        shop().block_of(off)
    };
    held(&long(0.6), "bore_spacing");
    held(&long(-0.6), "bore_spacing");
    untold(&long(0.1), "bore_spacing");
}

#[test]
fn a_bank_whose_bores_all_lean_against_its_deck_is_held() {
    let leaning = |lean: f64| {
        let mut bench = shop();
        for n in 1..=8 {
            let by = if site(n).1 == "left" { lean } else { 0.0002 };
            for depth in [20.0, 70.0, 125.0] {
                // About the journal axis, as a deck that lies askew turns them.
                let off = [0.002 * f64::from(n), by * (depth - 235.0) + 0.003 * f64::from(n * n % 5)];
                bench = bench.circle(n, depth, off, 96.0 + 0.01 * f64::from(n));
            }
        }
        bench
    };
    // 0.3 in 100 is 0.7 at the journal axis; what castings lean is some 0.1 over a bore. Common practice, no source.
    for lean in [0.003, -0.003] {
        held(&leaning(lean), "bank_leans");
    }
    for lean in [0.0008, -0.0008] {
        untold(&leaning(lean), "bank_leans");
    }
}

#[test]
fn an_axis_of_two_mains_is_asked_about_sooner() {
    let [two, three] = ["2,-39.350,18.435,-195.202\n", "3,52.650,18.441,-195.213\n"];
    let read = |four: &str| {
        let rear = "4,144.650,18.453,-195.218\n";
        assert!(rear.contains("18.453"));
        let four = rear.replace("18.453", four);
        sample(&[(AXIS, two, ""), (AXIS, three, ""), (AXIS, rear, &four)])
    };
    // Mains 1 and 4 stand 276 apart, the bores of the bank 184: 0.3 is 0.2 over them.
    for four in ["18.753", "18.153", "19.453"] {
        let planning = read(four);
        assert!(
            planning.plan.findings.iter().any(|f| f.code == "bank_turned" && f.verdict == Verdict::Hold),
            "{four}"
        );
    }
    assert!(!read("18.453").plan.findings.iter().any(|f| f.code == "bank_turned"));
}

/// Three bores of the left bank and one of the right, or two, that stand off so in y.
fn few(cylinders: &[u32], off: [f64; 2]) -> Bench {
    let bench = [1, 3, 5, 7].into_iter().fold(shop(), |bench, n| bench.bore(n, [0.01, 0.02]));
    cylinders.iter().fold(bench, |bench, n| bench.bore(*n, off))
}

#[test]
fn a_bore_far_off_in_a_bank_of_one_or_two_that_were_read_is_held() {
    for cylinders in [[2].as_slice(), &[2, 4]] {
        for off in [[0.0, 1.0], [1.0, 0.0], [0.5, -0.5]] {
            let planning = few(cylinders, off).plan();
            for n in cylinders {
                let own = planning.plan.cylinders.iter().find(|c| c.cylinder == *n).unwrap();
                assert_ne!(own.verdict, Verdict::Go, "{cylinders:?} {off:?}");
            }
            let codes: Vec<&str> = planning.plan.findings.iter().map(|f| f.code).collect();
            assert!(codes.iter().any(|c| ["bank_off", "bore_far_off"].contains(c)), "{codes:?}");
        }
        // A parent hole's own 0.3.
        untold(&few(cylinders, [0.1, 0.28]), "bore_far_off");
        untold(&few(cylinders, [0.1, 0.28]), "bank_off");
    }
}

/// Every bore read on its liner, and the bare holes of some after it.
fn bared(holes: &[(u32, [f64; 2])], diameter: f64) -> Bench {
    let mut bench = shop();
    for (n, [x, y]) in (1..).zip(OWN) {
        for depth in [20.0, 125.0] {
            bench = bench.circle_on("liner", n, depth, [x, y], 96.0);
        }
        let moved = holes.iter().filter(|(hole, _)| *hole == n);
        for (depth, (_, by)) in
            [25.0, 70.0, 120.0].into_iter().flat_map(|d| moved.clone().map(move |m| (d, m)))
        {
            bench =
                bench.circle_on("parent", n, depth, [x + by[0], y + by[1]], diameter + 0.001 * depth / 100.0);
        }
    }
    bench
}

#[test]
fn parent_holes_that_all_stand_off_their_liners_alike_are_held() {
    let all = |by: [f64; 2]| [1, 3, 5, 7].map(|n| (n, [by[0] + 0.004 * f64::from(n), by[1]]));
    held(&bared(&all([0.0, 0.3]), 101.0), "parent_off");
    held(&bared(&all([-0.2, 0.05]), 101.0), "parent_off");
    untold(&bared(&all([0.02, 0.03]), 101.0), "parent_off");
    // Every hole its own way, as a casting has them.
    let own = [(1, [0.1, 0.05]), (3, [-0.15, 0.1]), (5, [0.0, -0.2]), (7, [0.1, -0.1])];
    untold(&bared(&own, 101.0), "parent_off");
    // One that stands out where the others stand in their liners, and one where all have their own way.
    let one = [(1, [0.02, 0.01]), (3, [-0.01, 0.21]), (5, [0.0, -0.02]), (7, [0.02, 0.01])];
    held(&bared(&one, 101.0), "parent_off");
    held(&bared(&[(3, [0.0, 0.45])], 101.0), "surface_odd");
    untold(&bared(&[(3, [0.0, 0.25])], 101.0), "surface_odd");
}

#[test]
fn a_parent_hole_narrower_than_the_liner_that_sat_in_it_is_no_bare_hole() {
    let some = [1, 3, 5, 7].map(|n| (n, [0.01, 0.02]));
    held(&bared(&some, 100.0), "surface_odd");
    // A press fit, and spines cast in, take so much: common practice, no source.
    untold(&bared(&some, 100.8), "surface_odd");
    held(&bared(&some, 100.5), "surface_odd");
}
