//! What the survey says of a block, in words and figures. Sums: worked by hand on the Kittiwake, common practice.

use borewright_planner::load;
use borewright_planner::report::report;

use crate::bench::{Bench, near, survey, with_file};

/// Off-true across, cylinders 1 to 8, the same at two depths.
fn across(y: [f64; 8]) -> Bench {
    let mut bench = Bench::default().block_of(y.map(|y| [0.0, y]));
    bench.instruments =
        "centre: 0.003, diameter: 0.004, wall: 0.05, axis: 0.004, along: 0.004, machine: 0.004".into();
    bench
}

#[test]
fn one_bank_off_alone_is_not_explained_as_roll_plus_angle() {
    let report = survey(&across([-0.01, 0.27, 0.02, 0.29, 0.0, 0.28, 0.01, 0.28]));
    let text = crate::bench::lines(&report.as_bored.text);
    // Right bank alone off 0.28 at the deck, 0.068 degrees.
    assert!(text.contains("bank right: 4 bores stand 0.280 mm outwards together"), "{text}");
    assert!(text.contains("bank left: 4 bores stand true within what can be measured"), "{text}");
    assert!(text.contains("bank right alone stands 0.280 off across (0.068 degrees"), "{text}");
    assert!(!text.contains("both banks"), "{text}");
}

#[test]
fn banks_off_alike_are_a_roll_and_banks_off_oppositely_an_angle() {
    let text = crate::bench::lines(&survey(&across([0.20; 8])).as_bored.text);
    // 0.20 on 235: 0.0488 degrees; towards +Y is a turn about -X.
    assert!(text.contains("both banks stand 0.200 the same way round: a roll of -0.0488 degrees"), "{text}");
    let opened =
        crate::bench::lines(&survey(&across([-0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1])).as_bored.text);
    // 0.2 apart on 235: 0.0488 degrees open.
    assert!(
        opened.contains("the banks stand 0.200 apart: an included angle 0.0488 degrees open"),
        "{opened}"
    );
    assert!(opened.contains("index span"), "{opened}");
}

#[test]
fn one_odd_bore_does_not_drag_its_bank() {
    let mut y = [0.14, 0.0, 0.143, 0.0, 0.43, 0.003, 0.138, -0.002];
    y[1] = 0.001;
    let report = survey(&across(y));
    let left = report.as_bored.robust.iter().find(|b| b.bank == "left").unwrap();
    near(left.shift[1], 0.1415, 0.002);
    assert_eq!(left.bores.iter().filter(|b| b.odd).map(|b| b.cylinder).collect::<Vec<_>>(), [5]);
    let text = crate::bench::lines(&report.as_bored.text);
    assert!(
        text.contains("bore 5 stands 0.28") && text.contains("mm towards the valley apart from that"),
        "{text}"
    );
}

fn with_heights(bench: &Bench, rows: &str) -> tempfile::TempDir {
    let bores = "    bores: bores-left.csv\n";
    with_file(bench, "heights.csv", rows, bores, &format!("{bores}    heights: heights.csv\n"))
}

#[test]
fn sunk_liners_are_named_with_what_is_left_under_the_fire_ring() {
    let mut bench = across([0.0; 8]);
    bench.block_more = "fire_ring: { inside: 97.0, outside: 101.6 }\n".into();
    let dir = with_heights(
        &bench,
        "cylinder,clock,height\n1,rear,-0.05\n1,90,-0.03\n1,front,-0.02\n1,270,-0.04\n3,rear,0.01\n3,front,0.02\n",
    );
    let report = report(&load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap();
    let heights = report.heights.unwrap();
    assert_eq!(heights.cylinders.len(), 2);
    let one = &heights.cylinders[0];
    near(one.least, -0.05, 1e-12);
    near(one.mean, -0.035, 1e-12);
    assert!(one.text.contains("sunk 0.050 mm at clock 0, felt with a fingernail"), "{}", one.text);
    // Liner 96.00 to 101.00 under a ring 97.0 to 101.6: 2.0 on the liner, 0.3 on the parent metal, all round.
    let ring = one.fire_ring.as_ref().unwrap();
    near(ring.on_liner_least, 2.0, 1e-9);
    near(ring.on_parent_most, 0.3, 1e-9);
    assert!(heights.cylinders[1].text.to_string().starts_with("proud 0.010 to 0.020"));
    // A bore that stands 0.5 off leaves less on one side: the liner ends 0.5 nearer there.
    let mut bench = across([0.5; 8]);
    bench.block_more = "fire_ring: { inside: 97.0, outside: 101.6 }\n".into();
    let dir = with_heights(&bench, "cylinder,clock,height\n1,rear,-0.05\n");
    let off = borewright_planner::report::report(&load(dir.path()).unwrap()).unwrap().heights.unwrap();
    let ring = off.cylinders[0].fire_ring.clone().unwrap();
    near(ring.on_parent_most, 0.8, 1e-6);
    near(ring.on_liner_least, 1.5, 1e-6);
    assert!((ring.least_at - 270.0).abs() < 1e-9, "{ring:?}");
}

#[test]
fn readings_that_make_nothing_are_told_with_their_file_and_line() {
    let bench = Bench { walls_all_round: false, ..across([0.0; 8]) };
    let bores = "    bores: bores-left.csv\n";
    let told = |name: &str, key: &str, text: &str| {
        let dir = with_file(&bench, name, text, bores, &format!("{bores}    {key}: {name}\n"));
        report(&load(dir.path()).unwrap()).unwrap_err().to_string()
    };
    // Two points only at the second depth, after a comment, the header and three good points.
    let good = "1,20,108,0\n1,20,60,48\n1,20,12,0\n";
    let text =
        told("p.csv", "points", &format!("# probed\ncylinder,depth,x,y\n{good}1,70,108,0\n1,70,12,0\n"));
    assert!(text.starts_with("p.csv:6: cylinder 1, depth 70 mm: found"), "{text}");
    let text =
        told("w.csv", "walls", "cylinder,depth,clock,wall,surface\n1,70,90,5.1,\n1,70,90,7.1,sleeve\n");
    assert!(text.starts_with("w.csv:3: cylinder 1: found a wall measured from the sleeve"), "{text}");
}
