//! Lists written by hand for a milling cutter: helices, circles in parts, ways in and out.

use borewright_planner::prove::{Proof, Reference, prove};
use serde_json::json;

use crate::sample::said;

/// A bank of one bore at (100, 20), roughed to 80 across and 60 deep; a recess of 96 across and 8 deep is
/// milled with a cutter of 40, so that its path is a circle of 28.
///
/// Where the middle is solid nothing was roughed.
fn plan(solid: bool) -> Reference {
    let pass = |step: u32, stage: &str, tool: &str, diameter: f64, to: f64, most: f64| {
        json!({ "step": step, "stage": stage, "bank": "bank", "cylinder": 1, "feature": "recess", "tool": tool, "x": 100.0,
                "y": 20.0, "diameter": diameter, "from": 0.0, "to": to, "mill": { "step_down": 8.5 }, "stock": { "min": 0.0, "max": most }, "rpm": 1200.0, "feed": 240.0 })
    };
    let plan = json!({
        "format": "borewright/plan/1", "fingerprint": "abc123", "release": null,
        "cylinders": [{ "cylinder": 1, "verdict": "go",
                        "measured": { "x": 100.0, "y": 20.0, "diameter": 78.0, "tilt": { "x": 0.0, "y": 0.0 } } }],
        "passes": if solid {
            json!([pass(20, "pocket", "cutter", 96.0, 8.0, 48.0)])
        } else {
            json!([pass(10, "rough", "head", 80.0, 60.0, 1.0), pass(20, "pocket", "cutter", 96.0, 8.0, 8.0)])
        },
        "lists": [{ "file": "lists/20-pocket-bank.nc", "bank": "bank", "stage": "pocket", "cylinders": [1], "sha256": "",
                    "proof": { "zero": null, "axes": [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]], "deck_height": 200.0,
                               "clearance": 5.0, "stop_clearance": 5.0, "plate": null, "deepest": 70.0,
                               "travel": [[-400.0, 400.0], [-200.0, 200.0], [-300.0, 100.0]], "rpm": [40.0, 2500.0],
                               "feed": 1500.0, "millimetres": "G21", "near": [],
                               "tools": [{ "name": "cutter", "kind": "milling", "diameter": [40.0, 40.0], "reach": 60.0 }] } }]
    });
    Reference::parse("plan.json", &plan.to_string()).unwrap()
}

/// A list with these rows between the start of the spindle and its stop.
fn list(rows: &[&str]) -> String {
    let before = ["G17 G21 G90 G94", "G0 Z5.000", "M0", "G0 X100.000 Y20.000", "S1200 M3"];
    let after = ["M5", "G0 Z5.000", "M30"];
    let all: Vec<&str> = before.iter().chain(rows).chain(&after).copied().collect();
    let sum = |letter: char| -> i64 {
        let words = all.iter().flat_map(|row| row.split(' ')).filter_map(|w| w.strip_prefix(letter));
        words.map(|f| f.replace('.', "").parse::<i64>().unwrap()).sum()
    };
    let fixed = |v: i64| format!("{}{}.{:03}", if v < 0 { "-" } else { "" }, v.abs() / 1000, v.abs() % 1000);
    let mut text =
        "(LIST 20 - pocket - BANK bank)\n(CYLINDERS 1) (UNITS mm, feed mm per min)\n(FINGERPRINT abc1-23)\n"
            .to_owned();
    for (row, n) in all.iter().zip(1..) {
        if *row == "M0" {
            text += "(step 20 - cutter of 40.000 mm, recess)\n";
        }
        if row.ends_with("M30") {
            text += &format!(
                "(ROWS {})\n(SUM OF X {})\n(SUM OF Y {})\n",
                all.len() - 1,
                fixed(sum('X')),
                fixed(sum('Y'))
            );
        }
        text += &format!("N{} {row}\n", n * 10);
    }
    text
}

fn proof(rows: &[&str]) -> Proof {
    prove(&list(rows), None, "x.nc", &plan(false))
}

/// In by an arc, down on a helix, once round on the floor, out by an arc, up in the middle.
const HELIX: [&str; 8] = [
    "G1 Z0.500 F240.0",
    "G3 X128.000 Y20.000 I14.000 J0.000",
    "G3 X128.000 Y20.000 Z-4.000 I-28.000 J0.000",
    "G3 X128.000 Y20.000 Z-8.000 I-28.000 J0.000",
    "G3 X128.000 Y20.000 I-28.000 J0.000",
    "G3 X100.000 Y20.000 I-14.000 J0.000",
    "G1 Z-7.500",
    "G0 Z5.000",
];

/// The same with one row changed.
fn but(row: usize, new: &'static str) -> Vec<&'static str> {
    let mut rows = HELIX.to_vec();
    rows[row] = new;
    rows
}

fn codes(proof: &Proof) -> Vec<&'static str> {
    proof.flaws.iter().map(|f| f.code).collect()
}

#[test]
fn a_helix_with_ways_in_and_out_sweeps_the_recess() {
    let proof = proof(&HELIX);
    assert!(proof.proven, "{}", said(&proof));
    assert_eq!((proof.moves, proof.features), (11, 1));
    assert!(proof.largest_difference < 1e-6, "{}", proof.largest_difference);
}

