//! The way onto a ledge: slowly at the end, and round it before the tool comes up.

use crate::plan::moves::{Move, MoveKind};
use crate::plan::rounding;

/// The last stretch above a ledge that is fed slowly, mm. Common practice, no source.
pub(super) const STRETCH_MM: f64 = 0.2;
/// Feed over it, mm per revolution: a chip that the tip still forms. Common practice, no source.
const FEED_MM: f64 = 0.025;
/// The very last of it, mm, told as a move that takes [`TURNS`]: controls differ in the words for a dwell, some read them as
/// thousandths of a second and some as seconds, and all go round while they go down.
const DWELL_MM: f64 = 0.005;
/// Turns of a dwell: the first takes off the step that the feed leaves. Common practice, no source.
const TURNS: f64 = 2.0;
/// The slowest feed that a list can tell, mm/min.
const SLOWEST_MM: f64 = 0.1;

/// Down to a ledge at a depth, mm, at a speed, 1/min, with the feed of the bore above it, mm/min.
pub(super) fn moves(
    floor_mm: f64,
    rpm: f64,
    feed_mm_per_min: f64,
    own: &dyn Fn(MoveKind) -> Move,
) -> Vec<Move> {
    let to = |above_mm: f64, feed: f64, note: String| Move {
        z_mm: Some(rounding::coordinate(-(floor_mm - above_mm))),
        feed_mm_per_min: Some(feed),
        note,
        ..own(MoveKind::Feed)
    };
    let told = |feed: f64| rounding::decimals(feed.max(SLOWEST_MM), 1);
    let slow = told(rpm * FEED_MM).min(feed_mm_per_min);
    // Down to a whole tenth: more turns, never fewer.
    let dwell = told((rpm * DWELL_MM / TURNS / SLOWEST_MM + 1e-9).floor() * SLOWEST_MM).min(slow);
    let depth = rounding::coordinate(floor_mm);
    vec![
        to(STRETCH_MM, feed_mm_per_min, format!("to {STRETCH_MM:.1} above the ledge")),
        to(DWELL_MM, slow, "slowly onto the ledge".to_owned()),
        to(
            0.0,
            dwell,
            format!("ledge at depth {depth:.3}, its last {DWELL_MM:.3} over {TURNS:.0} turns, as a dwell"),
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ledge_is_fed_as_a_chip_and_gone_round_twice() {
        for rpm in [40.0_f64, 87.0, 300.0, 1066.0, 2500.0] {
            let moves = moves(5.985, rpm, 0.08 * rpm, &Move::of);
            let z: Vec<f64> = moves.iter().filter_map(|m| m.z_mm).collect();
            assert_eq!(z, [-5.785, -5.98, -5.985]);
            let feeds: Vec<f64> = moves.iter().filter_map(|m| m.feed_mm_per_min).collect();
            // 0.02 to 0.03 mm a turn (common practice), as near as a tenth of a mm a minute tells it.
            assert!((0.02..=0.03).contains(&(feeds[1] / rpm)), "{rpm}: {feeds:?}");
            // At least two turns in its last stretch, and not for ever.
            let turns = 0.005 / feeds[2] * rpm;
            assert!((2.0 - 1e-9..4.0).contains(&turns), "{rpm}: {turns}");
        }
        // A bore fed more finely is not sped up for its ledge.
        let feeds: Vec<f64> =
            moves(5.0, 300.0, 3.0, &Move::of).iter().filter_map(|m| m.feed_mm_per_min).collect();
        assert_eq!(feeds, [3.0, 3.0, 0.7]);
    }
}
