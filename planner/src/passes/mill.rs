//! Milled on a helix: parts of a pocket that the machine file says are milled and not bored.

use crate::plan::sentence::mm;
use crate::say;
use borewright_geometry::Helix;

use super::cutting::{Cutting, NoTool, turns};
use super::{Bench, Cut, Cutter, worked};
use crate::job::pocket::Feature;
use crate::job::{Job, Milled, Tool, ToolKind};
use crate::plan::{Binds, Mill, Pass, Stage, Stock};

/// The helix starts this far above what is cut, mm. Common practice, no source.
const ABOVE_MM: f64 = 0.5;

/// Room between a cutter that goes down in the middle and the wall round it, mm. Common practice, no source.
const ROOM_MM: f64 = 1.0;

/// A cutter for a part of a pocket.
#[derive(Debug, Clone)]
pub(super) struct Choice {
    /// Speed and feed at the wall.
    pub(super) cutting: Cutting,
    /// Its diameter.
    pub(super) cutter_mm: f64,
    step_down_mm: f64,
}

/// What one milled pass does.
pub(super) struct Round<'a> {
    pub(super) stage: Stage,
    pub(super) feature: &'a str,
    pub(super) radius_mm: f64,
    pub(super) depths_mm: [f64; 2],
    pub(super) stock: Stock,
    pub(super) material: &'a str,
    pub(super) to_size: bool,
}

/// Whether the machine file says that this part of the pocket is milled.
pub(super) fn is_milled(bench: &Bench<'_>, feature: &Feature) -> bool {
    let part = if feature.is_flange() {
        Milled::Flange
    } else if feature.wet {
        Milled::Wet
    } else {
        Milled::Register
    };
    bench.job.machine.mill.contains(&part)
}

/// The largest cutter that goes down in what is open, reaches, and has data for the metal.
pub(super) fn choose(job: &Job, reach_mm: f64, open_mm: f64, materials: &[&str]) -> Result<Choice, NoTool> {
    // A bar wider than its cutter would cut the wall, or a part above that is to size.
    let free = |t: &&Tool| t.bar_mm.is_none_or(|bar| bar <= t.diameter_mm[0] + 1e-9);
    let mills = job.machine.tools.iter().filter(|t| t.kind == ToolKind::Milling).filter(free);
    let fits = mills.filter(|t| t.reach_mm >= reach_mm && t.diameter_mm[1] / 2.0 + ROOM_MM <= open_mm);
    // Of several metals the slowest speed, the smallest feed, the least stepover.
    let with = fits.filter_map(|t| {
        let cuts: Option<Vec<_>> =
            materials.iter().map(|m| t.cuts.iter().find(|c| c.material == *m)).collect();
        Some((t, cuts?))
    });
    let Some((tool, cuts)) = with.max_by(|a, b| a.0.diameter_mm[1].total_cmp(&b.0.diameter_mm[1])) else {
        return Err(NoTool {
            why: say!(
                "no milling cutter with cuts in {}, its bar no wider than itself, goes down in {} and reaches {}",
                materials.join(" and "),
                mm(2.0 * open_mm, 1),
                mm(reach_mm, 1)
            ),
        });
    };
    let slowest = cuts.iter().min_by(|a, b| a.speed_m_per_min.total_cmp(&b.speed_m_per_min));
    let Some(slowest) = slowest else { return Err(NoTool { why: "no metal to cut".into() }) };
    let least = |get: fn(&crate::job::Cut) -> f64| cuts.iter().map(|c| get(c)).fold(f64::INFINITY, f64::min);
    let (feed_mm, depth_mm) = (least(|c| c.feed_mm), least(|c| c.depth_mm));
    let cutter_mm = tool.diameter_mm[1];
    let turned = turns(job, slowest.speed_m_per_min, cutter_mm);
    let wanted = turned.rpm * feed_mm;
    let feed = wanted.min(job.machine.feed_mm_per_min);
    Ok(Choice {
        cutting: Cutting {
            tool: tool.name.clone(),
            rpm: turned.rpm,
            feed_per_rev_mm: feed / turned.rpm,
            feed_mm_per_min: feed,
            depth_mm,
            material: slowest.material.clone(),
            binds: if feed < wanted { Binds::MachineFeed } else { turned.binds },
            turns_bind: turned.binds,
            speed_m_per_min: slowest.speed_m_per_min,
            data_feed_mm: feed_mm,
            share: 1.0,
            turning_mm: cutter_mm,
            rpm_range: job.machine.rpm,
        },
        cutter_mm,
        step_down_mm: tool.step_down_mm,
    })
}

/// Radii after each round from what is open to the end, no wider apart than the cutter's stepover, evenly shared;
/// `None` where that takes more rounds than a schedule has.
pub(super) fn radii(open_mm: f64, end_mm: f64, most_mm: f64) -> Option<Vec<f64>> {
    let mut count = 1_u32;
    while (end_mm - open_mm) / f64::from(count) > most_mm + 1e-9 {
        count += 1;
        if count > super::spread::MOST_PASSES {
            return None;
        }
    }
    Some((1..=count).map(|i| open_mm + (end_mm - open_mm) * f64::from(i) / f64::from(count)).collect())
}

/// One round of the cutter on one cylinder.
///
/// The feed told is that of the cutter's middle, so that the edge has its own at the wall: f (R - r) / R.
pub(super) fn pass(
    bench: &Bench<'_>,
    step: u32,
    cut: &Cut<'_>,
    choice: &Choice,
    round: &Round<'_>,
) -> Option<Pass> {
    let path = round.radius_mm - choice.cutter_mm / 2.0;
    let [from, to] = round.depths_mm;
    let start = from - ABOVE_MM;
    let helix = Helix {
        grid_mm: bench.job.machine.list_units.step_mm(),
        middle_mm: [0.0, 0.0],
        path_radius_mm: path,
        from_mm: -start,
        to_mm: -to,
        step_down_mm: choice.step_down_mm,
    };
    let turns = helix.turns()?;
    let what = Cutter {
        stage: round.stage,
        feature: round.feature,
        diameter_mm: 2.0 * round.radius_mm,
        depths_mm: round.depths_mm,
        cutting: Some(&choice.cutting),
        material: round.material,
    };
    let mut pass = bench.pass(step, cut, &what);
    pass.feed = choice.cutting.feed_mm_per_min * path / round.radius_mm;
    pass.stock = round.stock;
    pass.worked.retain(|f| f.about != "feed");
    let at_wall = choice.cutting.feed_mm_per_min;
    pass.worked.push(worked::milled_feed(pass.feed, at_wall, [path, round.radius_mm]));
    // A milled round is in metal over a part of each turn of the cutter, and all round the wall.
    pass.minutes = (helix.length_mm() + (start + bench.job.machine.clearance_mm) + 2.0 * path) / pass.feed;
    pass.mill = Some(Mill {
        cutter: choice.cutter_mm,
        path_radius: path,
        start,
        turns,
        step_down: choice.step_down_mm,
        to_size: round.to_size,
    });
    Some(pass)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rounds_are_even_and_no_wider_than_the_stepover() {
        assert_eq!(radii(40.0, 47.0, 3.0).map(|r| r.len()), Some(3));
        assert_eq!(radii(40.0, 46.0, 3.0), Some(vec![43.0, 46.0]));
        assert_eq!(radii(47.35, 47.55, 3.0), Some(vec![47.55]));
        assert_eq!(radii(40.0, 47.0, 0.01), None);
    }
}
