//! Stops, what comes after them, and the end: the tool high enough for a gauge, and back over a bore by X and Y
//! before it goes down.

use super::flaw::{At, Flaws};
use super::reference::Basis;
use super::words::Block;

/// Where the tool stands by what was told, from block to block.
#[derive(Default)]
struct Standing {
    /// Counts of the list's last digit; `None` before any Z is told.
    height: Option<i64>,
    /// The stop since which nothing has moved.
    stopped: Option<At>,
}

/// Holds every stop, and the move after it, against what a machinist needs there.
pub(super) fn resume(blocks: &[Block], basis: &Basis, flaws: &mut Flaws) {
    let unit = basis.unit();
    let least = basis.stop_clearance - unit.step();
    let high = |height: i64| unit.length(height) >= least;
    let mut at = Standing::default();
    for block in blocks {
        let [x, y, z, ..] = block.lengths;
        let rapid = block.g.contains(&0);
        if [x, y, z] != [None; 3] {
            let straight_up = rapid && [x, y] == [None; 2] && z.is_some_and(high);
            if at.height.is_none() && !straight_up {
                let expected = format!("G0 with Z alone, Z{} or above", unit.show(basis.stop_clearance));
                flaws.add(block.at, "first_move", "a first move that does not go straight up", expected);
            }
            if let Some(stop) = at.stopped.take().filter(|_| !(rapid && x.is_some() && y.is_some())) {
                let n = stop.block.map_or_else(String::new, |n| format!(" at N{n}"));
                let found = format!("a move after the stop{n} that is no rapid to an X and a Y");
                flaws.add(block.at, "resume", found, "G0 with X and Y: a hand may have moved the table");
            }
            at.height = z.or(at.height);
        }
        if block.m.contains(&0) {
            if !at.height.is_some_and(high) {
                let found = match at.height {
                    None => "a stop before the tool is drawn up".to_owned(),
                    Some(_) => "a stop with the tool too low for a gauge".to_owned(),
                };
                flaws.add(
                    block.at,
                    "stop_low",
                    found,
                    format!("Z{} or above", unit.show(basis.stop_clearance)),
                );
            }
            at.stopped = Some(block.at);
        }
        if block.m.contains(&30) && !at.height.is_some_and(high) {
            let found = "an end with the tool not drawn up";
            flaws.add(block.at, "end_low", found, format!("Z{} or above", unit.show(basis.stop_clearance)));
        }
    }
}
