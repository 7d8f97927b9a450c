//! Cuts that no tool takes, and tools that the machine file says too little of: a bar that bends, feed ridges, a
//! speed that burns the edge.

use super::Bench;
use super::kinematics::speed_m_per_min;
use crate::job::{Cut, Tool, ToolKind};
use crate::material::{self, LIGHT_PER_K, Material};
use crate::plan::sentence::{Sentence, mm};
use crate::plan::{Pass, Stage};
use crate::say;

/// A finishing bar that gives way by more than this does not hold a register's size, mm. Common practice, no
/// source.
const FINISH_BENDS_MM: f64 = 0.010;
/// A roughing bar that gives way by more than this chatters and copies the old bore, mm. Common practice, no
/// source.
const ROUGH_BENDS_MM: f64 = 0.10;
/// The most that a boring head takes in one cut, mm a side. Common practice, no source.
const DEEPEST_MM: f64 = 2.0;
/// The fastest speeds that a small shop's edges stand, m/min: in iron or steel, in light metal. Common practice, no
/// source.
const FASTEST: [f64; 2] = [250.0, 1000.0];
/// The largest nose radius of a tip, mm. Common practice, no source.
const LARGEST_NOSE_MM: f64 = 3.2;
/// Compared within this, as the other limits are.
const SAME: f64 = 1e-6;

/// Holds a bank whose cuts no tool takes.
pub(super) fn judge(bench: &mut Bench<'_>) {
    bench.hold_cuts(|bench, tool, pass| {
        [
            ("tool_untold", untold(tool, pass)),
            ("bends", bends(tool, pass)),
            ("surface", thread(tool, pass)),
            ("speed_odd", speed(bench, tool, pass)),
        ]
    });
}

fn is_finishing(pass: &Pass) -> bool {
    matches!(pass.stage, Stage::Pocket | Stage::Finish)
}

fn of_step(pass: &Pass) -> Sentence {
    say!("step {}, {}", pass.step, pass.feature)
}

/// What the machine file does not tell of a bar or its nose, in words: whether it bends, rubs or cuts a thread is
/// then not known.
fn untold(tool: &Tool, pass: &Pass) -> Option<Sentence> {
    if let Some(nose) = tool.nose_radius_mm.filter(|nose| *nose > LARGEST_NOSE_MM + SAME) {
        return Some(say!(
            "the nose of {} is told as {}, at most {}: in which unit is it written?",
            tool.name,
            mm(nose, 2),
            mm(LARGEST_NOSE_MM, 1)
        ));
    }
    let key = match (tool.kind, tool.bar_mm, tool.nose_radius_mm) {
        (ToolKind::Boring, None, _) => "bar",
        (ToolKind::Boring, _, None) if is_finishing(pass) => "nose_radius",
        _ => return None,
    };
    Some(say!(
        "the machine file does not tell `{key}` of {}, so that nobody knows whether it {}",
        tool.name,
        if key == "bar" { "bends" } else { "rubs or cuts a thread" }
    ))
}

/// How far a bar or cutter may give way in a pass, mm. Of a milled ledge or length in coolant no size is held to
/// hundredths.
pub(super) fn most_bend_mm(pass: &Pass) -> f64 {
    let to_size = pass.mill.as_ref().map_or_else(|| is_finishing(pass), |mill| mill.to_size);
    if to_size { FINISH_BENDS_MM } else { ROUGH_BENDS_MM }
}

/// A bar that gives way.
fn bends(tool: &Tool, pass: &Pass) -> Option<Sentence> {
    let (load, most) = (pass.load?, most_bend_mm(pass));
    if load.deflection > most + SAME {
        return Some(say!(
            "{}: {} and the spindle give way by {}, at most {}",
            of_step(pass),
            tool.name,
            mm(load.deflection, 3),
            mm(most, 3)
        ));
    }
    (tool.kind == ToolKind::Boring && pass.stock.max > DEEPEST_MM + SAME).then(|| {
        say!(
            "{}: {} a side in one cut, at most {}: is `depth` of {} in this unit?",
            of_step(pass),
            mm(pass.stock.max, 2),
            mm(DEEPEST_MM, 1),
            tool.name
        )
    })
}

/// A roughing feed beyond the nose: ridges higher than what is left for the next cut.
fn thread(tool: &Tool, pass: &Pass) -> Option<Sentence> {
    let rough = pass.stage == Stage::Rough && tool.kind == ToolKind::Boring;
    let nose = tool.nose_radius_mm.filter(|_| rough)?;
    (pass.feed_per_rev > nose + SAME).then(|| {
        say!(
            "{}: {} a turn with a nose of {} cuts a thread, whose ridges stand higher than what is left for the next cut",
            of_step(pass),
            mm(pass.feed_per_rev, 2),
            mm(nose, 2)
        )
    })
}

/// A speed that no edge stands.
fn speed(bench: &Bench<'_>, tool: &Tool, pass: &Pass) -> Option<Sentence> {
    let metals = super::metals(bench.job, bench.sleeve);
    let light = metals.iter().find(|m| m.name == pass.material)?.expansion_per_k > LIGHT_PER_K;
    let most = if light { FASTEST[1] } else { FASTEST[0] };
    let turning = tool.turning_mm(pass.diameter);
    // A speed that the spindle forces has a finding of its own.
    let own = tool.cuts.iter().find(|c| c.material == pass.material)?.speed_m_per_min;
    if let Some((heavy, light)) = exchanged(&metals, tool) {
        return Some(say!(
            "{} is told to run at {:.0} m/min in {} and at {:.0} in {}: are the two exchanged?",
            tool.name,
            heavy.speed_m_per_min,
            heavy.material,
            light.speed_m_per_min,
            light.material
        ));
    }
    let speed = speed_m_per_min(turning, pass.rpm).min(own);
    (speed > most + SAME).then(|| {
        say!(
            "{}: {} at {speed:.0} m/min, at most {most:.0}: the edge burns in the first bore",
            of_step(pass),
            pass.material
        )
    })
}

/// The tool's two cuts of which the one in light metal is slower than the one in iron or steel, as if exchanged;
/// `None` where none is.
fn exchanged<'t>(metals: &[&Material], tool: &'t Tool) -> Option<(&'t Cut, &'t Cut)> {
    let is_light = |cut: &Cut| {
        let own = metals.iter().find(|m| m.name == cut.material).map(|m| m.expansion_per_k);
        let known = || material::built_in(&cut.material).map(|m| m.expansion_per_k);
        own.or_else(known).map(|expands| expands > LIGHT_PER_K)
    };
    let of = |light: bool| tool.cuts.iter().filter(move |cut| is_light(cut) == Some(light));
    let by_speed = |a: &&Cut, b: &&Cut| a.speed_m_per_min.total_cmp(&b.speed_m_per_min);
    let (heavy, light) = (of(false).max_by(by_speed)?, of(true).min_by(by_speed)?);
    (light.speed_m_per_min < heavy.speed_m_per_min - SAME).then_some((heavy, light))
}
