//! What was not read of the walls behind a pocket's dry cuts: without it a limit on them proves nothing.

use std::collections::{BTreeMap, BTreeSet};

use borewright_geometry::clock::clocks_apart_deg;
use borewright_geometry::widest_gap;

use super::{Asked, Lack};
use crate::job::Rotation;
use crate::job::limits::{PARENT_WALL, PARENT_WALL_THRUST};
use crate::job::pocket::Feature;
use crate::plan::sentence::{Sentence, before_mm, mm};
use crate::read::fault::plain;
use crate::say;
use crate::survey::custom::{Custom, in_stead};

/// A wall must be read this near the major thrust side, degrees: places round a bore are 45 apart. Common practice, no source.
const THRUST_READ_DEG: f64 = 30.0;

/// Clocks that leave a wider arc unread say nothing of the wall there, degrees: four readings evenly spaced leave 90,
/// three 120. Common practice, no source.
const MOST_UNREAD_DEG: f64 = 120.0;

/// A wall this near in depth, where the other bores have none, was read in the missing one's stead, mm. Common
/// practice, no source.
const WALL_IN_STEAD_MM: f64 = 10.0;

/// The lack of walls that were not read behind the dry cuts; without a limit, of any wall at all.
pub(super) fn lack(asked: &Asked<'_>) -> Option<Lack> {
    let walls = || asked.job.set_ups.iter().flat_map(|s| &s.walls);
    let dry = |depth: f64| asked.pocket.at(depth).is_some_and(|step| !step.wet);
    let own = || walls().any(|w| w.cylinder == asked.site.cylinder && w.wall_mm.is_some() && dry(w.depth_mm));
    if asked.job.limits.get(PARENT_WALL).is_none()
        && asked.job.limits.get(PARENT_WALL_THRUST).is_none()
        && !own()
    {
        return Some(Lack {
            code: "no_metal_left",
            short: "no wall is known",
            text: "no wall was read behind a cut and no limit on the wall is set: whether any is left is not known. Read walls there"
                .into(),
        });
    }
    unread_words(asked).or_else(|| left_out(asked)).map(|text| Lack {
        code: "wall_not_read",
        short: "walls not read where it is cut",
        text,
    })
}

/// A place that most other bores of the bank were read at, and this one not: the row left out may be the thin one. `nr` counts as
/// looked at.
fn left_out(asked: &Asked<'_>) -> Option<Sentence> {
    let limits = &asked.job.limits;
    if limits.get(PARENT_WALL).is_none() && limits.get(PARENT_WALL_THRUST).is_none() {
        return None;
    }
    let others: Vec<u32> = asked
        .job
        .bank(asked.bank)
        .sites
        .iter()
        .map(|site| site.cylinder)
        .filter(|c| *c != asked.site.cylinder && asked.survey.cylinders.contains_key(c))
        .collect();
    let walls = || asked.job.set_ups.iter().flat_map(|s| &s.walls);
    let (places, own) = (&asked.survey.walls, asked.site.cylinder);
    // A bore read at other clocks, or at half of the others', has a raster of its own and is judged by the widest arc it leaves unread
    // instead; asked once for each depth.
    let mut rasters: BTreeMap<(u32, u64), Raster> = BTreeMap::new();
    let mut raster = |of: u32, depth: f64| {
        *rasters.entry((of, depth.to_bits())).or_insert_with(|| {
            let here = places.clocks_at(own, depth).count();
            Raster {
                same: places.clocks_at(own, depth).all(|clock| places.read_at(of, depth, clock)),
                half: here > 0 && 2 * here <= places.clocks_at(of, depth).count(),
            }
        })
    };
    // A single other bore shows no custom of the bank; half of them do, so that two bores do not bear out each other's gap.
    let mut seen: BTreeSet<(u64, u64)> = BTreeSet::new();
    let dry = |depth: f64| asked.pocket.at(depth).is_some_and(|step| !step.wet);
    let rows = walls().filter(|w| others.contains(&w.cylinder) && dry(w.depth_mm));
    let mut missing = rows.filter_map(|w| {
        let read_at = |cylinder: u32, depth: f64| places.read_at(cylinder, depth, w.clock_deg);
        let read = |depth: f64| others.iter().filter(|other| read_at(**other, depth)).count();
        let customary = |depth: f64| Custom::Half.is_made(read(depth), others.len());
        if read_at(own, w.depth_mm) {
            return None;
        }
        let read = read(w.depth_mm);
        if !Custom::Half.is_made(read, others.len()) {
            return None;
        }
        let every = read == others.len();
        // A wall read a little higher or lower, where no other bore was read, stands in for this one; an `nr` there
        // does not.
        let of = |cylinder: u32| {
            walls().filter(move |near| {
                near.cylinder == cylinder && near.clock_deg.to_bits() == w.clock_deg.to_bits()
            })
        };
        let in_stead = || {
            let figures = of(own).filter(|wall| wall.wall_mm.is_some());
            let own_mm: Vec<f64> = figures.map(|wall| wall.depth_mm).collect();
            let common = of(w.cylinder).filter(|wall| customary(wall.depth_mm)).count();
            in_stead(&own_mm, of(own).count(), common, w.depth_mm, WALL_IN_STEAD_MM, customary)
        };
        let raster = raster(w.cylinder, w.depth_mm);
        let asked_for = raster.same && (every || !raster.half);
        // The same place of the next bore says no more.
        let fresh = asked_for && seen.insert((w.depth_mm.to_bits(), w.clock_deg.to_bits()));
        (fresh && !in_stead()).then_some((w, every))
    });
    let (missing, every) = missing.next()?;
    Some(say!(
        "the wall at clock {:.0}, {} deep, was read on {} of the bank and not here: read it; where it cannot be read, say `nr` and read it beside, within 10 mm along the surface",
        missing.clock_deg,
        mm(missing.depth_mm, 1),
        if every { "every other bore" } else { "most other bores" }
    ))
}

