//! A tool for a pass, and its speed and feed.

use super::kinematics::turns_per_min;
use crate::job::{Job, Tool, ToolKind};
use crate::plan::Binds;
use crate::plan::sentence::{Sentence, mm};
use crate::say;

/// Room between a bar and the bore it turns in, mm: chips must get out. Common practice, no source.
const BAR_ROOM_MM: f64 = 1.5;

/// Reach over diameter up to which a steel bar cuts as its data say, and beyond which it does not finish: from one
/// to the other depth and feed are halved. Common practice, no source.
const SLENDER_STEEL: [f64; 2] = [4.0, 6.0];
/// Reach over diameter up to which a heavy-metal bar cuts as its data say, and beyond which it does not finish.
/// Common practice, no source.
const SLENDER_HEAVY: [f64; 2] = [6.0, 9.0];
/// Reach over diameter beyond which a bar chatters in roughing too, of steel and of heavy metal: no key tells one that is damped.
/// Common practice, no source.
const CHATTERS: [f64; 2] = [8.0, 12.0];
/// The least feed that a list can tell, mm/min.
pub(super) const LEAST_FEED_MM: f64 = 0.1;

/// Compared within this, mm.
const SAME_MM: f64 = 1e-9;

/// A bar stiffer than this by its modulus is heavy metal, MPa.
const HEAVY_MPA: f64 = 300_000.0;

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
    /// What sets speed and feed.
    pub binds: Binds,
    /// What sets the speed alone.
    pub(super) turns_bind: Binds,
    /// Speed of the tool's data, m/min.
    pub(super) speed_m_per_min: f64,
    /// Feed a turn of the tool's data, mm.
    pub(super) data_feed_mm: f64,
    /// How much of its data a slender bar cuts at.
    pub(super) share: f64,
    /// The diameter that the edge turns at, mm.
    pub(super) turning_mm: f64,
    /// Slowest and fastest of the spindle, 1/min.
    pub(super) rpm_range: [f64; 2],
}

/// What a pass is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Purpose {
    /// Metal off.
    Rough,
    /// Size and surface.
    Finish,
}

/// What a tool is wanted for.
#[derive(Debug, Clone, Copy)]
pub(super) struct Wanted<'a> {
    /// Diameter after the pass, mm.
    pub(super) diameter_mm: f64,
    /// From the spindle's nose to the lowest tip, mm.
    pub(super) reach_mm: f64,
    /// Radius that is open round the cut's centre before it, mm: where the bar turns.
    pub(super) open_mm: f64,
    /// The metals that are cut.
    pub(super) materials: &'a [&'a str],
    /// What for.
    pub(super) purpose: Purpose,
    /// Stock a side to be taken in one pass, mm; 0 where it may be shared between passes.
    pub(super) side_mm: f64,
}

/// Why no tool of the machine file can take a pass.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct NoTool {
    /// What is lacking, in words.
    pub(super) why: Sentence,
}

/// The share of its cutting data that a bar of this slenderness cuts at, 1 or 0.5; `None` where it is too slender
/// for the purpose.
fn steady(tool: &Tool, purpose: Purpose) -> Option<f64> {
    let Some(bar) = tool.bar_mm else { return Some(1.0) };
    let heavy = tool.bar_elastic_mpa > HEAVY_MPA;
    let [free, to_finish] = if heavy { SLENDER_HEAVY } else { SLENDER_STEEL };
    let most = if purpose == Purpose::Rough { CHATTERS[usize::from(heavy)] } else { to_finish };
    let ratio = tool.reach_mm / bar;
    match (ratio <= free, ratio <= most) {
        (true, _) => Some(1.0),
        (false, true) => Some(0.5),
        (false, false) => None,
    }
}

