//! The shipped sample with one thing in it spoiled: what ends at go as it is must not end there then.

use std::fs;
use std::path::Path;

use borewright_planner::plan::Verdict;

use crate::spoil::{BLOCK, JOB, ONLY_W90, SHOP, W90, against, held_by, sample};

const LEFT: &str = "jobs/petrel-0412/readings/bores-left.csv";
const WALLS: &str = "jobs/petrel-0412/readings/walls-left.csv";

#[track_caller]
fn held(edits: &[(&str, &str, &str)], code: &str) {
    held_by(&sample(edits), code);
}

#[test]
fn the_sample_as_it_is_ends_at_go() {
    assert_eq!(sample(&[ONLY_W90]).plan.verdict, Verdict::Go);
}

#[test]
fn a_limit_left_out_is_no_licence_to_cut_into_a_stud_a_jacket_a_hole_or_the_next_bore() {
    let without = |limit: &'static str| (SHOP, limit, "");
    let stud = (BLOCK, "x: 92.0, y: -52.0", "x: 46.0, y: -46.0");
    held(&[ONLY_W90, without("  stud_wall: 2.0\n"), stud], "no_metal_left");
    let walls =
        [without("  parent_wall: { least: 2.0, prefer: 2.5 }\n"), without("  parent_wall_thrust: 2.5\n")];
    // The lower register takes about 1.3 of what is behind the liner; 0.9 is less than that.
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(WALLS)).unwrap();
    let row = text.lines().find(|l| l.starts_with("1,80,90,")).unwrap().to_owned();
    let thin = (WALLS, row.as_str(), "1,80,90,0.9");
    held(&[ONLY_W90, walls[0], walls[1], thin], "no_metal_left");
    // Recesses of 95.1 at a spacing of 92 overlap where the flange has no flats to turn together.
    held(&[ONLY_W90, without("  flange_gap: 0.0\n"), (W90, ", flats: 91.9", "")], "no_metal_left");
    let hole_nearer = (BLOCK, "start: [92.0, -46.0, 68.0]", "start: [46.0, -30.0, 68.0]");
    held(&[ONLY_W90, without("  coolant_hole: 1.0\n"), hole_nearer], "no_metal_left");
    held(
        &[
            ONLY_W90,
            without("  fire_ring_bore: 0.4\n"),
            (BLOCK, "inside: 84.5, outside", "inside: 81.0, outside"),
        ],
        "no_metal_left",
    );
}

#[test]
fn a_row_that_calls_the_liner_parent_metal_holds() {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(LEFT)).unwrap();
    let head = text.lines().find(|l| l.starts_with("cylinder")).unwrap().to_owned();
    let first = text.lines().find(|l| l.starts_with("1,")).unwrap().to_owned();
    let (with_head, with_surface) = (format!("{head},surface"), format!("{first},parent"));
    let mut edits =
        vec![(LEFT, head.as_str(), with_head.as_str()), (LEFT, first.as_str(), with_surface.as_str())];
    let others: Vec<(String, String)> = text
        .lines()
        .filter(|l| l.starts_with(|c: char| c.is_ascii_digit()) && *l != first)
        .map(|l| (l.to_owned(), format!("{l},liner")))
        .collect();
    edits.extend(others.iter().map(|(from, to)| (LEFT, from.as_str(), to.as_str())));
    held(&edits, "surface_odd");
    // A sleeve of an earlier repair: nobody knows what it stands in.
    let sleeve: Vec<(String, String)> = text
        .lines()
        .filter(|l| l.starts_with(|c: char| c.is_ascii_digit()))
        .map(|l| (l.to_owned(), format!("{l},sleeve")))
        .collect();
    let mut edits = vec![(LEFT, head.as_str(), with_head.as_str())];
    edits.extend(sleeve.iter().map(|(from, to)| (LEFT, from.as_str(), to.as_str())));
    held(&edits, "surface_odd");
}

#[test]
fn a_deck_left_out_does_not_make_the_spindle_square() {
    held(&[(JOB, "    deck: readings/deck-left.csv\n", "")], "deck_not_read");
}

#[test]
fn a_bank_rolled_by_nobody_knows_how_much_says_nothing_of_studs_and_holes() {
    let shop = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(SHOP)).unwrap();
    let position = ["  position: 0.05\n", "  squareness: 0.04\n"];
    let without = |more: &[&str]| {
        let all = position.iter().chain(more);
        all.fold(shop.clone(), |text, limit| {
            assert!(text.contains(limit));
            text.replace(limit, "")
        })
    };
    let deck = (JOB, "    deck: readings/deck-left.csv\n", "");
    held(&[ONLY_W90, deck, (SHOP, &shop, &without(&[]))], "deck_not_read");
    let rings = ["  fire_ring_cover: 0.5\n", "  fire_ring_bore: 0.4\n", "  coolant_hole: 1.0\n"];
    held(&[ONLY_W90, deck, (SHOP, &shop, &without(&rings))], "deck_not_read");
    // Nothing that is limited lies across: no deck tells nothing then.
    let all = [rings.as_slice(), &["  stud_wall: 2.0\n"]].concat();
    let planning = sample(&[ONLY_W90, deck, (SHOP, &shop, &without(&all))]);
    assert!(!against(&planning).contains(&"deck_not_read".to_owned()));
}

