//! How long each pass is in feed: a list's own moves, one by one, touches, ledges and the way back with them.

use std::f64::consts::TAU;

use crate::plan::Pass;
use crate::plan::moves::{Move, MoveKind, MoveList};

/// Gives every pass that a list cuts the time that the list's moves at feed take; rapids take none that is known.
pub(crate) fn minutes(lists: &[MoveList], passes: &mut [Pass]) {
    for list in lists {
        let fed = fed(&list.moves);
        let own = |pass: &&mut Pass| {
            pass.stage == list.stage && pass.bank == list.bank && list.cylinders.contains(&pass.cylinder)
        };
        for pass in passes.iter_mut().filter(own) {
            let of = |f: &&Fed| f.pass == pass.step && f.cylinder == pass.cylinder;
            pass.minutes = fed.iter().filter(of).map(|f| f.minutes).sum();
        }
    }
}

/// One move at feed.
struct Fed {
    pass: u32,
    cylinder: u32,
    minutes: f64,
}

fn fed(moves: &[Move]) -> Vec<Fed> {
    let mut at = [0.0; 3];
    let mut feed_mm = 0.0_f64;
    let mut fed = Vec::new();
    for row in moves {
        let to = [row.x_mm.unwrap_or(at[0]), row.y_mm.unwrap_or(at[1]), row.z_mm.unwrap_or(at[2])];
        feed_mm = row.feed_mm_per_min.unwrap_or(feed_mm);
        let cut = matches!(row.kind, MoveKind::Feed | MoveKind::Clockwise | MoveKind::Anticlockwise);
        if let (true, Some(cylinder), Some(pass)) = (cut && feed_mm > 0.0, row.cylinder, row.pass) {
            fed.push(Fed { pass, cylinder, minutes: length_mm(row, at, to) / feed_mm });
        }
        at = to;
    }
    fed
}

/// Length of a move, mm: straight, or round a centre while it goes down.
fn length_mm(row: &Move, from: [f64; 3], to: [f64; 3]) -> f64 {
    let down = to[2] - from[2];
    let (Some(i), Some(j)) = (row.i_mm, row.j_mm) else {
        return (to[0] - from[0]).hypot(to[1] - from[1]).hypot(down);
    };
    let centre = [from[0] + i, from[1] + j];
    let angle = |at: [f64; 3]| (at[1] - centre[1]).atan2(at[0] - centre[0]);
    let round = match row.kind {
        MoveKind::Clockwise => angle(from) - angle(to),
        _ => angle(to) - angle(from),
    }
    .rem_euclid(TAU);
    // An end where it starts is the whole circle.
    let round = if round < 1e-9 { TAU } else { round };
    (i.hypot(j) * round).hypot(down)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_circle_is_as_long_as_its_way_and_a_helix_longer() {
        let arc = |kind, [i, j]: [f64; 2]| Move { i_mm: Some(i), j_mm: Some(j), ..Move::of(kind) };
        let (from, quarter) = ([10.0, 0.0, 0.0], [0.0, 10.0, 0.0]);
        let whole = arc(MoveKind::Anticlockwise, [-10.0, 0.0]);
        assert!((length_mm(&whole, from, from) - 62.831_853).abs() < 1e-6);
        // A quarter one way is three quarters the other.
        assert!((length_mm(&whole, from, quarter) - 15.707_963).abs() < 1e-6);
        let other = arc(MoveKind::Clockwise, [-10.0, 0.0]);
        assert!((length_mm(&other, from, quarter) - 47.123_890).abs() < 1e-6);
        // 62.832 round and 8 down: the root of 3947.842 + 64.
        assert!((length_mm(&whole, from, [10.0, 0.0, -8.0]) - 63.339_105).abs() < 1e-5);
        assert!((length_mm(&Move::of(MoveKind::Feed), from, [13.0, 4.0, 0.0]) - 5.0).abs() < 1e-12);
    }
}
