//! What was left out or read with something else: thin walls told as not read, rings of one bank alone, limits that nobody states,
//! walls read through the liner, a description that studs and readings deny. Beside each what lies just inside, which stays at go.
//! Bounds: common practice, no source.

use crate::spoil::{BLOCK, JOB, SHOP, against, codes, goes, held_by, sample, sample_with};
use crate::table::{Table, plan};

fn walls(bank: &str) -> Table {
    Table::read(&format!("walls-{bank}"))
}

/// A wall with so much added; `nr` stays.
fn thicker(cell: &mut String, mm: f64) {
    if let Ok(wall) = cell.parse::<f64>() {
        *cell = format!("{:.2}", wall + mm);
    }
}

fn without(mut table: Table, left_out: impl Fn(&[String]) -> bool) -> Table {
    table.rows.retain(|row| !left_out(row));
    table
}

#[test]
fn a_wall_told_as_not_read_where_others_were_is_asked_for() {
    let unread = |bore: &'static str, depth: &'static str, clock: &'static str| {
        walls("left").each(move |row| {
            let here = |at: usize, of: &str| of == "all" || row[at] == of;
            if here(0, bore) && here(1, depth) && here(2, clock) {
                "nr".clone_into(&mut row[3]);
            }
        })
    };
    held_by(&plan(&[unread("1", "80", "270")]), "wall_unread");
    held_by(&plan(&[unread("1", "all", "315")]), "wall_unread");
    // Towards the bore beside it there is none; a place that no bore of the bank was read at is no thin one of one bore.
    for (bore, depth, clock) in [("1", "80", "front"), ("all", "80", "225")] {
        let planning = plan(&[unread(bore, depth, clock)]);
        assert!(!codes(&planning).contains(&"wall_unread"), "{bore} {clock}: {:?}", codes(&planning));
    }
}

#[test]
fn a_ring_that_only_one_bank_has_is_missing_in_the_other() {
    let ring = |depth: &'static str| without(walls("left"), move |row| row[1] == depth);
    held_by(&plan(&[ring("125")]), "row_missing");
    // Where the lower one alone is left, that is asked about.
    held_by(&plan(&[ring("80")]), "depths_shallow");
    // One bore of the bank was read there: then it is that bore's neighbours' own question.
    let others = without(walls("left"), |row| row[1] == "125" && row[0] != "3");
    assert!(!codes(&plan(&[others])).contains(&"row_missing"));
    let circles = without(Table::read("bores-right"), |row| row[1] == "125");
    held_by(&plan(&[circles]), "row_missing");
    // Read a little beside it is read.
    goes(&plan(&[walls("left").each(|row| {
        if row[1] == "125" {
            "118".clone_into(&mut row[1]);
        }
    })]));
}

#[test]
fn walls_that_end_far_above_the_cut_leave_its_lower_end_unread() {
    // The lower register ends 139 deep: 54 is 85 above that.
    let at = |depth: &'static str| {
        ["left", "right"].map(|bank| {
            walls(bank).each(move |row| {
                let own = if row[1] == "125" { depth } else { "35" };
                own.clone_into(&mut row[1]);
            })
        })
    };
    held_by(&plan(&at("53.8")), "depths_shallow");
    assert!(!codes(&plan(&at("55"))).contains(&"depths_shallow"));
}

#[test]
fn a_wall_thinner_than_sleeves_are_fitted_in_is_the_shops_to_allow() {
    // As the job's own it is asked about; where the shop says so it is the shop's.
    let finish = "finish: { bore";
    let own = |wall: &str| format!("limits: {{ parent_wall: {wall} }}\nfinish: {{ bore");
    held_by(&sample(&[(JOB, finish, &own("1.9"))]), "limit_odd");
    goes(&sample(&[(JOB, finish, &own("2.0"))]));
    goes(&sample(&[(JOB, finish, &own("0.0787in"))]));
    goes(&sample(&[(
        SHOP,
        "parent_wall: { least: 2.0, prefer: 2.5 }",
        "parent_wall: { least: 1.8, prefer: 2.5 }",
    )]));
}

#[test]
fn walls_read_with_the_liner_are_thicker_than_the_others_by_it() {
    // The liner's wall is 2.0. One bore, one bank.
    let bore = |by: f64| {
        walls("left").each(move |row| {
            if row[0] == "3" {
                thicker(&mut row[3], by);
            }
        })
    };
    held_by(&plan(&[bore(2.0)]), "wall_odd");
    assert!(!codes(&plan(&[bore(0.8)])).contains(&"wall_odd"));
    let bank = |by: f64| walls("right").each(move |row| thicker(&mut row[3], by));
    held_by(&plan(&[bank(2.0)]), "wall_odd");
    assert!(!codes(&plan(&[bank(0.8)])).contains(&"wall_odd"));
}

#[test]
fn bores_described_along_from_where_studs_and_readings_have_them_are_asked_about() {
    let first = |left: &str, right: &str| {
        sample(&[
            (BLOCK, "first_bore: 46.0", &format!("first_bore: {left}")),
            (BLOCK, "first_bore: 64.0", &format!("first_bore: {right}")),
        ])
    };
    held_by(&first("46.3", "64.3"), "stud_odd");
    assert!(!against(&first("46.1", "64.1")).contains(&"stud_odd".to_owned()));
    held_by(&sample(&[(BLOCK, "bore_spacing: 92.0", "bore_spacing: 92.1")]), "stud_odd");
    // Where the readings have them where they are described, the studs are those that stand aside.
    let read = |bank: &str| {
        Table::read(&format!("bores-{bank}")).each(|row| {
            let x: f64 = row[2].parse().unwrap();
            row[2] = format!("{:.3}", x + 0.3);
        })
    };
    let [left, right] = ["left", "right"].map(|bank| read(bank).text());
    let planning = sample_with(
        &[("readings/bores-left.csv", &left), ("readings/bores-right.csv", &right)],
        &[(BLOCK, "first_bore: 46.0", "first_bore: 46.3"), (BLOCK, "first_bore: 64.0", "first_bore: 64.3")],
    );
    assert!(!against(&planning).contains(&"stud_odd".to_owned()), "{:?}", against(&planning));
}

#[test]
fn what_is_described_or_read_next_to_nothing_is_asked_about() {
    // The bore ends 140 deep: a hole from 168 on is the crankcase's.
    let below = [
        (BLOCK, "start: [92.0, -46.0, 68.0]", "start: [92.0, -46.0, 168.0]"),
        (BLOCK, "end: [92.0, -22.0, 76.0]", "end: [92.0, -22.0, 176.0]"),
    ];
    held_by(&sample(&below), "hole_odd");
    let lean =
        |lean: &str| sample(&[(SHOP, "  machine: 0.004", &format!("  machine: 0.004\n  lean: {lean}"))]);
    held_by(&lean("0.00001"), "instruments_odd");
    goes(&lean("0.00005"));
    // The ledge is cut 7.965 deep.
    let jacket = |from: &str| sample(&[(BLOCK, "jacket: { from: 9.0", &format!("jacket: {{ from: {from}"))]);
    held_by(&jacket("8.6"), "ledge_over_jacket");
    // A deck that rises along the axis: 0.07 and 0.05 over 100.
    let rises = |by: f64| {
        plan(&[Table::read("deck-left").each(move |row| {
            let [x, z] = [0, 2].map(|k| row[k].parse::<f64>().unwrap());
            row[2] = format!("{:.3}", z + by * x);
        })])
    };
    held_by(&rises(0.000_75), "deck_leans");
    assert!(!codes(&rises(0.000_45)).contains(&"deck_leans"));
}