/// A bore's clocks at a depth beside another's.
#[derive(Clone, Copy)]
struct Raster {
    /// The other has all of them.
    same: bool,
    /// They are half of the other's or fewer.
    half: bool,
}

/// What was not read of the walls behind the dry cuts, in words; `None` where enough was read to prove the limit.
fn unread_words(asked: &Asked<'_>) -> Option<Sentence> {
    let limits = &asked.job.limits;
    if limits.get(PARENT_WALL).is_none() && limits.get(PARENT_WALL_THRUST).is_none() {
        return None;
    }
    let dry = |depth: f64| asked.pocket.at(depth).is_some_and(|step| !step.wet);
    let mut clocks: Vec<f64> = asked
        .job
        .set_ups
        .iter()
        .flat_map(|s| &s.walls)
        .filter(|w| w.cylinder == asked.site.cylinder && w.wall_mm.is_some() && dry(w.depth_mm))
        .map(|w| w.clock_deg.rem_euclid(360.0))
        .collect();
    let depths: Vec<Sentence> = asked
        .pocket
        .steps
        .iter()
        .filter(|step| !step.wet)
        .map(|step| say!("{} to {}", before_mm(step.depths.from_mm, 0), mm(step.depths.to_mm, 0)))
        .collect();
    let behind: Sentence = if depths.is_empty() {
        "behind the flange".into()
    } else {
        say!("at depths {}", Sentence::join(depths, " and "))
    };
    if clocks.is_empty() {
        return Some(say!(
            "no wall was read behind any dry cut, so nothing is known of what is left of it: read walls {}, \
             at clocks 0, 90, 180 and 270 or closer",
            behind
        ));
    }
    if let Some(step) = unread_step(asked) {
        return Some(say!(
            "no wall was read behind {}, {} to {} deep: what is left of it is not known from another depth. Read walls there",
            plain(&step.name, 40),
            before_mm(step.depths.from_mm, 0),
            mm(step.depths.to_mm, 0)
        ));
    }
    if let Some(Astray { depth_mm, step, unread_mm: [from, to] }) = astray(asked) {
        return Some(say!(
            "a wall was read {} deep, behind which no metal is cut, and none from {} to {} behind {}. Is {} its true depth? Read walls \
             between {} and {} too",
            mm(depth_mm, 1),
            before_mm(from, 0),
            mm(to, 0),
            plain(&step.name, 40),
            mm(depth_mm, 1),
            before_mm(from, 0),
            mm(to, 0)
        ));
    }
    let gap = widest_gap(&mut clocks);
    if limits.get(PARENT_WALL).is_some() && gap > MOST_UNREAD_DEG + 1e-9 {
        let next = clocks.iter().skip(1).chain(clocks.first());
        let from = clocks.iter().zip(next).map(|(a, b)| (*a, (b - a).rem_euclid(360.0)));
        let from = from.max_by(|a, b| a.1.total_cmp(&b.1)).map_or(0.0, |f| f.0);
        return Some(say!(
            "no wall was read over {:.0} degrees of the circle, from clock {:.0} round to clock {:.0}: read \
             walls {} there, so that no more than {:.0} degrees are left unread",
            gap,
            from,
            (from + gap).rem_euclid(360.0),
            behind,
            MOST_UNREAD_DEG
        ));
    }
    let thrust = asked
        .job
        .block
        .rotation
        .map(Rotation::thrust_clock_deg)
        .filter(|_| limits.get(PARENT_WALL_THRUST).is_some());
    if let Some(side) = thrust
        .filter(|side| !clocks.iter().any(|clock| clocks_apart_deg(*clock, *side) <= THRUST_READ_DEG + 1e-9))
    {
        return Some(say!(
            "no wall was read within {:.0} degrees of the major thrust side, clock {:.0}: read walls {} \
             there; one clock is enough",
            THRUST_READ_DEG,
            side,
            behind
        ));
    }
    None
}

