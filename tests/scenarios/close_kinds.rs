//! Close kinds of fault in what files describe: figures that contradict each other, or that no part of an engine has. Each is
//! held, and what lies just inside is let be. Sums: worked by hand; bounds: common practice, no source.

use crate::spoil::{BLOCK, JOB, MACHINE, W90, codes, held, let_be, sample};

const FINISH: &str = "finish: { bore: 82.0, hone_stock: 0.06, tolerance: 0.010, plate: 45.0 }";
const PISTON: &str =
    "piston: { stroke: 86.0, rod: 146.0, pin_height: 31.0, oil_ring: 16.5, skirt: 44.0, gasket: 1.2 }\n";
const BOLTS: &str = "head_bolts: { per_bank: 8, diameter: 10, preload: 27000, gas_pressure: 8 }\n";

/// The job with some more before its finish.
fn with(more: &str) -> String {
    format!("{more}{FINISH}")
}

#[test]
fn a_cutter_that_bends_and_a_bar_wider_than_its_cutter_mill_no_register() {
    let cutter = |diameter: f64, bar: f64| {
        format!(
            "clearance: 5.0\nmill: [register]\ntools:\n  - {{ name: cutter, kind: milling, diameter: {diameter}, bar: {bar}, reach: 160.0, \
             teeth: 3, cuts: {{ aluminium: {{ speed: 300, feed: 0.08, depth: 3.0 }} }} }}\n"
        )
    };
    let mill = |diameter: f64, bar: f64, code: &str| {
        held(&[(MACHINE, "clearance: 5.0\ntools:\n", &cutter(diameter, bar))], code);
    };
    // L³ / (3 E I) of 160 x 10 in steel is 13 µm a newton.
    mill(10.0, 10.0, "bends");
    mill(20.0, 60.0, "no_tool");
    let_be(&[(MACHINE, "clearance: 5.0\ntools:\n", &cutter(40.0, 40.0))]);
}

#[test]
fn a_jacket_under_the_ledge_a_sleeve_that_ends_wet_and_a_thin_wall_in_coolant_are_held() {
    // The ledge is 7.965 deep: over a jacket from 7.9 on.
    held(&[(BLOCK, "jacket: { from: 9.0", "jacket: { from: 7.9")], "ledge_over_jacket");
    // What the lower register was, in coolant.
    let last =
        (W90, "    interference: 0.03\n    o_rings:", "    clearance: 0.6\n    wet: true\n    o_rings:");
    held(&[last], "wet_last");
    // (86.9 - 82) / 2 = 2.45, and (87.2 - 82) / 2 = 2.6.
    let wall = |diameter: &'static str| (W90, "diameter: 89.0, to: 52.0, clearance: 0.6", diameter);
    held(&[wall("diameter: 86.9, to: 52.0, clearance: 2.0")], "sleeve_thin");
    let_be(&[wall("diameter: 88.0, to: 52.0, clearance: 1.2")]);
}

#[test]
fn a_piston_that_none_is_or_that_runs_colder_than_its_bore_is_held() {
    let piston = |from: &str, to: &str, code: &str| {
        let text = with(&PISTON.replace(from, to));
        held(&[(JOB, FINISH, &text)], code);
    };
    let_be(&[(JOB, FINISH, &with(PISTON))]);
    piston("skirt: 44.0", "skirt: 22.0", "piston_odd");
    piston("oil_ring: 16.5", "oil_ring: 32.0", "piston_odd");
    piston("oil_ring: 16.5", "oil_ring: 2.0", "piston_odd");
    piston("skirt: 44.0", "skirt: 100.0", "skirt_hangs");
    let run = |celsius: &str| {
        let piston = PISTON.replace("gasket: 1.2", &format!("gasket: 1.2, temperature: {celsius}"));
        piston + "finish: { piston: 81.90, clearance: 0.10, hone_stock: 0.06, tolerance: 0.010, plate: 45.0 }"
    };
    let_be(&[(JOB, FINISH, &run("120"))]);
    // A digit lost.
    held(&[(JOB, FINISH, &run("12.0"))], "piston_cold");
}

