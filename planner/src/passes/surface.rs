//! Feed marks too high for a finishing pass, and speeds far over a tool's own.

use super::Bench;
use super::kinematics::{mark_height_um, speed_m_per_min};
use crate::job::{Tool, ToolKind};
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Pass, Stage};
use crate::say;

/// Feed marks of a finishing pass higher than this are a thread, micrometres from peak to valley: a register does
/// not seat on them, nor does a hone take them off. Common practice, no source.
const MOST_UM: f64 = 10.0;
/// A spindle that cannot turn slowly enough burns the edge beyond this many times its own speed. Common practice,
/// no source.
const FASTER: f64 = 1.25;
/// Compared within this, as the other limits are.
const SAME: f64 = 1e-6;

/// Holds a bank whose finishing passes leave a thread, or whose cuts are forced far over their tool's own speed.
pub(super) fn judge(bench: &mut Bench<'_>) {
    bench.hold_cuts(|_, tool, pass| [("surface", marks(tool, pass)), ("speed_forced", forced(tool, pass))]);
}

/// How high the marks of a pass may stand, micrometres; `None` of one that is no finishing cut.
pub(super) fn most_um(tool: &Tool, pass: &Pass) -> Option<f64> {
    let finishing = matches!(pass.stage, Stage::Pocket | Stage::Finish) && tool.kind == ToolKind::Boring;
    finishing.then_some(MOST_UM)
}

/// The thread that a finishing pass would cut; `None` where it leaves a surface.
fn marks(tool: &Tool, pass: &Pass) -> Option<Sentence> {
    let most = most_um(tool, pass)?;
    let nose = tool.nose_radius_mm.filter(|_| pass.feed_per_rev > 0.0)?;
    let feed = pass.feed_per_rev;
    let height = mark_height_um(feed, nose);
    let cut =
        say!("step {}, {}: {} a turn with a nose of {}", pass.step, pass.feature, mm(feed, 3), mm(nose, 2));
    if feed > nose + SAME {
        return Some(say!("{cut} cuts a thread: the feed is more than the nose"));
    }
    (height > most + SAME)
        .then(|| say!("{cut} leaves marks {} high, at most {}", mm(height / 1000.0, 4), mm(most / 1000.0, 4)))
}

/// A cut far faster than its tool's own speed in the metal, since the spindle turns no slower.
fn forced(tool: &Tool, pass: &Pass) -> Option<Sentence> {
    let own = tool.cuts.iter().find(|c| c.material == pass.material)?.speed_m_per_min;
    let speed = speed_m_per_min(tool.turning_mm(pass.diameter), pass.rpm);
    (speed > FASTER * own + SAME).then(|| {
        say!(
            "step {}, {}: at its slowest the spindle cuts {} at {speed:.0} m/min, {} has {own:.0} m/min there",
            pass.step, pass.feature, pass.material, tool.name
        )
    })
}