/// A dry part this long needs walls read behind it: those of another part say nothing of it, mm. Common practice,
/// no source.
const LONG_MM: f64 = 30.0;

/// A long dry part of the pocket with no wall read behind it, nor near above or below.
fn unread_step<'a>(asked: &Asked<'a>) -> Option<&'a Feature> {
    let walls = || asked.job.set_ups.iter().flat_map(|s| &s.walls);
    let own = || walls().filter(|w| w.cylinder == asked.site.cylinder && w.wall_mm.is_some());
    asked.pocket.steps.iter().filter(|step| !step.wet).find(|step| {
        let long = step.depths.to_mm - step.depths.from_mm >= LONG_MM;
        let [from, to] = [step.depths.from_mm - WALL_IN_STEAD_MM, step.depths.to_mm + WALL_IN_STEAD_MM];
        long && !own().any(|w| (from..=to).contains(&w.depth_mm))
    })
}

/// Dry metal farther than this from every wall read behind it was read by nobody, mm: where a wall was read beside no dry part, that
/// one's depth is doubted. Common practice, no source.
const FROM_WALL_MM: f64 = 55.0;

/// A wall of a bore that lies behind no dry part, beside a long one of which a stretch was not read.
struct Astray<'a> {
    depth_mm: f64,
    step: &'a Feature,
    /// From where to where nobody read, mm.
    unread_mm: [f64; 2],
}

/// The first such part; `None` where every wall lies behind a dry part, or every part was read closely enough.
fn astray<'a>(asked: &Asked<'a>) -> Option<Astray<'a>> {
    let walls = asked.job.set_ups.iter().flat_map(|s| &s.walls);
    let own = walls.filter(|w| w.cylinder == asked.site.cylinder && w.wall_mm.is_some());
    let mut depths: Vec<f64> = own.map(|w| w.depth_mm).collect();
    depths.sort_by(f64::total_cmp);
    let dry = || asked.pocket.steps.iter().filter(|step| !step.wet);
    let ends =
        |step: &Feature| [step.depths.from_mm - WALL_IN_STEAD_MM, step.depths.to_mm + WALL_IN_STEAD_MM];
    let behind = |step: &Feature, depth: f64| {
        let [from, to] = ends(step);
        (from..=to).contains(&depth)
    };
    let depth_mm = depths.iter().copied().find(|depth| !dry().any(|step| behind(step, *depth)))?;
    dry().filter(|step| step.depths.to_mm - step.depths.from_mm >= LONG_MM).find_map(|step| {
        let [from, to] = [step.depths.from_mm, step.depths.to_mm];
        let read: Vec<f64> = depths.iter().copied().filter(|depth| behind(step, *depth)).collect();
        let between = read.windows(2).map(|pair| ([pair[0], pair[1]], (pair[1] - pair[0]) / 2.0));
        let at_ends = read.first().map(|first| ([from, *first], first - from));
        let at_ends = at_ends.into_iter().chain(read.last().map(|last| ([*last, to], to - last)));
        let (unread_mm, far) = at_ends.chain(between).max_by(|a, b| a.1.total_cmp(&b.1))?;
        (far > FROM_WALL_MM).then_some(Astray { depth_mm, step, unread_mm })
    })
}
