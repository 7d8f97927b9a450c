//! The load of a cut on spindle, bar and machine: force, power, deflection, what it copies, the surface it leaves.

mod kept;
mod milled;

use crate::plan::sentence::mm;
use crate::say;
use std::f64::consts::PI;

use kept::{LoadFigures, Marks, Nose, Stiffness, Tip, Turning};

use super::kinematics::{mark_height_um, speed_m_per_min};
use super::{surface, tool_odd, worked};
use crate::job::{Job, Tool, ToolKind};
use crate::material::Material;
use crate::plan::{Binds, CutLoad, Finding, Pass, Stage, Subject, Verdict};

/// Share of the cutting force that pushes the tip off the wall. Common practice, no source.
const RADIAL: f64 = 0.4;
/// Share of the motor's power that reaches the tip. Common practice, no source.
const EFFICIENCY: f64 = 0.8;
/// Room between the lowest tip and a mandrel in the mains, mm. Common practice, no source.
const MANDREL_ROOM_MM: f64 = 5.0;

/// Fills in the load of a pass; slows it where the spindle lacks the power. `deck_mm` is the deck above the journal
/// axis.
///
/// F = kc a f with kc = kc11 f^-m (Kienzle), P = F v / 60 000 kW, deflection of spindle and bar in series: L³/(3 E I)
/// (Euler and Bernoulli) and the nose's stiffness. A change of stock of 1 mm leaves 0.4 kc f / K of itself.
pub(super) fn load(job: &Job, metals: &[&Material], deck_mm: f64, pass: &mut Pass) -> Option<Finding> {
    let tool = job.machine.tools.iter().find(|t| Some(&t.name) == pass.tool.as_ref())?;
    let metal = metals.iter().find(|m| m.name == pass.material)?;
    if pass.rpm <= 0.0 || pass.feed_per_rev <= 0.0 {
        return None;
    }
    let turning = tool.turning_mm(pass.diameter);
    let stock = pass.stock.max.max(0.0);
    // The force that bends, and the one that the motor feels: of a cutter at its tooth, and over its turn.
    let force = match &pass.mill {
        None => kept::bored(metal.cutting, pass.feed_per_rev, stock),
        Some(mill) => {
            let cut = milled::cut(pass.diameter / 2.0, mill.cutter / 2.0, stock);
            let lengths = [stock, mill.step_down, turning];
            kept::milled(metal.cutting, cut, [pass.feed_per_rev, tool.teeth], lengths)
        }
    };
    let power = |rpm: f64| power_kw(force.mean_n, speed_m_per_min(turning, rpm));
    let mut binds = pass.binds.unwrap_or(Binds::CuttingSpeed);
    let mut finding = None;
    if let Some(most) = job.machine.power_kw.filter(|most| power(pass.rpm) > *most) {
        let slower = (pass.rpm * most / power(pass.rpm)).floor();
        binds = Binds::SpindlePower;
        if slower >= job.machine.rpm[0] {
            let (wanted, asked) = (pass.rpm, power(pass.rpm));
            let ratio = slower / pass.rpm;
            pass.rpm = slower;
            pass.feed *= ratio;
            pass.worked.retain(|f| f.about != "speed" && f.about != "feed");
            pass.worked.extend(worked::by_power(slower, wanted, [most, asked], pass.feed));
            pass.minutes /= ratio;
        } else {
            finding = Some(Finding {
                code: "power",
                verdict: Verdict::Hold,
                subject: Subject::bank(&pass.bank),
                text: say!(
                    "step {}: {:.1} kW wanted at the slowest speed, the spindle has {most:.1}",
                    pass.step,
                    power(job.machine.rpm[0])
                ),
            });
        }
    }
    let stiffness = stiffness(job, tool);
    // At the finish bore the deck has been cut, where the job cuts it.
    let off_mm = if pass.stage == Stage::Finish { job.engine.deck.cut_mm } else { 0.0 };
    // Of a bar the force goes with the stock; a cutter's grows more slowly, and this is more than it copies.
    let copies = if stock > 0.0 { RADIAL * force.most_n / stock / stiffness.n_per_mm } else { 0.0 };
    let nose = tool.nose_radius_mm.filter(|_| tool.kind == ToolKind::Boring);
    let load = CutLoad {
        force: force.most_n,
        power: power(pass.rpm),
        deflection: RADIAL * force.most_n / stiffness.n_per_mm,
        copied: copies * (pass.stock.max - pass.stock.min) / 2.0,
        peak_to_valley: nose.map(|nose| mark_height_um(pass.feed_per_rev, nose)),
        binds,
        tip_above_axis: deck_mm - pass.to,
        nose_above_deck: tool.reach_mm - (pass.to - off_mm),
    };
    pass.load = Some(load);
    let figures = LoadFigures {
        force,
        stiffness: &stiffness,
        power_kw: load.power,
        deflection_mm: load.deflection,
        copied_mm: load.copied,
        turning: Turning { on_mm: turning, rpm: pass.rpm },
        has_kw: job.machine.power_kw.unwrap_or(0.0),
        least_stock_mm: pass.stock.min,
        most_stock_mm: stock,
        bends_most_mm: tool_odd::most_bend_mm(pass),
        marks: load.peak_to_valley.zip(nose).map(|(height_um, radius_mm)| Marks {
            height_um,
            most_um: surface::most_um(tool, pass),
            feed_mm: pass.feed_per_rev,
            radius_mm,
        }),
        tip: Tip {
            above_axis_mm: load.tip_above_axis,
            deck_mm,
            depth_mm: pass.to,
            housing_mm: job.block.journal_axis.housing_bore_mm,
        },
        nose: Nose {
            above_deck_mm: load.nose_above_deck,
            reach_mm: tool.reach_mm,
            depth_mm: pass.to,
            off_mm,
        },
    };
    pass.worked.extend(figures.figures());
    finding.or_else(|| mandrel(job, pass))
}