#[test]
fn a_long_register_is_not_known_from_walls_behind_another() {
    let blocks = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks");
    let text = fs::read_to_string(blocks.join(WALLS)).unwrap();
    // The lower register is 52 to 139 deep, the upper ends at 18.
    let moved = text.replace(",125,", ",16,").replace(",80,", ",12,");
    let planning = sample(&[ONLY_W90, (WALLS, &text, &moved)]);
    held_by(&planning, "wall_not_read");
    let told = planning.plan.findings.iter().find(|f| f.code == "wall_not_read").unwrap();
    assert!(told.text.contains("no wall was read behind lower register, 52 to 139 mm deep"), "{}", told.text);
    let one = text.replace(",80,", ",12,");
    assert!(!against(&sample(&[ONLY_W90, (WALLS, &text, &one)])).contains(&"wall_not_read".to_owned()));
}

#[test]
fn a_wall_row_left_out_of_one_bore_holds() {
    let text = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(WALLS)).unwrap();
    let row = format!("{}\n", text.lines().find(|l| l.starts_with("3,80,90,")).unwrap());
    held(&[(WALLS, row.as_str(), "")], "wall_not_read");
    // One that was looked at and could not be read is another thing.
    let unread = (WALLS, row.as_str(), "3,80,90,nr\n");
    assert!(!against(&sample(&[unread])).contains(&"wall_not_read".to_owned()));
}

#[test]
fn a_sleeve_longer_than_its_pocket_or_the_bore_holds() {
    held(
        &[ONLY_W90, (W90, "length: 139.0", "length: 140.0"), (W90, "to: 139.0", "to: 138.0")],
        "past_the_pocket",
    );
    held(&[ONLY_W90, (W90, "to: 139.0", "to: 100.0")], "past_the_pocket");
    held(
        &[ONLY_W90, (W90, "length: 139.0", "length: 141.0"), (W90, "to: 139.0", "to: 141.0")],
        "past_the_bore",
    );
}

#[test]
fn registers_that_no_pass_finishes_hold() {
    held(&[ONLY_W90, (SHOP, "limits:", "allowances: { pocket: 0.0 }\nlimits:")], "allowance");
}

#[test]
fn a_flange_height_that_cannot_be_meant_or_met_holds() {
    let asks = |to: &'static str| (W90, "min: 0.02, max: 0.05", to);
    held(&[ONLY_W90, asks("min: -0.30, max: -0.20")], "protrusion_sunk");
    held(&[ONLY_W90, asks("min: 1.0, max: 3.0")], "protrusion_high");
    held(&[ONLY_W90, asks("min: 0.27, max: 0.30")], "protrusion_high");
    held(&[ONLY_W90, asks("min: 0.0, max: 0.15")], "protrusion_wide");
    // Flange and ledge together come to half of 0.03.
    held(&[ONLY_W90, asks("min: 0.029, max: 0.031")], "protrusion_missed");
}

#[test]
fn a_ledge_or_a_ring_over_the_jacket_holds_and_grooves_in_each_other_stop() {
    // The ledge is 7.965 deep.
    held(&[ONLY_W90, (BLOCK, "from: 9.0, to: 62.0", "from: 7.9, to: 62.0")], "ledge_over_jacket");
    held(&[ONLY_W90, (BLOCK, "from: 9.0, to: 62.0", "from: 9.0, to: 70.0")], "o_ring_in_jacket");
    held(&[ONLY_W90, (W90, "depth: 76.0", "depth: 70.0")], "grooves_meet");
    held(&[ONLY_W90, (W90, "inside: 84.5", "inside: 88.0")], "o_ring_loose");
}

#[test]
fn a_liner_too_thin_to_be_one_holds() {
    held(&[(BLOCK, "outside: 86.0", "outside: 84.0")], "liner_thin");
}

#[test]
fn a_stud_narrower_or_shorter_than_all_others_or_left_out_is_asked_about() {
    let stud = "x: 92.0, y: 52.0, diameter: 11.5, from: 0.0, to: 90.0";
    assert_eq!(sample(&[ONLY_W90, (BLOCK, stud, stud)]).plan.verdict, Verdict::Go);
    for spoiled in [
        "x: 92.0, y: 52.0, diameter: 1.15, from: 0.0, to: 90.0",
        "x: 92.0, y: 52.0, diameter: 10.5, from: 0.0, to: 90.0",
        "x: 92.0, y: 52.0, diameter: 11.5, from: 0.0, to: 9.0",
        "x: 92.0, y: 52.0, diameter: 11.5, from: 0.0, to: 60.0",
    ] {
        held(&[ONLY_W90, (BLOCK, stud, spoiled)], "stud_odd");
    }
    held(&[ONLY_W90, (BLOCK, &format!("  - {{ bank: left, {stud} }}\n"), "")], "stud_odd");
    // All by their radius: no other stud tells it, the bore between them does.
    let block = fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(BLOCK)).unwrap();
    let all = block.replace("diameter: 11.5,", "diameter: 5.75,");
    assert_ne!(all, block);
    held(&[ONLY_W90, (BLOCK, block.as_str(), all.as_str())], "stud_odd");
}