/// A boring tool for a diameter and a depth in some metals, with n = 1000 v / (pi D) within the spindle's
/// range and the feed within the machine's.
///
/// Where a pass cuts two metals at once, the slower speed, smaller feed and smaller depth count. A bar needs room
/// in the bore it turns in; a slender one cuts half as deep at half the feed, and a more slender one does not finish.
///
/// Of several tools that will do, roughing takes the first of the machine file, finishing the one with the
/// finest feed among those that take all at once, else among all.
pub(super) fn choose(job: &Job, wanted: &Wanted<'_>) -> Result<Cutting, NoTool> {
    let Wanted { diameter_mm, reach_mm, open_mm, materials, purpose, side_mm } = *wanted;
    let named = || materials.join(" and ");
    let no = |why: Sentence| NoTool { why };
    let bores = job.machine.tools.iter().filter(|t| t.kind == ToolKind::Boring);
    let fits = |t: &&Tool| t.diameter_mm[0] <= diameter_mm && diameter_mm <= t.diameter_mm[1];
    let of_size: Vec<&Tool> = bores.filter(fits).collect();
    if of_size.is_empty() {
        return Err(no(say!("no boring tool for {}", mm(diameter_mm, 2))));
    }
    let cuts = |t: &Tool| materials.iter().all(|m| t.cuts.iter().any(|c| c.material == *m));
    let of_metal: Vec<&Tool> = of_size.into_iter().filter(|t| cuts(t)).collect();
    if of_metal.is_empty() {
        return Err(no(say!("no boring tool for {} with cuts in {}", mm(diameter_mm, 2), named())));
    }
    let reaching: Vec<&Tool> = of_metal.iter().copied().filter(|t| t.reach_mm >= reach_mm).collect();
    if reaching.is_empty() {
        let longest = of_metal.iter().map(|t| t.reach_mm).fold(0.0, f64::max);
        return Err(no(say!(
            "no boring tool for {} reaches {}: the longest has {}",
            mm(diameter_mm, 2),
            mm(reach_mm, 1),
            mm(longest, 1)
        )));
    }
    let clear = |t: &Tool| t.bar_mm.is_none_or(|bar| bar / 2.0 + BAR_ROOM_MM <= open_mm);
    let turning: Vec<&Tool> = reaching.iter().copied().filter(|t| clear(t)).collect();
    if turning.is_empty() {
        let thinnest = reaching.iter().filter_map(|t| t.bar_mm).fold(f64::INFINITY, f64::min);
        return Err(no(say!(
            "the bar would rub: {} are open round the cut, the thinnest bar that reaches is {}",
            mm(2.0 * open_mm, 1),
            mm(thinnest, 1)
        )));
    }
    let steady_ones = turning.iter().filter_map(|t| Some((*t, steady(t, purpose)?)));
    let finest = |t: &Tool| {
        let of_cut = t.cuts.iter().filter(|c| materials.contains(&c.material.as_str()));
        of_cut.map(|c| c.feed_mm).fold(f64::INFINITY, f64::min)
    };
    let takes = |t: &Tool, share: f64| {
        let of_cut = t.cuts.iter().filter(|c| materials.contains(&c.material.as_str()));
        share * of_cut.map(|c| c.depth_mm).fold(f64::INFINITY, f64::min) >= side_mm - SAME_MM
    };
    let chosen = match purpose {
        Purpose::Rough => steady_ones.clone().next(),
        Purpose::Finish => steady_ones.clone().min_by(|a, b| {
            let short = [a, b].map(|(tool, share)| !takes(tool, *share));
            short[0].cmp(&short[1]).then(finest(a.0).total_cmp(&finest(b.0)))
        }),
    };
    let Some((tool, share)) = chosen else {
        let ratios = turning.iter().filter_map(|t| t.bar_mm.map(|bar| t.reach_mm / bar));
        let rough = purpose == Purpose::Rough;
        let [steel, heavy] = if rough { CHATTERS } else { [SLENDER_STEEL[1], SLENDER_HEAVY[1]] };
        return Err(no(say!(
            "too slender to {} {}: reach over bar is {:.1}, at most {:.0} in steel, {:.0} in heavy metal",
            if rough { "rough" } else { "finish" },
            mm(diameter_mm, 2),
            ratios.fold(f64::INFINITY, f64::min),
            steel,
            heavy
        )));
    };
    let data = materials.iter().filter_map(|m| tool.cuts.iter().find(|c| c.material == *m));
    let Some(slowest) = data.clone().min_by(|a, b| a.speed_m_per_min.total_cmp(&b.speed_m_per_min)) else {
        return Err(no("no metal to cut".into()));
    };
    let feed_per_rev_mm = share * data.clone().map(|c| c.feed_mm).fold(f64::INFINITY, f64::min);
    let depth_mm = share * data.map(|c| c.depth_mm).fold(f64::INFINITY, f64::min);
    let turns = turns(job, slowest.speed_m_per_min, diameter_mm);
    let wanted_feed = turns.rpm * feed_per_rev_mm;
    let feed_mm_per_min = wanted_feed.min(job.machine.feed_mm_per_min);
    if feed_mm_per_min < LEAST_FEED_MM {
        return Err(no(say!(
            "a feed of {feed_mm_per_min:.3} mm/min at {} is too small to be told",
            mm(diameter_mm, 2)
        )));
    }
    let binds = match (feed_mm_per_min < wanted_feed, share < 1.0, turns.binds) {
        (true, _, _) => Binds::MachineFeed,
        (false, true, Binds::CuttingSpeed) => Binds::SlenderBar,
        (false, _, binds) => binds,
    };
    Ok(Cutting {
        tool: tool.name.clone(),
        rpm: turns.rpm,
        feed_per_rev_mm: feed_mm_per_min / turns.rpm,
        feed_mm_per_min,
        depth_mm,
        material: slowest.material.clone(),
        binds,
        turns_bind: turns.binds,
        speed_m_per_min: slowest.speed_m_per_min,
        data_feed_mm: feed_per_rev_mm / share,
        share,
        turning_mm: diameter_mm,
        rpm_range: job.machine.rpm,
    })
}

/// A spindle speed and what sets it.
pub(super) struct Turns {
    pub(super) rpm: f64,
    pub(super) binds: Binds,
}

/// n = 1000 v / (pi D) within the spindle's range, whole.
pub(super) fn turns(job: &Job, speed_m_per_min: f64, diameter_mm: f64) -> Turns {
    let wanted = turns_per_min(speed_m_per_min, diameter_mm);
    let [least, most] = job.machine.rpm;
    let binds = if wanted > most {
        Binds::SpindleFastest
    } else if wanted < least {
        Binds::SpindleSlowest
    } else {
        Binds::CuttingSpeed
    };
    Turns { rpm: whole_within(wanted, [least, most]), binds }
}

/// The nearest whole number of turns within a range; the range's own end where it holds no whole one.
pub(super) fn whole_within(wanted: f64, [least, most]: [f64; 2]) -> f64 {
    let turns = wanted.clamp(least, most).round();
    if turns > most {
        most.floor().max(least)
    } else if turns < least {
        least.ceil().min(most)
    } else {
        turns
    }
}
