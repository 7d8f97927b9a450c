//! Figures of a plan as they are written: rounded once, when it is put together. Each field is named, so that none that is new
//! passes unrounded.

use borewright_geometry::clock::clock_deg;

use super::rounding::{plan as round, probability, significant, slope};
use super::{
    AsBored, BankPattern, CutLoad, JournalAxis, LimitResult, MainOffset, Mill, Offset, Pass, Shell, Stock,
    Turn, Xy, Xyz,
};

pub(crate) fn offset([dx, dy]: [f64; 2]) -> Offset {
    let distance = dx.hypot(dy);
    let clock = if distance > 0.0 { clock_deg([dx, dy]) } else { 0.0 };
    Offset { x: round(dx), y: round(dy), distance: round(distance), clock: round(clock) }
}

pub(crate) fn limit(l: &LimitResult) -> LimitResult {
    LimitResult {
        limit: l.limit,
        feature: l.feature.clone(),
        depth: l.depth.map(round),
        clock: l.clock.map(round),
        margin: round(l.margin),
        u: round(l.u),
        p: probability(l.p),
        least: round(l.least),
        verdict: l.verdict,
        prefer: l.prefer.map(round),
        told_only: l.told_only,
    }
}

pub(crate) fn axis(axis: &JournalAxis) -> JournalAxis {
    JournalAxis {
        set_up: axis.set_up.clone(),
        mains: axis
            .mains
            .iter()
            .map(|m| MainOffset {
                main: m.main.clone(),
                y: round(m.y),
                z: round(m.z),
                diameter: m.diameter.map(round),
                roundness: m.roundness.map(round),
            })
            .collect(),
        straightness: round(axis.straightness),
        largest_step: round(axis.largest_step),
        squareness: Xy { x: round(axis.squareness.x), y: round(axis.squareness.y) },
        deck_height: axis.deck_height.map(round),
    }
}

pub(crate) fn as_bored(a: &AsBored) -> AsBored {
    AsBored {
        shift: Xyz { x: round(a.shift.x), y: round(a.shift.y), z: round(a.shift.z) },
        turn: Turn { roll: slope(a.turn.roll), pitch: slope(a.turn.pitch), yaw: slope(a.turn.yaw) },
        residual_rms: round(a.residual_rms),
        f: a.f.map(significant),
        p: a.p.map(significant),
        undetermined: a.undetermined.clone(),
        pattern: a.pattern,
    }
}

pub(crate) fn bank(b: &BankPattern) -> BankPattern {
    BankPattern {
        bank: b.bank.clone(),
        // As the block has it.
        angle: b.angle,
        shift: Xy { x: round(b.shift.x), y: round(b.shift.y) },
        rotation: slope(b.rotation),
        residual_rms: round(b.residual_rms),
    }
}

/// The pass with every figure rounded as a plan is written.
pub(crate) fn pass(p: Pass) -> Pass {
    Pass {
        step: p.step,
        stage: p.stage,
        bank: p.bank,
        cylinder: p.cylinder,
        feature: p.feature,
        kind: p.kind,
        tool: p.tool,
        x: round(p.x),
        y: round(p.y),
        diameter: round(p.diameter),
        from: round(p.from),
        to: round(p.to),
        stock: Stock { min: round(p.stock.min), max: round(p.stock.max) },
        in_cut: round(p.in_cut),
        material: p.material,
        rpm: round(p.rpm),
        feed_per_rev: round(p.feed_per_rev),
        feed: round(p.feed),
        minutes: round(p.minutes),
        flat_end: p.flat_end,
        shell: p.shell.map(|s| Shell {
            least: round(s.least),
            most: round(s.most),
            thickest_at: round(s.thickest_at),
            arc: round(s.arc),
        }),
        mill: p.mill.map(|m| Mill {
            cutter: round(m.cutter),
            path_radius: round(m.path_radius),
            start: round(m.start),
            step_down: round(m.step_down),
            turns: m.turns,
            to_size: m.to_size,
        }),
        load: p.load.map(|l| CutLoad {
            force: round(l.force),
            power: round(l.power),
            deflection: round(l.deflection),
            copied: round(l.copied),
            peak_to_valley: l.peak_to_valley.map(round),
            tip_above_axis: round(l.tip_above_axis),
            nose_above_deck: round(l.nose_above_deck),
            binds: l.binds,
        }),
        ledge: p.ledge,
        touch: p.touch,
        binds: p.binds,
        stop_number: p.stop_number,
        stop: p.stop,
        worked: p.worked,
    }
}
