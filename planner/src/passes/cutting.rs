//! A tool for a pass, and its speed and feed.

use std::f64::consts::PI;

use crate::job::{Job, Tool, ToolKind};

/// What a pass is cut with.
#[derive(Debug, Clone, PartialEq)]
pub struct Cutting {
    /// The tool's name.
    pub tool: String,
    /// Spindle speed, 1/min.
    pub rpm: f64,
    /// Feed, mm per revolution.
    pub feed_per_rev_mm: f64,
    /// Feed, mm/min.
    pub feed_mm_per_min: f64,
    /// Most radial depth, mm.
    pub depth_mm: f64,
    /// The metal that sets speed, feed and depth: the one cut slowest.
    pub material: String,
}

/// What a pass is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Purpose {
    /// Metal off.
    Rough,
    /// Size and surface.
    Finish,
}

/// Why no tool of the machine file does it.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NoTool {
    /// In words.
    pub(super) why: String,
}

/// A boring tool for a diameter and a depth in some metals, with n = 1000 v / (pi D) within the spindle's
/// range and the feed within the machine's.
///
/// Where a pass cuts two metals at once, the slower speed, smaller feed and smaller depth count.
///
/// Of several tools that will do, roughing takes the first of the machine file, finishing the one with the
/// finest feed.
pub(super) fn choose(
    job: &Job,
    diameter_mm: f64,
    reach_mm: f64,
    materials: &[&str],
    purpose: Purpose,
) -> Result<Cutting, NoTool> {
    let named = || materials.join(" and ");
    let no = |why: String| NoTool { why };
    let bores: Vec<&Tool> = job.machine.tools.iter().filter(|t| t.kind == ToolKind::Boring).collect();
    let fits = |t: &&Tool| t.diameter_mm[0] <= diameter_mm && diameter_mm <= t.diameter_mm[1];
    let of_size: Vec<&Tool> = bores.into_iter().filter(fits).collect();
    if of_size.is_empty() {
        return Err(no(format!("no boring tool for {diameter_mm:.2} mm")));
    }
    let cuts = |t: &Tool| materials.iter().all(|m| t.cuts.iter().any(|c| c.material == *m));
    let of_metal: Vec<&Tool> = of_size.into_iter().filter(|t| cuts(t)).collect();
    if of_metal.is_empty() {
        return Err(no(format!("no boring tool for {diameter_mm:.2} mm with cuts in {}", named())));
    }
    let finest = |t: &&&Tool| {
        let of_cut = t.cuts.iter().filter(|c| materials.contains(&c.material.as_str()));
        of_cut.map(|c| c.feed_mm).fold(f64::INFINITY, f64::min)
    };
    let mut reaching = of_metal.iter().filter(|t| t.reach_mm >= reach_mm);
    let chosen = match purpose {
        Purpose::Rough => reaching.next(),
        Purpose::Finish => reaching.min_by(|a, b| finest(a).total_cmp(&finest(b))),
    };
    let Some(tool) = chosen else {
        let longest = of_metal.iter().map(|t| t.reach_mm).fold(0.0, f64::max);
        return Err(no(format!(
            "no boring tool for {diameter_mm:.2} mm reaches {reach_mm:.1} mm: the longest has {longest:.1} mm"
        )));
    };
    let data = materials.iter().filter_map(|m| tool.cuts.iter().find(|c| c.material == *m));
    let Some(slowest) = data.clone().min_by(|a, b| a.speed_m_per_min.total_cmp(&b.speed_m_per_min)) else {
        return Err(no("no metal to cut".into()));
    };
    let feed_per_rev_mm = data.clone().map(|c| c.feed_mm).fold(f64::INFINITY, f64::min);
    let depth_mm = data.map(|c| c.depth_mm).fold(f64::INFINITY, f64::min);
    let wanted = 1000.0 * slowest.speed_m_per_min / (PI * diameter_mm);
    let rpm = wanted.clamp(job.machine.rpm[0], job.machine.rpm[1]).round();
    let feed_mm_per_min = (rpm * feed_per_rev_mm).min(job.machine.feed_mm_per_min);
    Ok(Cutting {
        tool: tool.name.clone(),
        rpm,
        feed_per_rev_mm: feed_mm_per_min / rpm,
        feed_mm_per_min,
        depth_mm,
        material: slowest.material.clone(),
    })
}
