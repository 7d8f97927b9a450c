//! Descriptions and limits that contradict themselves, or what the shop asks. Each ends at go without its slip and must not
//! end there with it. The bounds are common practice, no source.

use crate::spoil::{BLOCK, Edit, JOB, ONLY_W90, SHOP, W90, goes, held, sample};

const FLANGE: &str = "thickness: 8.0, clearance: 0.10, flats: 91.9";

/// Lines before the readings of the job.
#[track_caller]
fn held_with(more: &str, code: &str) {
    held(&[(JOB, "aim: journal\n", &format!("aim: journal\n{more}\n"))], code);
}

#[test]
fn a_wet_sleeve_without_a_wet_length_is_held() {
    let row = "  - { name: wet length, diameter: 89.0, to: 52.0, clearance: 0.6, wet: true }\n";
    held(&[(W90, row, "")], "wet_length_missing");
}

#[test]
fn a_sleeve_told_from_under_its_flange_is_held() {
    // 140 of bore, all of it sleeved: with the flange's 8 taken off they end 8 above its end. Another length is a sleeve's own.
    held(&[(W90, "139.0", "132.0")], "from_the_flange");
    goes(&sample(&[ONLY_W90, (BLOCK, "length: 138.0", "length: 133.0"), (W90, "139.0", "133.0")]));
}

#[test]
fn a_flange_as_deep_as_a_sleeve_and_one_without_room_are_held() {
    // 0.15 x 82 = 12.3.
    held(
        &[
            (W90, FLANGE, "thickness: 13.0, clearance: 0.10, flats: 91.9"),
            (BLOCK, "  jacket: { from: 9.0, to: 62.0 }\n", ""),
        ],
        "flange_thick",
    );
    held(&[(W90, FLANGE, "thickness: 8.0, clearance: 0.0, flats: 91.9")], "flange_tight");
}

#[test]
fn registers_of_one_sleeve_are_tight_alike() {
    // 0.03 below: three times that is 0.09.
    held(&[(W90, "to: 18.0, interference: 0.02", "to: 18.0, interference: 0.12")], "registers_apart");
    held(&[(W90, "bore: 81.5", "bore: 78.5")], "finish_stock");
}

#[test]
fn a_limit_far_looser_than_the_shop_asks_is_held() {
    for looser in ["position: 0.11", "clean_up: 0.07", "parent_wall: 0.9", "squareness: 0.09"] {
        held_with(&format!("limits: {{ {looser} }}"), "limit_odd");
    }
    held_with("limits: { position: { across: 0.2, along: 0.05 } }", "limit_odd");
    goes(&sample(&[ONLY_W90, (JOB, "aim: journal\n", "aim: journal\nlimits: { position: 0.09 }\n")]));
}

#[test]
fn a_job_without_any_ground_limit_is_held() {
    let without = |line| (SHOP, line, "");
    held(
        &[
            without("  position: 0.05\n"),
            without("  clean_up: 0.15\n"),
            without("  parent_wall: { least: 2.0, prefer: 2.5 }\n"),
        ],
        "limits_untold",
    );
}

#[test]
fn limits_that_let_a_hole_be_cut_or_the_thrust_side_go_thin_are_held() {
    held(&[(SHOP, "coolant_hole: 1.0", "coolant_hole: 0.0")], "limit_odd");
    held(&[(SHOP, "fire_ring_cover: 0.5", "fire_ring_cover: 0.05")], "limit_odd");
    held(&[(SHOP, "fire_ring_bore: 0.4", "fire_ring_bore: 0.03")], "limit_odd");
    held(&[(SHOP, "parent_wall_thrust: 2.5", "parent_wall_thrust: 0.6")], "limit_odd");
}

#[test]
fn a_stud_beside_another_or_without_a_partner_is_held() {
    let stud = |to| (BLOCK, "{ bank: left, x: 92.0, y: 52.0,", to);
    held(&[stud("{ bank: left, x: 9.2, y: 52.0,")], "stud_odd");
    held(&[stud("{ bank: left, x: 92.0, y: 62.0,")], "stud_odd");
}

#[test]
fn head_bolts_that_do_not_fit_their_holes_are_held() {
    let bolts = |d| format!("head_bolts: {{ per_bank: 8, diameter: {d}, preload: 20000 }}");
    held_with(&bolts(8), "bolt_odd");
}

#[test]
fn an_old_liner_of_a_light_metal_is_held() {
    held(
        &[(BLOCK, "length: 138.0, material: grey iron", "length: 138.0, material: aluminium")],
        "material_odd",
    );
}

#[test]
fn circles_near_the_deck_alone_are_held() {
    let bores = "jobs/petrel-0412/readings/bores-left.csv";
    let text = include_str!("../../blocks/jobs/petrel-0412/readings/bores-left.csv");
    let header = text.lines().find(|l| l.starts_with("cylinder")).unwrap();
    let depth = header.split(',').position(|column| column == "depth").unwrap();
    let edits: Vec<(String, String)> = text
        .lines()
        .filter(|l| l.starts_with(|c: char| c.is_ascii_digit()))
        .map(|line| {
            let mut cells: Vec<String> = line.split(',').map(str::to_owned).collect();
            cells[depth] = format!("{:.1}", cells[depth].parse::<f64>().unwrap() / 5.0);
            (line.to_owned(), cells.join(","))
        })
        .collect();
    let edits: Vec<Edit<'_>> = edits.iter().map(|(from, to)| (bores, from.as_str(), to.as_str())).collect();
    held(&edits, "depths_shallow");
}