/// Power at the motor of a force at a speed, kW: P = F v / (60 000 eta).
fn power_kw(force_n: f64, speed_m_per_min: f64) -> f64 {
    force_n * speed_m_per_min / 60_000.0 / EFFICIENCY
}

/// The lowest tip against a mandrel that fills the main housings.
fn mandrel(job: &Job, pass: &Pass) -> Option<Finding> {
    let height = pass.load.as_ref()?.tip_above_axis;
    let least = job.block.journal_axis.housing_bore_mm / 2.0 + MANDREL_ROOM_MM;
    (pass.stage != Stage::Deck && height < least).then(|| Finding {
        code: "mandrel",
        verdict: Verdict::Hold,
        subject: Subject::bank(&pass.bank),
        text: say!("step {}: the lowest tip comes {} above the journal axis, at least {} with a mandrel in the mains", pass.step, mm(height, 1), mm(least, 1)),
    })
}

/// Spindle and bar in series.
fn stiffness(job: &Job, tool: &Tool) -> Stiffness {
    // A cutter is its own bar.
    let own = (tool.kind == ToolKind::Milling).then_some(tool.diameter_mm[0]);
    let bar = tool.bar_mm.or(own).map(|bar| [tool.reach_mm, bar, tool.bar_elastic_mpa]);
    Stiffness::of(job.machine.stiffness_n_per_mm, bar)
}

/// Deflection of a round bar at its tip under 1 N across it, mm: L³ / (3 E I), I = pi d⁴ / 64.
fn bending_mm_per_n(length_mm: f64, diameter_mm: f64, elastic_mpa: f64) -> f64 {
    length_mm.powi(3) / (3.0 * elastic_mpa * PI * diameter_mm.powi(4) / 64.0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::material::{self, cutting_force_mpa};

    #[test]
    fn a_bar_bends_as_beam_theory_and_the_trade_have_it() {
        // 1000 N on 100 mm of 25 mm steel of 210 GPa: 0.082 781 4 mm (Euler and Bernoulli).
        assert!((1000.0 * bending_mm_per_n(100.0, 25.0, 210_000.0) - 0.082_781_4).abs() < 1e-6);
        // 60 mm x 220 under 60 N bends 1.6 µm, 50 x 260 5.6 µm (common practice, worked by hand).
        assert!((60.0 * bending_mm_per_n(220.0, 60.0, 206_000.0) - 0.001_6).abs() < 0.000_05);
        assert!((60.0 * bending_mm_per_n(260.0, 50.0, 206_000.0) - 0.005_6).abs() < 0.000_1);
    }

    #[test]
    fn specific_forces_are_those_of_the_published_tables() {
        let iron = material::built_in("grey iron").expect("built in").cutting;
        // Grey iron 200 HB, published by a tool maker: feed and MPa; within 6 %.
        for (feed, mpa) in [(0.1, 2110.0), (0.2, 1800.0), (0.3, 1600.0), (0.4, 1400.0), (0.6, 1330.0)] {
            assert!((cutting_force_mpa(iron, feed) / mpa - 1.0).abs() < 0.06, "{feed}");
        }
        // a 2 mm, f 0.1, v 150 m/min: 2110.9 MPa, 422.2 N, 1.055 kW at the tip (computed from the same constants).
        let kc = cutting_force_mpa(iron, 0.1);
        assert!((kc - 2110.9).abs() < 0.1 && (kc * 0.2 - 422.2).abs() < 0.1);
        assert!((power_kw(kc * 0.2, 150.0) * EFFICIENCY - 1.055).abs() < 1e-3);
        // A tool maker's published example: 3 mm, 0.2 mm, 120 m/min, 3100 MPa, 0.8 of the motor: 4.65 kW.
        assert!((power_kw(3.0 * 0.2 * 3100.0, 120.0) - 4.65).abs() < 1e-9);
    }
}
