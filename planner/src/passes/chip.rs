//! The chip of a cut: whether a tip's nose can form it at all, or the edge rubs or breaks.

use super::Bench;
use crate::job::{Tool, ToolKind};
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Pass, Stage};
use crate::say;
use crate::sleeve::LEAST_CUT_MM;

/// A cut shallower than this share of the nose is pushed off rather than cut: its edge stands under some 29 degrees
/// to the wall. Common practice, no source.
const OF_NOSE: f64 = 0.125;
/// A chip thinner than this is not formed: about a third of the radius of an edge honed for iron. Common practice,
/// no source.
const LEAST_CHIP_MM: f64 = 0.015;
/// A tip is fed no more than this share of its nose a turn. Common practice, no source.
const FEED_OF_NOSE: f64 = 0.8;
/// Compared within this, as the other limits are, mm.
const SAME_MM: f64 = 1e-6;

/// Mean thickness of the chip of a round nose, mm: area a f over the length of edge in cut, r acos(1 − a / r), and
/// beyond the nose straight along the depth.
fn mean_mm(depth_mm: f64, feed_mm: f64, nose_mm: f64) -> f64 {
    let round = nose_mm * (1.0 - depth_mm.min(nose_mm) / nose_mm).acos();
    depth_mm * feed_mm / (round + (depth_mm - nose_mm).max(0.0))
}

/// Holds a bank whose cuts are under the chip that the tip can form, or over what it bears.
pub(super) fn judge(bench: &mut Bench<'_>) {
    // Too little stock in the sleeve is a limit of the sleeve and told there.
    let told = bench.fit.sleeve_limits.iter().any(|l| l.limit == "chip");
    bench.hold_cuts(|_, tool, pass| {
        let under = under(tool, pass).filter(|_| !(told && pass.stage == Stage::Finish));
        [("chip", under.or_else(|| over(tool, pass)))]
    });
}

/// A feed too large for the nose: exchanged with the depth, or another tool's; `None` where it is not.
fn over(tool: &Tool, pass: &Pass) -> Option<Sentence> {
    // A finishing pass with too much feed is told by the marks it leaves.
    let roughing = pass.stage == Stage::Rough && tool.kind == ToolKind::Boring;
    let nose = tool.nose_radius_mm.filter(|nose| roughing && *nose > 0.0)?;
    let most = FEED_OF_NOSE * nose;
    (pass.feed_per_rev > most + SAME_MM).then(|| {
        say!(
            "step {}, {}: {} a turn with a nose of {}, at most {}: the tip breaks. Are `feed` and `depth` exchanged?",
            pass.step,
            pass.feature,
            mm(pass.feed_per_rev, 3),
            mm(nose, 2),
            mm(most, 2)
        )
    })
}

/// What a finishing pass with this tool is short of; `None` where it cuts.
fn under(tool: &Tool, pass: &Pass) -> Option<Sentence> {
    let finishing = matches!(pass.stage, Stage::Pocket | Stage::Finish) && tool.kind == ToolKind::Boring;
    let depth = pass.stock.min;
    if !finishing || depth <= SAME_MM || pass.feed_per_rev <= 0.0 {
        return None;
    }
    let cut = say!("step {}, {}: {} a side", pass.step, pass.feature, mm(depth, 3));
    let nose = tool.nose_radius_mm.unwrap_or(0.0);
    let least = LEAST_CUT_MM.max(OF_NOSE * nose);
    if depth < least - SAME_MM {
        return Some(say!(
            "{} with a nose of {}, at least {}: the edge would rub",
            cut,
            mm(nose, 2),
            mm(least, 3)
        ));
    }
    let chip = if nose > 0.0 { mean_mm(depth, pass.feed_per_rev, nose) } else { pass.feed_per_rev };
    (chip < LEAST_CHIP_MM - SAME_MM).then(|| {
        say!(
            "{} at {} a turn with a nose of {} makes a chip {} thick, at least {}: the edge would rub",
            cut,
            mm(pass.feed_per_rev, 3),
            mm(nose, 2),
            mm(chip, 4),
            mm(LEAST_CHIP_MM, 3)
        )
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_mean_chip_of_a_nose_is_its_area_over_its_edge() {
        // Nose 0.8, depth 0.2, feed 0.15: arc 0.8 acos(0.75) = 0.578 187; 0.03 / 0.578 187 = 0.051 886.
        assert!((mean_mm(0.2, 0.15, 0.8) - 0.051_886).abs() < 1e-6);
        // As deep as the nose: a quarter of a circle, 0.8 x 0.15 / (0.8 pi / 2) = 0.095 493.
        assert!((mean_mm(0.8, 0.15, 0.8) - 0.095_493).abs() < 1e-6);
        // Twice as deep: 1.6 x 0.15 / (0.8 pi / 2 + 0.8) = 0.116 695.
        assert!((mean_mm(1.6, 0.15, 0.8) - 0.116_695).abs() < 1e-6);
    }
}
