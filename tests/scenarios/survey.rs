//! What the survey says of a block, in words and figures. Sums: worked by hand on the Kittiwake, common practice.

use borewright_planner::load;
use borewright_planner::survey::{SurveyReport, report};

use crate::bench::{Bench, near, with_file};

fn survey(bench: &Bench) -> SurveyReport {
    let dir = bench.write();
    report(&load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap()
}

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
    let text = report.as_bored.text.join("\n");
    // Right bank alone off 0.28 at the deck, 0.068 degrees.
    assert!(text.contains("bank right: 4 bores stand 0.280 mm outwards together"), "{text}");
    assert!(text.contains("bank left: 4 bores stand true within what can be measured"), "{text}");
    assert!(text.contains("bank right alone stands 0.280 off across (0.068 degrees"), "{text}");
    assert!(!text.contains("both banks"), "{text}");
}

#[test]
fn banks_off_alike_are_a_roll_and_banks_off_oppositely_an_angle() {
    let text = survey(&across([0.20; 8])).as_bored.text.join("\n");
    // 0.20 on 235: 0.0488 degrees; towards +Y is a turn about -X.
    assert!(text.contains("both banks stand 0.200 the same way round: a roll of -0.0488 degrees"), "{text}");
    let opened = survey(&across([-0.1, 0.1, -0.1, 0.1, -0.1, 0.1, -0.1, 0.1])).as_bored.text.join("\n");
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
    let text = report.as_bored.text.join("\n");
    assert!(
        text.contains("bore 5 stands 0.28") && text.contains("mm towards the valley apart from that"),
        "{text}"
    );
}

/// The same bores read with the front at the left and at the right; machine Y means of each bank.
fn reversed(right: [f64; 2], left: [f64; 2]) -> SurveyReport {
    let bench = across([left[0], right[0], left[0], right[0], left[0], right[0], left[0], right[0]]);
    let dir = bench.write();
    for (bank, first, mean) in [("left", 1, left[1]), ("right", 2, right[1])] {
        let xs = if bank == "left" { crate::bench::LEFT } else { crate::bench::RIGHT };
        let mut rows = String::from("cylinder,depth,x,y,diameter\n");
        for (i, x) in xs.into_iter().enumerate() {
            let cylinder = first + 2 * i;
            for depth in [20.0, 125.0] {
                // Turned end for end the bank's Y runs against the machine's.
                rows.push_str(&format!("{cylinder},{depth},{x},{},96.0\n", -mean));
            }
        }
        std::fs::write(dir.path().join(format!("turned-{bank}.csv")), rows).unwrap();
    }
    let path = dir.path().join("job.yaml");
    let mut job = std::fs::read_to_string(&path).unwrap();
    for bank in ["left", "right"] {
        job.push_str(&format!(
            "  - set_up: {bank} turned\n    bank: {bank}\n    frame: journal\n    front: right\n    bores: turned-{bank}.csv\n"
        ));
    }
    std::fs::write(&path, job).unwrap();
    report(&load(dir.path()).unwrap_or_else(|faults| panic!("{faults}"))).unwrap()
}

#[test]
fn a_reversal_tells_the_set_up_from_the_block_and_names_the_shim() {
    // Front left R +.21, L +.20; turned R +.17, L +.18: sums .38 and .38.
    let report = reversed([0.21, 0.17], [0.20, 0.18]);
    let r = report.reversal.unwrap();
    assert!(r.closes);
    near(r.closure, 0.0, 1e-9);
    near(r.set_up, 0.19, 1e-9);
    near(r.roll.abs(), 0.0463, 0.0001);
    near(r.shim, 0.16, 1e-9);
    let block = |name: &str| r.banks.iter().find(|b| b.bank == name).unwrap().block;
    near(block("right"), 0.02, 1e-9);
    near(block("left"), 0.01, 1e-9);
    let text = r.text.join("\n");
    assert!(
        text.contains("not the block") && text.contains("shim 0.16 under the rail on the +Y side"),
        "{text}"
    );
    // 0.19 - 0.16 / 200 x 235 = 0.002 is left.
    assert!(text.contains("0.002 is left after the shim"), "{text}");
}

#[test]
fn sums_that_do_not_close_are_a_wrong_reading_and_nothing_is_concluded() {
    let r = reversed([0.21, 0.17], [0.20, 0.05]).reversal.unwrap();
    assert!(!r.closes);
    near(r.closure.abs(), 0.13, 1e-9);
    assert_eq!(r.text.len(), 1);
    assert!(r.text[0].contains("read again"), "{:?}", r.text);
}

#[test]
fn an_index_that_opens_each_bank_looks_like_the_block_and_a_span_reading_is_asked_for() {
    // 0.02 degrees a bank: R +.082, L -.082 the first way, and the same of the block's sign when turned.
    let r = reversed([0.082, -0.082], [-0.082, 0.082]).reversal.unwrap();
    near(r.set_up, 0.0, 1e-9);
    let text = r.text.join("\n");
    assert!(text.contains("index span") && text.contains("read the span"), "{text}");
    assert!(text.contains("bank right: the block's own part is +0.082"), "{text}");
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
    assert!(one.text.contains("sunk 0.050 at clock 0, felt with a fingernail"), "{}", one.text);
    // Liner 96.00 to 101.00 under a ring 97.0 to 101.6: 2.0 on the liner, 0.3 on the parent metal, all round.
    let ring = one.fire_ring.as_ref().unwrap();
    near(ring.on_liner_least, 2.0, 1e-9);
    near(ring.on_parent_most, 0.3, 1e-9);
    assert!(heights.cylinders[1].text.starts_with("proud 0.010 to 0.020"));
    // A bore that stands 0.5 off leaves less on one side: the liner ends 0.5 nearer there.
    let mut bench = across([0.5; 8]);
    bench.block_more = "fire_ring: { inside: 97.0, outside: 101.6 }\n".into();
    let dir = with_heights(&bench, "cylinder,clock,height\n1,rear,-0.05\n");
    let off = borewright_planner::survey::report(&load(dir.path()).unwrap()).unwrap().heights.unwrap();
    let ring = off.cylinders[0].fire_ring.clone().unwrap();
    near(ring.on_parent_most, 0.8, 1e-6);
    near(ring.on_liner_least, 1.5, 1e-6);
    assert!((ring.least_at - 270.0).abs() < 1e-9, "{ring:?}");
}
