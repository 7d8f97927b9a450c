//! The way onto a ledge: slowly at the end, and round it before the tool comes up.

use crate::plan::ListUnits;
use crate::plan::moves::{Move, MoveKind};
use crate::plan::sentence::{Sentence, before_mm};
use crate::say;

/// The last stretch above a ledge that is fed slowly, mm. Common practice, no source.
pub(super) const STRETCH_MM: f64 = 0.2;
/// Feed over it, mm per revolution: a chip that the tip still forms. Common practice, no source.
const FEED_MM: f64 = 0.025;
/// The very last of it, mm, told as a move that takes [`TURNS`]: controls differ in the words for a dwell, some
/// read them as thousandths of a second and some as seconds, and all go round while they go down.
const DWELL_MM: f64 = 0.005;
/// Turns of a dwell: the first takes off the step that the feed leaves. Common practice, no source.
const TURNS: f64 = 2.0;

/// Down to a ledge at a depth, mm, at a speed, 1/min, with the feed of the bore above it, mm/min.
pub(super) fn moves(
    floor_mm: f64,
    rpm: f64,
    feed_mm_per_min: f64,
    units: ListUnits,
    own: &dyn Fn(MoveKind) -> Move,
) -> Vec<Move> {
    let (floor, step) = (units.coordinate(floor_mm), units.feed_step_mm());
    // Each of them a whole number of steps, so that the dwell is as long as it says.
    let dwell_mm = units.coordinate(DWELL_MM);
    let to = |above_mm: f64, feed: f64, note: Sentence| Move {
        z_mm: Some(units.coordinate(-(floor - units.coordinate(above_mm)))),
        feed_mm_per_min: Some(feed),
        note,
        ..own(MoveKind::Feed)
    };
    let told = |feed: f64| units.feed(feed.max(step));
    let slow = told(rpm * FEED_MM).min(feed_mm_per_min);
    // Down to a whole step: more turns, never fewer.
    let dwell = told((rpm * DWELL_MM / TURNS / step + 1e-9).floor() * step).min(slow);
    vec![
        to(STRETCH_MM, feed_mm_per_min, say!("to {} above the ledge", before_mm(STRETCH_MM, 1))),
        to(DWELL_MM, slow, "slowly onto the ledge".into()),
        to(
            0.0,
            dwell,
            say!(
                "ledge at depth {}, its last {} over {TURNS:.0} turns, as a dwell",
                before_mm(floor, 3),
                before_mm(dwell_mm, 3)
            ),
        ),
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_ledge_is_fed_as_a_chip_and_gone_round_twice() {
        for rpm in [40.0_f64, 87.0, 300.0, 1066.0, 2500.0] {
            let moves = moves(5.985, rpm, 0.08 * rpm, ListUnits::Mm, &Move::of);
            let z: Vec<f64> = moves.iter().filter_map(|m| m.z_mm).collect();
            assert_eq!(z, [-5.785, -5.98, -5.985]);
            let feeds: Vec<f64> = moves.iter().filter_map(|m| m.feed_mm_per_min).collect();
            // 0.02 to 0.03 mm a turn (common practice), as near as a tenth of a mm a minute tells it.
            assert!((0.02..=0.03).contains(&(feeds[1] / rpm)), "{rpm}: {feeds:?}");
            // At least two turns in its last stretch, and not for ever.
            let turns = 0.005 / feeds[2] * rpm;
            assert!((2.0 - 1e-9..4.0).contains(&turns), "{rpm}: {turns}");
        }
        // In inches: 5.985 mm are 0.235630 in, told 0.2356; 0.2 mm 0.0079 in and 0.005 mm 0.0002 in above it.
        let inch = ListUnits::In(crate::plan::InchesWord::G20);
        let ledge = moves(5.985, 300.0, 24.0, inch, &Move::of);
        let z: Vec<f64> = ledge.iter().filter_map(|m| m.z_mm).map(|z| inch.told(z, 4)).collect();
        assert_eq!(z, [-0.2277, -0.2354, -0.2356]);
        // 0.75 mm/min would be 0.0295 in/min: 0.029 in/min are 0.7366 mm/min, 2.07 turns of 0.00508 mm.
        assert!((ledge[2].feed_mm_per_min.unwrap() - 0.736_6).abs() < 1e-9);
        // A bore fed more finely is not sped up for its ledge.
        let feeds: Vec<f64> = moves(5.0, 300.0, 3.0, ListUnits::Mm, &Move::of)
            .iter()
            .filter_map(|m| m.feed_mm_per_min)
            .collect();
        assert_eq!(feeds, [3.0, 3.0, 0.7]);
    }
}
