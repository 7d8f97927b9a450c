//! Stops of a list: spindle still, room for a gauge, and back by X and Y; the first move goes up.

use borewright_planner::Planning;
use borewright_planner::plan::moves::{Move, MoveKind, MoveList};

use crate::bench::{Bench, SCATTERED, shop};

/// Replays a list by its own rows: what a control would do, told as faults.
fn replay(list: &MoveList, stop_mm: f64) -> usize {
    let (mut z, mut turning, mut stopped, mut stops) = (None::<f64>, false, false, 0);
    for (row, n) in list.moves.iter().zip(1..) {
        let Move { x_mm, y_mm, z_mm, .. } = *row;
        let moves = x_mm.is_some() || y_mm.is_some() || z_mm.is_some();
        if moves && z.is_none() {
            assert!(row.kind == MoveKind::Rapid && x_mm.is_none() && y_mm.is_none(), "row {n}: {row:?}");
            assert_eq!(z_mm, Some(stop_mm), "row {n}");
        }
        if moves && stopped {
            assert!(row.kind == MoveKind::Rapid && x_mm.is_some() && y_mm.is_some(), "row {n}: {row:?}");
            stopped = false;
        }
        match row.kind {
            MoveKind::SpindleOn => turning = true,
            MoveKind::SpindleOff => turning = false,
            MoveKind::Stop => {
                assert!(!turning && z == Some(stop_mm), "row {n}: {row:?} at {z:?}");
                (stopped, stops) = (true, stops + 1);
            }
            MoveKind::Feed | MoveKind::Clockwise | MoveKind::Anticlockwise => assert!(turning, "row {n}"),
            MoveKind::End => assert!(!turning && z == Some(stop_mm)),
            MoveKind::Rapid => {}
        }
        z = z_mm.or(z);
    }
    stops
}

fn planned(bench: &Bench) -> Planning {
    let planning = bench.plan();
    assert!(!planning.lists.is_empty(), "{:?}", planning.plan.findings);
    // What is written proves by a reader of its own.
    let bundle = borewright_output::bundle(&planning).unwrap();
    assert_eq!(bundle.plan.lists.len(), planning.lists.len(), "{:?}", bundle.plan.findings);
    planning
}

#[test]
fn every_stop_of_every_list_is_taken_high_and_still_and_left_by_a_rapid_to_x_and_y() {
    // The travel is 540 and the deepest cut 140: 400 would be left above the deck, and 150 are enough.
    let planning = planned(&Bench::default().block_of(SCATTERED));
    let stops: usize = planning.lists.iter().map(|list| replay(list, 150.0)).sum();
    assert!(stops > 60, "{stops}");
}

#[test]
fn a_machine_that_says_how_high_stops_are_taken_gets_them_there() {
    let bench = Bench { machine: vec![("clearance: 5.0", "clearance: 5.0\nstop_clearance: 82.5")], ..shop() };
    let planning = planned(&bench.block_of(SCATTERED));
    planning.lists.iter().for_each(|list| assert!(replay(list, 82.5) > 0));
}

#[test]
fn a_short_travel_leaves_what_it_leaves() {
    // The parent bore is cut 140 deep: a travel of 240.05 leaves 100.05 above the deck, told as a whole tenth.
    let travel = ("z: [-420, 120]", "z: [-120.05, 120]");
    let planning = planned(&Bench { machine: vec![travel], ..Bench::default() }.block_of(SCATTERED));
    let rough = planning.lists.iter().find(|l| l.stage.word() == "rough").unwrap();
    let deepest = rough.moves.iter().filter_map(|m| m.z_mm).fold(0.0, f64::min);
    let left: f64 = 240.05 + deepest;
    replay(rough, (left * 10.0).floor() / 10.0);
}
