//! Honest ways to measure that a question would take for a slip, each beside the slip that it must still hold.

use crate::random_job::{Kind, RandomJob};
use crate::spoil::{BLOCK, Edit, codes, goes, held_by, sample, sample_with};
use crate::table::{Table, plan};

/// The left bank's walls, and rows put in the place of each.
fn walls(change: impl Fn(&[String]) -> Vec<[String; 4]>) -> Table {
    let mut table = Table::read("walls-left");
    table.rows = table.rows.iter().flat_map(|row| change(row)).map(Vec::from).collect();
    table
}

fn row(cells: &[String], clock: &str, wall: &str) -> [String; 4] {
    [cells[0].clone(), cells[1].clone(), clock.to_owned(), wall.to_owned()]
}

#[test]
fn a_wall_that_was_not_read_is_let_be_where_it_was_read_beside() {
    let beside = |clocks: &'static [&'static str]| {
        plan(&[walls(move |cells| {
            let own = row(cells, &cells[2], &cells[3]);
            if cells[..3] != ["1", "80", "270"] {
                return vec![own];
            }
            let read = clocks.iter().map(|clock| row(cells, clock, &cells[3]));
            std::iter::once(row(cells, "270", "nr")).chain(read).collect()
        })])
    };
    goes(&beside(&["260", "280"]));
    // 8 mm round the bore, and 17 on either side.
    goes(&beside(&["259"]));
    goes(&beside(&["247", "293"]));
    // 10.7 mm, and one side alone.
    held_by(&beside(&["255"]), "wall_unread");
    held_by(&beside(&["293"]), "wall_unread");
    held_by(&beside(&[]), "wall_unread");
}

/// The walls of the sample's left bank read at six clocks; where none could be read, by bore and clock.
fn six(unread: &'static [(&'static str, u32)]) -> Vec<&'static str> {
    codes(&plan(&[walls(move |cells| {
        // Six of the eight rows, put 60 degrees apart.
        let of = ["rear", "45", "90", "135", "front", "225"];
        let Some(at) = of.iter().position(|clock| *clock == cells[2]) else { return Vec::new() };
        let clock = 60 * u32::try_from(at).unwrap();
        let nr = unread.iter().any(|(bore, c)| *bore == cells[0] && *c == clock);
        let wall = if cells[3] == "nr" { "5.31" } else { cells[3].as_str() };
        vec![row(cells, &clock.to_string(), if nr { "nr" } else { wall })]
    })]))
}

#[test]
fn six_clocks_whose_bridges_were_read_are_counted_right_and_turned_ones_are_not() {
    // The ends of the bank could not be read, and every bridge was.
    let ends = six(&[("1", 180), ("5", 0)]);
    assert!(!ends.contains(&"clocks_mirrored"), "{ends:?}");
    // The bridges of a siamesed block, counted from the other end.
    let turned = six(&[("1", 180), ("3", 0), ("3", 180), ("5", 0)]);
    assert!(turned.contains(&"clocks_mirrored"), "{turned:?}");
}

/// Walls of both banks told to a tenth: those at the lower depth differ from those above by up to so much; `of` gives some bores' own.
fn cast(differ: f64, of: impl Fn([u32; 3]) -> Option<f64>) -> Vec<&'static str> {
    let tables = ["walls-left", "walls-right"].map(|name| {
        let mut table = Table::read(name);
        let mut at = 0;
        table.rows.iter_mut().for_each(|row| {
            let (n, clock) = (row[0].parse::<u32>().unwrap(), at % 8);
            at += 1;
            let round = 5.5 + 0.6 * (1.7 * f64::from(n) + 0.9 * f64::from(clock)).sin();
            let down = differ * (f64::from((7 * n + 3 * clock) % 10) / 5.0 - 1.0);
            let lower = if row[1] == "125" && n != 1 { down } else { 0.0 };
            row[3] = format!("{:.1}", of([n, clock, u32::from(row[1] == "125")]).unwrap_or(round + lower));
        });
        table
    });
    codes(&plan(&tables))
}

#[test]
fn an_even_casting_told_to_a_tenth_repeats_a_ring_and_one_whose_bores_differ_down_does_not() {
    // The rings of cylinder 1 are alike in both.
    assert!(!cast(0.05, |_| None).contains(&"copied"));
    assert!(cast(0.8, |_| None).contains(&"copied"));
    // A bore of one figure, where the others vary by one step or two, and where they vary.
    let flat = |of: f64| {
        cast(0.0, move |[n, clock, lower]| {
            let salt = f64::from(129 * n + 782 * clock + 377 * lower) / 10.0;
            let steps = (3.0 * (43758.5 * salt.sin()).rem_euclid(1.0)).floor();
            Some(if n == 1 { 5.5 } else { 5.5 + of * steps })
        })
    };
    assert!(!flat(0.1).contains(&"copied"), "{:?}", flat(0.1));
    assert!(flat(0.4).contains(&"copied"));
}