#[test]
fn bolts_rings_clamps_and_ovens_that_are_told_wrong_are_held() {
    let_be(&[(JOB, FINISH, &with(BOLTS))]);
    held(&[(JOB, FINISH, &with(&BOLTS.replace("per_bank: 8", "per_bank: 6")))], "bolts_few");
    held(&[(BLOCK, "inside: 84.5, outside: 88.5", "inside: 84.5, outside: 92.0")], "ring_odd");
    let clamps = |high: &str| ("    bank: left\n", format!("    bank: left\n    clamps: {high}\n"));
    let (at, text) = clamps("4.99");
    held(&[(JOB, at, &text)], "crossing");
    let (at, text) = clamps("4.0");
    let_be(&[(JOB, at, &text)]);
    let going_in = |clearance: &str, hottest: &str| {
        with(&format!("going_in: {{ clearance: {clearance}, sleeve: 20, hottest: {hottest} }}\n"))
    };
    let_be(&[(JOB, FINISH, &going_in("0.10", "150"))]);
    held(&[(JOB, FINISH, &going_in("0.10", "0"))], "unheated");
    held(&[(JOB, FINISH, &going_in("0.02", "150"))], "drop_gap");
}

#[test]
fn mains_beside_their_bores_and_studs_beside_the_row_are_held() {
    held(&[(BLOCK, "x: 287.0", "x: 240.0")], "mains_odd");
    let throws = [("x: 103.0", "x: 148.0"), ("x: 195.0", "x: 240.0")];
    held(&throws.map(|(from, to)| (BLOCK, from, to)), "mains_odd");
    let row = |low: &'static str, high: &'static str| [(BLOCK, "y: -52.0", low), (BLOCK, "y: 52.0", high)];
    held(&row("y: -42.0", "y: 62.0"), "stud_odd");
    let_be(&row("y: -50.0", "y: 54.0"));
}

#[test]
fn tables_named_for_the_other_bank_and_rough_bores_are_held() {
    let swapped = [
        (JOB, "deck: readings/deck-left.csv", "deck: readings/DECK-left.csv"),
        (JOB, "deck: readings/deck-right.csv", "deck: readings/deck-left.csv"),
        (JOB, "deck: readings/DECK-left.csv", "deck: readings/deck-right.csv"),
    ];
    held(&swapped, "set_up_named");
    held(&[(JOB, "plate: 45.0 }", "plate: 45.0, roughness: { least: 0.25, most: 5.0 } }")], "finish_rough");
    let_be(&[(JOB, "plate: 45.0 }", "plate: 45.0, roughness: { least: 0.25, most: 0.5 } }")]);
}

/// The rows of a table of the left bank, changed.
fn left(table: &str, change: impl Fn(&mut Vec<String>)) -> (String, String) {
    let path = format!("jobs/petrel-0412/readings/{table}-left.csv");
    let text = std::fs::read_to_string(format!("{}/blocks/{path}", env!("CARGO_MANIFEST_DIR"))).unwrap();
    let lines = text.lines().map(|line| {
        let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
        if cells.iter().any(|cell| cell.parse::<f64>().is_ok()) && !line.starts_with('#') {
            change(&mut cells);
        }
        cells.join(",")
    });
    let changed = lines.collect::<Vec<_>>().join("\n") + "\n";
    assert_ne!(changed, text, "{table}");
    (text, changed)
}

fn add(cell: &mut String, by: f64) {
    *cell = format!("{:.3}", cell.parse::<f64>().unwrap() + by);
}

const DECK: &str = "jobs/petrel-0412/readings/deck-left.csv";
const WALLS: &str = "jobs/petrel-0412/readings/walls-left.csv";
const AXIS: &str = "jobs/petrel-0412/readings/axis-left.csv";

#[test]
fn a_deck_that_leans_along_or_across_holds() {
    // 0.001 a mm along: 0.095 over the flange; 0.0015 across: 0.21 over the bore.
    let (text, along) = left("deck", |row| {
        let x: f64 = row[0].parse().unwrap();
        add(&mut row[2], 0.001 * x);
    });
    held(&[(DECK, &text, &along)], "flange_leans");
    let (text, across) = left("deck", |row| {
        let y: f64 = row[1].parse().unwrap();
        add(&mut row[2], 0.0015 * y);
    });
    held(&[(DECK, &text, &across)], "set_up_leans");
}