#[test]
fn a_row_that_every_other_bore_or_bank_has_is_asked_for() {
    let blocks = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks");
    let row = |table: &str, start: &str| {
        let text = fs::read_to_string(blocks.join(table)).unwrap();
        format!("{}\n", text.lines().find(|l| l.starts_with(start)).unwrap())
    };
    for (table, start) in [
        (LEFT, "3,"),
        ("jobs/petrel-0412/readings/axis-left.csv", "2,"),
        ("jobs/petrel-0412/readings/axis-right.csv", "4,"),
    ] {
        held(&[ONLY_W90, (table, &row(table, start), "")], "row_missing");
    }
}

#[test]
fn a_position_limit_without_a_deck_that_was_read_is_held() {
    let deck = (JOB, "    deck: readings/deck-left.csv\n", "");
    let squareness = (SHOP, "  squareness: 0.04\n", "");
    let planning = sample(&[ONLY_W90, deck, squareness]);
    let told = planning.plan.findings.iter().find(|f| f.code == "deck_not_read").unwrap();
    assert_eq!(told.verdict, Verdict::Hold);
    // 221 mm of deck height leaning 0.05 degrees: 221 · tan(0.05°) = 0.193.
    assert!(told.text.contains("0.19 mm"), "{}", told.text);
}

/// Every row of a table of the sample with one column changed.
fn column(file: &str, at: usize, changed: impl Fn(&[&str]) -> String) -> Vec<(String, String)> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(file);
    let text = fs::read_to_string(path).unwrap();
    let rows = text.lines().filter(|l| l.starts_with(|c: char| c.is_ascii_digit() || c == '-'));
    rows.map(|row| {
        let cells: Vec<&str> = row.split(',').collect();
        let mut new: Vec<String> = cells.iter().map(ToString::to_string).collect();
        new[at] = changed(&cells);
        (row.to_owned(), new.join(","))
    })
    .filter(|(from, to)| from != to)
    .collect()
}

#[track_caller]
fn column_held(file: &str, changes: &[(String, String)], code: &str) {
    // With their line ends: a row may begin like another.
    let lines: Vec<(String, String)> =
        changes.iter().map(|(from, to)| (format!("\n{from}\n"), format!("\n{to}\n"))).collect();
    let edits: Vec<(&str, &str, &str)> =
        lines.iter().map(|(from, to)| (file, from.as_str(), to.as_str())).collect();
    assert!(!edits.is_empty());
    held(&edits, code);
}

#[test]
fn a_decks_x_in_inches_or_walls_of_one_bore_doubled_hold() {
    let deck = "jobs/petrel-0412/readings/deck-left.csv";
    let inches = column(deck, 0, |cells| format!("{:.3}", cells[0].parse::<f64>().unwrap() / 25.4));
    column_held(deck, &inches, "deck_field");
    for times in [2.0, 0.5] {
        let doubled = column(WALLS, 3, |cells| match cells[3].parse::<f64>() {
            Ok(wall) if cells[0] == "3" => format!("{:.2}", times * wall),
            _ => cells[3].to_owned(),
        });
        column_held(WALLS, &doubled, "wall_odd");
    }
}

#[test]
fn y_of_another_bore_or_one_figure_down_the_column_holds() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("blocks").join(LEFT);
    let text = fs::read_to_string(path).unwrap();
    let y = |n: &str, depth: &str| {
        let row = text.lines().find(|l| l.starts_with(&format!("{n},{depth},"))).unwrap();
        row.split(',').nth(3).unwrap().to_owned()
    };
    let next = column(LEFT, 3, |cells| if cells[0] == "3" { y("1", cells[1]) } else { cells[3].to_owned() });
    column_held(LEFT, &next, "copied");
    let filled = column(LEFT, 3, |_| "18.573".to_owned());
    column_held(LEFT, &filled, "copied");
}

#[test]
fn coolant_told_in_solid_metal_holds() {
    held(&[ONLY_W90, (BLOCK, "from: 9.0, to: 62.0", "from: 9.0, to: 45.0")], "wet_in_metal");
}

#[test]
fn a_coolant_hole_below_the_crank_or_beside_the_block_holds() {
    held(&[ONLY_W90, (BLOCK, "start: [92.0, -46.0, 68.0]", "start: [92.0, -460.0, 68.0]")], "hole_odd");
    held(&[ONLY_W90, (BLOCK, "start: [92.0, -46.0, 68.0]", "start: [92.0, -46.0, 680.0]")], "hole_odd");
}