#[test]
fn studs_that_were_measured_scatter_by_steps_of_theirs_and_a_slip_is_farther() {
    // All studs a tenth along, as they were read, and one column elsewhere.
    let studs = |first: &str, column: &str, bores: &str| {
        let places = [("0.0", "0.1"), ("92.0", first), ("184.0", column), ("276.0", "276.1")];
        let right = [("18.0", "18.1"), ("110.0", "110.1"), ("202.0", "202.1"), ("294.0", "294.1")];
        let of = |bank: &str, x: &str| format!("bank: {bank}, x: {x}, y");
        let mut told: Vec<(String, String)> =
            places.iter().map(|(is, to)| (of("left", is), of("left", to))).collect();
        told.extend(right.iter().map(|(is, to)| (of("right", is), of("right", to))));
        told.push((
            "cylinders: [1, 3, 5], first_bore: 46.0".into(),
            format!("cylinders: [1, 3, 5], {bores}"),
        ));
        let edits: Vec<Edit<'_>> = told.iter().map(|(is, to)| (BLOCK, is.as_str(), to.as_str())).collect();
        sample(&edits)
    };
    let spaced = "first_bore: 46.0";
    assert!(!codes(&studs("92.1", "184.3", spaced)).contains(&"stud_odd"));
    held_by(&studs("92.1", "185.1", spaced), "stud_odd");
    // Told more finely they were drawn, and a list of bores may have a slip of its own.
    held_by(&studs("92.1", "184.35", spaced), "stud_odd");
    held_by(&studs("92.1", "184.1", "bores: [46.0, 138.2, 230.0]"), "stud_odd");
}

#[test]
fn a_hole_among_the_studs_is_told_where_it_belongs() {
    let stud = "  - { bank: left, x: 92.0, y: -52.0,";
    let drain =
        format!("  - {{ bank: left, x: 71.0, y: -58.0, diameter: 14.0, from: 0.0, to: 110.0 }}\n{stud}");
    let planning = sample(&[(BLOCK, stud, &drain)]);
    held_by(&planning, "stud_odd");
    let odd = planning.plan.findings.iter().filter(|f| f.code == "stud_odd");
    let texts: Vec<String> = odd.map(|f| f.text.to_string()).collect();
    let told = |part: &str| texts.iter().any(|text| text.contains(part));
    assert!(told("and all others have;") && told("under `coolant_holes`"), "{texts:?}");
}

#[test]
fn a_main_that_no_set_up_reaches_is_let_be_and_one_left_out_of_one_is_not() {
    let without = |table: &str, mains: &[&str]| {
        let mut table = Table::read(table);
        table.rows.retain(|row| !mains.contains(&row[0].as_str()));
        table
    };
    goes(&plan(&["axis-left", "axis-right"].map(|table| without(table, &["2"]))));
    held_by(&plan(&[without("axis-left", &["2"])]), "row_missing");
    // Each another one.
    held_by(&plan(&[without("axis-left", &["2"]), without("axis-right", &["3"])]), "row_missing");
}

/// The left bank's bores, cylinder 3 narrower, and gauged again in a second round at some depths, off by so much.
fn gauged(depths: &[&str], off: f64) -> Vec<&'static str> {
    let mut rows = Table::read("bores-left").rows;
    let narrower = |row: &mut Vec<String>, by: f64| {
        let was: f64 = row[4].parse().unwrap();
        row[4] = format!("{:.3}", was - by);
    };
    rows.iter_mut().filter(|row| row[0] == "3").for_each(|row| narrower(row, 0.4));
    let mut again: Vec<Vec<String>> =
        rows.iter().filter(|row| row[0] == "3" && depths.contains(&row[1].as_str())).cloned().collect();
    again.iter_mut().for_each(|row| narrower(row, off));
    let mut text = String::from("cylinder,depth,x,y,diameter,set\n");
    for (set, rows) in [("first", rows), ("again", again)] {
        rows.iter().for_each(|row| text.push_str(&format!("{},{set}\n", row.join(","))));
    }
    codes(&sample_with(&[("readings/bores-left.csv", &text)], &[]))
}

#[test]
fn a_bore_of_another_size_that_was_gauged_again_is_let_be() {
    let all = ["30", "75", "125"];
    assert!(!gauged(&all, 0.003).contains(&"diameter_odd"), "{:?}", gauged(&all, 0.003));
    assert!(gauged(&[], 0.003).contains(&"diameter_odd"));
    // Elsewhere, at some depths alone, or the same rows once more.
    assert!(gauged(&all, 0.04).contains(&"diameter_odd"));
    assert!(gauged(&all[..2], 0.003).contains(&"diameter_odd"));
    assert!(gauged(&all, 0.0).contains(&"diameter_odd"));
}

/// Whether a single bank whose mains were read so much too far apart, and its bores with them or not, is asked about.
fn stretched(seed: u64, ppm: f64, bores: bool) -> bool {
    let mut job = RandomJob::new(seed, Kind { banks: 1, machine: true, parent: false, depths: 3, deck: 6 });
    for (name, table) in &mut job.tables {
        let x = if name.starts_with("axis") { 1 } else { 2 };
        if x == 1 || (bores && name.starts_with("bores")) {
            for row in &mut table.rows {
                row[x] = format!("{:.4}", row[x].parse::<f64>().unwrap() * (1.0 + ppm * 1e-6));
            }
        }
    }
    job.questions().0.contains(&"stretched".to_owned())
}

#[test]
fn mains_of_one_set_up_that_the_bores_deny_were_touched_by_eye_and_a_warm_block_is_held() {
    let asked = |bores: bool| (0..12).filter(|seed| stretched(*seed, 400.0, bores)).count();
    assert_eq!(asked(true), 12);
    // Where bores scatter too much to deny it, it is asked.
    let alone = asked(false);
    assert!(alone < 12, "{alone}");
}