#[test]
fn walls_near_the_lower_end_alone_hold() {
    let (text, low) = left("walls", |row| row[1] = if row[1] == "80" { "136".into() } else { "138".into() });
    held(&[(WALLS, &text, &low)], "depths_shallow");
}

#[test]
fn two_mains_swept_twice_go_and_a_row_that_was_copied_holds() {
    let axis = |again: f64| {
        let path = format!("{}/blocks/{AXIS}", env!("CARGO_MANIFEST_DIR"));
        let text = std::fs::read_to_string(path).unwrap();
        let mut rows: Vec<String> =
            text.lines().take_while(|l| !l.starts_with("2,")).map(str::to_owned).collect();
        let ends = text.lines().filter(|l| l.starts_with("1,") || l.starts_with("4,"));
        for row in ends {
            if !rows.iter().any(|r| r == row) {
                rows.push(row.to_owned());
            }
            let mut cells: Vec<String> = row.split(',').map(str::to_owned).collect();
            add(&mut cells[2], again);
            rows.push(cells.join(","));
        }
        (text, rows.join("\n") + "\n")
    };
    let (text, swept) = axis(0.003);
    let_be(&[(AXIS, &text, &swept)]);
    let (text, copied) = axis(0.0);
    held(&[(AXIS, &text, &copied)], "axis_unchecked");
}

/// The sample's left axis, each of some mains swept twice: `off` is where the second sweep stands from the first, in y and z.
fn swept(mains: &[&str], off: impl Fn(usize) -> [f64; 2]) -> (String, String) {
    let path = format!("{}/blocks/{AXIS}", env!("CARGO_MANIFEST_DIR"));
    let text = std::fs::read_to_string(path).unwrap();
    let mut rows: Vec<String> =
        text.lines().take_while(|l| !l.starts_with("1,")).map(str::to_owned).collect();
    let own = text.lines().filter(|l| mains.iter().any(|main| l.starts_with(&format!("{main},"))));
    for (at, row) in own.enumerate() {
        let mut cells: Vec<String> = row.split(',').map(str::to_owned).collect();
        rows.push(row.to_owned());
        for (cell, by) in cells[2..4].iter_mut().zip(off(at)) {
            add(cell, by);
        }
        rows.push(cells.join(","));
    }
    (text, rows.join("\n") + "\n")
}

#[test]
fn a_mandrels_run_out_is_no_bend_of_the_mains() {
    // Turned by half between, it stands off by twice its run-out, at every main alike.
    let run_out = |at: usize| [0.032 + [0.001, -0.001, 0.0, 0.001][at], 0.024];
    for mains in [&["1", "2", "3", "4"] as &[&str], &["1", "4"]] {
        let (text, twice) = swept(mains, run_out);
        let_be(&[(AXIS, &text, &twice)]);
    }
    // A slip in one sweep of one main is at no other.
    let slip = |at: usize| if at == 1 { [0.072, 0.024] } else { run_out(at) };
    let (text, one) = swept(&["1", "4"], slip);
    held(&[(AXIS, &text, &one)], "axis_unchecked");
    let (text, one) = swept(&["1", "2", "3", "4"], slip);
    held(&[(AXIS, &text, &one)], "journal_straightness");
    // Two sweeps of all mains, the block moved between: no half turn at each.
    let (text, twice) = swept(&["1", "2", "3", "4"], run_out);
    let (head, rows): (Vec<&str>, Vec<&str>) =
        twice.lines().partition(|l| !l.starts_with(|c: char| c.is_ascii_digit()));
    let sweep = |at: usize| rows.iter().skip(at).step_by(2).copied().collect::<Vec<_>>();
    let moved = [head, sweep(0), sweep(1)].concat().join("\n") + "\n";
    assert!(codes(&sample(&[(AXIS, &text, &moved)])).contains(&"journal_straightness"));
    // And no mandrel runs out by so much.
    let (text, bent) = swept(&["1", "4"], |_| [0.07, 0.0]);
    held(&[(AXIS, &text, &bent)], "axis_unchecked");
}
