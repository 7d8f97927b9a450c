//! A family's trend, worked out of its blocks.

use borewright_geometry::sample::mean;

use std::collections::BTreeMap;

use super::figures::Figures;
use super::filed::{Filed, by_block};
use super::intervals::{least_for_prediction, least_for_tolerance};
use super::results::{Hours, SizeNext, SleeveNext, Trend};
use super::spread::Spread;
use super::{stand, walls, words};

/// The trend of some blocks: each once, its last figures.
#[must_use]
pub fn trend(family: &str, filed: &[Filed]) -> Trend {
    let blocks = each_once(filed);
    let figures: Vec<&Figures> = blocks.iter().map(|one| &one.figures).collect();
    let mut trend = Trend {
        format: "borewright/trend/1",
        family: family.to_owned(),
        units: "mm",
        blocks: blocks.iter().map(|one| one.block.clone()).collect(),
        least_blocks: [least_for_prediction(), least_for_tolerance()],
        banks: stand::banks(&figures),
        walls: walls::cells(&figures),
        least_wall: least_wall(&figures),
        heights: heights(&figures),
        sleeves: sleeves(&figures),
        hours: hours(&figures),
        sizes: sizes(&figures),
        says: Vec::new(),
    };
    trend.says = words::says(&trend);
    trend
}

/// The last filing of each block, oldest first.
fn each_once(filed: &[Filed]) -> Vec<&Filed> {
    let mut blocks: Vec<&Filed> =
        by_block(filed).into_iter().filter_map(|block| block.last().copied()).collect();
    blocks.sort_by_key(|one| one.block.record);
    blocks
}

fn least_wall(blocks: &[&Figures]) -> Option<Spread> {
    let least = |b: &&Figures| b.walls.iter().map(|w| w.wall).min_by(f64::total_cmp);
    Spread::of(&blocks.iter().filter_map(least).collect::<Vec<f64>>())
}

fn heights(blocks: &[&Figures]) -> Vec<(u32, Spread)> {
    let mut by_cylinder: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
    for block in blocks {
        let mut own: BTreeMap<u32, Vec<f64>> = BTreeMap::new();
        for (cylinder, _, height) in &block.heights {
            own.entry(*cylinder).or_default().push(*height);
        }
        for (cylinder, heights) in own {
            by_cylinder.entry(cylinder).or_default().extend(mean(&heights));
        }
    }
    by_cylinder
        .into_iter()
        .filter_map(|(cylinder, heights)| Some((cylinder, Spread::of(&heights)?)))
        .collect()
}

fn sleeves(blocks: &[&Figures]) -> Vec<SleeveNext> {
    let mut names: Vec<&str> = Vec::new();
    for sleeve in blocks.iter().flat_map(|b| &b.sleeves) {
        if !names.contains(&sleeve.sleeve.as_str()) {
            names.push(&sleeve.sleeve);
        }
    }
    let next = |name: &str| {
        let all: Vec<_> = blocks.iter().flat_map(|b| &b.sleeves).filter(|s| s.sleeve == name).collect();
        let stock: Vec<f64> = all.iter().filter_map(|s| s.stock.map(|(left, _)| left)).collect();
        let wall: Vec<f64> = all.iter().filter_map(|s| s.wall.map(|(left, ..)| left)).collect();
        let limits = all.last().map_or([None, None], |s| s.limits);
        SleeveNext { sleeve: name.to_owned(), stock: Spread::of(&stock), wall: Spread::of(&wall), limits }
    };
    names.into_iter().map(next).collect()
}

fn hours(blocks: &[&Figures]) -> Option<Hours> {
    let asked: Vec<f64> = blocks.iter().filter_map(|b| b.hours_asked).collect();
    let share = |b: &&Figures| {
        let asked = b.hours_asked.filter(|h| *h > 0.0)?;
        Some(b.hours_recorded? / asked)
    };
    let shares: Vec<f64> = blocks.iter().filter_map(share).collect();
    Some(Hours { asked: Spread::of(&asked)?, recorded_over_asked: Spread::of(&shares) })
}

fn sizes(blocks: &[&Figures]) -> Vec<SizeNext> {
    let mut kinds: BTreeMap<(&str, &str), Vec<f64>> = BTreeMap::new();
    for block in blocks {
        let mut own: BTreeMap<(&str, &str), Vec<f64>> = BTreeMap::new();
        for size in &block.sizes {
            own.entry((&size.feature, &size.of)).or_default().push(size.found - size.asked);
        }
        for (kind, over) in own {
            kinds.entry(kind).or_default().extend(mean(&over));
        }
    }
    let next = |((feature, of), over): ((&str, &str), Vec<f64>)| {
        Some(SizeNext { feature: feature.to_owned(), of: of.to_owned(), over: Spread::of(&over)? })
    };
    kinds.into_iter().filter_map(next).collect()
}
