//! Minutes that each pass is in feed: a list's own moves, one by one, touches, ledges and the way back with them.

use std::f64::consts::TAU;

use super::kept;
use crate::plan::moves::{Move, MoveKind, MoveList};
use crate::plan::{Pass, Took};

/// Gives every pass that a list cuts the time that the list's moves at feed take, and the list their sum; rapids
/// take none that is known.
pub(crate) fn minutes(lists: &mut [MoveList], passes: &mut [Pass]) {
    for list in lists {
        let fed = fed(&list.moves);
        list.minutes.clear();
        let own = |pass: &&mut Pass| {
            pass.stage == list.stage && pass.bank == list.bank && list.cylinders.contains(&pass.cylinder)
        };
        for pass in passes.iter_mut().filter(own) {
            let of = |f: &&Fed| f.pass == pass.step && f.cylinder == pass.cylinder;
            let ways = ways(fed.iter().filter(of));
            pass.minutes = ways.iter().map(|[length, feed]| length / feed).sum();
            pass.worked.retain(|figure| figure.about != "minutes");
            pass.worked.extend(kept::in_feed(pass.minutes, &ways));
            list.minutes.push(Took { step: pass.step, cylinder: pass.cylinder, minutes: pass.minutes });
        }
    }
}

/// One move at feed.
struct Fed {
    pass: u32,
    cylinder: u32,
    length_mm: f64,
    feed_mm_per_min: f64,
}

/// Length, mm, at each feed, mm/min, in the order that they come.
fn ways<'f>(fed: impl Iterator<Item = &'f Fed>) -> Vec<[f64; 2]> {
    let mut ways: Vec<[f64; 2]> = Vec::new();
    for Fed { length_mm, feed_mm_per_min, .. } in fed {
        // A list tells a feed in whole steps: one feed is one figure.
        match ways.iter_mut().find(|[_, feed]| feed == feed_mm_per_min) {
            Some([length, _]) => *length += length_mm,
            None => ways.push([*length_mm, *feed_mm_per_min]),
        }
    }
    ways
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
            let length_mm = length_mm(row, at, to);
            fed.push(Fed { pass, cylinder, length_mm, feed_mm_per_min: feed_mm });
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
