//! A milled pass as moves: down in the middle, in by an arc, round and down, once flat, out by an arc, up.

use borewright_geometry::Helix;

use crate::plan::moves::{Move, MoveKind};
use crate::plan::rounding;
use crate::plan::{Mill, Pass};

/// The cutter's way in the list's coordinates, mm.
fn helix(pass: &Pass, mill: &Mill, middle_mm: [f64; 2], cut_off_mm: f64) -> Helix {
    let height = |depth: f64| rounding::coordinate(cut_off_mm - depth);
    Helix {
        middle_mm,
        path_radius_mm: rounding::coordinate(mill.path_radius),
        from_mm: height(mill.start),
        to_mm: height(pass.to),
        step_down_mm: mill.step_down,
    }
}

/// Where the cutter goes down: beside the middle by less than a thousandth, so that its arcs close on thousandths.
pub(super) fn start(pass: &Pass, mill: &Mill, middle_mm: [f64; 2]) -> [f64; 2] {
    helix(pass, mill, middle_mm, 0.0).start_mm().map(rounding::coordinate)
}

/// Moves from the clearance plane above [`start`] back to it, the spindle already turning.
///
/// Anticlockwise seen from above: with a right-hand cutter that climbs round the inside. X, Y of the middle as told to
/// the machine; every coordinate on a thousandth. `None` where the pass has no way, which its schedule has told.
pub(super) fn moves(
    pass: &Pass,
    mill: &Mill,
    middle_mm: [f64; 2],
    (clear_mm, cut_off_mm): (f64, f64),
    own: &dyn Fn(MoveKind) -> Move,
) -> Option<Vec<Move>> {
    let helix = helix(pass, mill, middle_mm, cut_off_mm);
    let way = helix.way()?;
    let feed = rounding::decimals(pass.feed, 1).max(0.1);
    let mut moves = vec![Move {
        z_mm: Some(helix.from_mm),
        feed_mm_per_min: Some(feed),
        note: "down in the open middle".into(),
        ..own(MoveKind::Feed)
    }];
    let last = way.len() - 1;
    for (i, step) in way.iter().enumerate() {
        let kind = if step.centre_mm.is_some() { MoveKind::Anticlockwise } else { MoveKind::Feed };
        let note = match i {
            0 => "in".to_owned(),
            1 => format!("round and down, {} turns", mill.turns),
            _ if i == last => "out".to_owned(),
            _ if i == last - 2 => "once round flat".to_owned(),
            _ => String::new(),
        };
        moves.push(Move {
            x_mm: Some(rounding::coordinate(step.end_mm[0])),
            y_mm: Some(rounding::coordinate(step.end_mm[1])),
            z_mm: Some(rounding::coordinate(step.end_mm[2])),
            i_mm: step.centre_mm.map(|c| rounding::coordinate(c[0])),
            j_mm: step.centre_mm.map(|c| rounding::coordinate(c[1])),
            feed_mm_per_min: Some(feed),
            note,
            ..own(kind)
        });
    }
    moves.push(Move { z_mm: Some(clear_mm), note: "up in the open middle".into(), ..own(MoveKind::Rapid) });
    moves.push(own(MoveKind::SpindleOff));
    Some(moves)
}