#[test]
fn the_same_in_quarters_and_from_another_side_is_the_same_recess_but_not_clockwise() {
    let clockwise: Vec<String> = HELIX.iter().map(|r| r.replace("G3", "G2")).collect();
    let rows: Vec<&str> = clockwise.iter().map(String::as_str).collect();
    assert_eq!(codes(&proof(&rows)), ["side_of_cut"; 5], "{}", said(&proof(&rows)));
    let quarters = [
        "G1 Z0.500 F240.0",
        "G1 X100.000 Y48.000",
        "G3 X72.000 Y20.000 Z-2.000 I0.000 J-28.000",
        "G3 X100.000 Y-8.000 Z-4.000 I28.000 J0.000",
        "G3 X128.000 Y20.000 Z-6.000 I0.000 J28.000",
        "G3 X100.000 Y48.000 Z-8.000 I-28.000 J0.000",
        "G3 X72.000 Y20.000 I0.000 J-28.000",
        "G3 X100.000 Y-8.000 I28.000 J0.000",
        "G3 X128.000 Y20.000 I0.000 J28.000",
        "G3 X100.000 Y48.000 I-28.000 J0.000",
        "G1 X100.000 Y20.000",
        "G0 Z5.000",
    ];
    let found = proof(&quarters);
    assert!(found.proven && found.features == 1, "{}", said(&found));
    // One of the four on the floor left out: three quarters of a circle are no floor.
    let mut three = quarters.to_vec();
    three.splice(9..11, ["G1 X128.000 Y20.000"]);
    assert!(codes(&proof(&three)).contains(&"floor_open"), "{}", said(&proof(&three)));
}

#[test]
fn a_slanting_start_rounded_to_a_thousandth_still_closes() {
    // 28 at 37 degrees: 22.362 and 16.851, each rounded.
    let rows = [
        "G1 Z0.500 F240.0",
        "G1 X122.362 Y36.851",
        "G3 X122.362 Y36.851 Z-8.000 I-22.362 J-16.851",
        "G3 X122.362 Y36.851 I-22.362 J-16.851",
        "G1 X100.000 Y20.000",
        "G0 Z5.000",
    ];
    let found = proof(&rows);
    assert!(found.proven, "{}", said(&found));
    assert!(found.largest_difference < 0.001);
}

#[test]
fn what_a_milling_list_can_do_wrong_is_named_on_its_row() {
    let row = |n: usize| {
        let text = list(&HELIX);
        text.lines().position(|l| l.starts_with(&format!("N{} ", (n + 6) * 10))).unwrap() + 1
    };
    for (n, new, code, at) in [
        // The circle on the floor is another one.
        (4, "G3 X128.000 Y20.000 I-27.000 J0.000", "centre", 4),
        (3, "G3 X128.000 Y20.000 Z-8.500 I-28.000 J0.000", "too_deep", 3),
        (3, "G3 X128.000 Y20.000 Z-7.900 I-28.000 J0.000", "too_shallow", 3),
        (2, "G3 X128.000 Y20.000 Z-4.000 I-29.000 J0.000", "outside_circle", 2),
        (1, "G3 X128.002 Y20.000 I14.000 J0.000", "arc", 1),
        (1, "G3 X128.000 Y20.000 I14.000", "arc", 1),
        (5, "G3 X100.000 Y20.000 I-13.000 J0.000", "arc", 5),
        (5, "G3 X100.000 Y20.000 I-14.000 J0.500", "outside_circle", 5),
        (0, "G0 Z-0.500", "", 0),
        (0, "G0 Z-60.500", "rapid_down", 0),
        (5, "G0 X101.000 Y20.000", "rapid_across", 5),
        (5, "G0 Z5.000", "rapid_out", 5),
        (5, "G1 X132.000 Y20.000", "outside_circle", 5),
        (0, "G1 Z0.500 F640.0", "feed", 0),
    ] {
        let rows = but(n, new);
        let found = proof(&rows);
        if code.is_empty() {
            // Down fast where roughing has opened more than the cutter takes.
            let rest: Vec<&str> =
                std::iter::once("G1 Z0.500 F240.0").chain(rows[1..].iter().copied()).collect();
            assert!(proof(&rest).proven);
            continue;
        }
        let line = Some(row(at));
        let caught = found.flaws.iter().any(|f| f.code == code && f.line == line);
        assert!(!found.proven && caught, "{new}: {code} on {line:?}\n{}", said(&found));
    }
}

#[test]
fn another_diameter_a_core_or_a_plunge_is_no_recess() {
    let smaller = [
        "G1 Z0.500 F240.0",
        "G1 X127.990 Y20.000",
        "G3 X127.990 Y20.000 Z-8.000 I-27.990 J0.000",
        "G3 X127.990 Y20.000 I-27.990 J0.000",
        "G1 X100.000 Y20.000",
        "G0 Z5.000",
    ];
    assert_eq!(codes(&proof(&smaller)), ["diameter"]);
    let aside = [
        "G1 Z0.500 F240.0",
        "G1 X128.002 Y20.000",
        "G3 X128.002 Y20.000 Z-8.000 I-28.000 J0.000",
        "G3 X128.002 Y20.000 I-28.000 J0.000",
        "G1 X100.000 Y20.000",
        "G0 Z5.000",
    ];
    assert!(codes(&proof(&aside)).contains(&"centre"), "{}", said(&proof(&aside)));
    let plunge = ["G1 Z-8.000 F240.0", "G1 Z5.000"];
    assert!(codes(&proof(&plunge)).contains(&"no_circle"));
    // Without the bore that roughing opened, the cutter leaves a pillar of 16 across, unless it clears that too.
    let solid = plan(true);
    let core = prove(&list(&HELIX), None, "x.nc", &solid);
    assert!(codes(&core).contains(&"core"), "{}", said(&core));
    let mut cleared = HELIX.to_vec();
    cleared
        .splice(5..6, ["G1 X110.000 Y20.000", "G3 X110.000 Y20.000 I-10.000 J0.000", "G1 X100.000 Y20.000"]);
    let whole = prove(&list(&cleared), None, "x.nc", &solid);
    assert!(whole.proven, "{}", said(&whole));
}
