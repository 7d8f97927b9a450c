//! What a first cut must show, in words.

use super::SHOWS_MM;
use crate::job::words;
use crate::passes::{Bench, Cut};
use crate::plan::Stock;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::say;

/// What the first cut must show, in words: on which side it bites, and that it bites nowhere else.
pub(super) fn position_proof(bench: &Bench<'_>, cut: &Cut<'_>, stock: Stock) -> Sentence {
    let old = cut.found.now.axis.at(0.0);
    let towards = [cut.bore.planned_mm[0] - old[0], cut.bore.planned_mm[1] - old[1]];
    let side = words::offset(bench.job, bench.bank, towards);
    if towards[0].hypot(towards[1]) < SHOWS_MM {
        if stock.max - stock.min > 2.0 * SHOWS_MM {
            // The new centre is the old one, so the first cut cannot show a move; only what is out of round is left
            // to look for.
            return say!(
                "step from old wall to new: the bore does not move, but the old one is not round: most {}, least {}",
                mm(stock.max, 2),
                mm(stock.min, 2)
            );
        }
        // Equal as they are read: one figure.
        if stock.max - stock.min < 0.005 {
            return say!("step from old wall to new: it is even all round, {} a side", mm(stock.max, 2));
        }
        return say!(
            "step from old wall to new: it is even all round to the eye, {} to {} a side",
            before_mm(stock.min, 2),
            mm(stock.max, 2)
        );
    }
    say!(
        "steps from old wall to new: bore moves {}; {} on that side, {} opposite. \
         If it bites elsewhere STOP: zero, sign, bank or bore is wrong",
        side,
        mm(stock.max, 2),
        mm(stock.min, 2)
    )
}
