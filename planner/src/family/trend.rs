//! A family's trend: `borewright/trend/1`.

use borewright_geometry::sample::mean;

use std::collections::BTreeMap;

use serde::Serialize;

use super::figures::Figures;
use super::filed::{Filed, by_block};
use super::intervals::{least_for_prediction, least_for_tolerance};
use super::spread::Spread;
use super::stand::{self, BankStand};
use super::walls::{self, WallCell};
use super::words;
pub use crate::plan::prior::Block;
use crate::plan::sentence::Sentence;

/// A family over its blocks, mm and degrees.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Trend {
    /// `borewright/trend/1`.
    pub format: &'static str,
    /// The family.
    pub family: String,
    /// Always `mm`.
    pub units: &'static str,
    /// The blocks that it rests on, oldest first.
    pub blocks: Vec<Block>,
    /// The least number of blocks that anything is told from: of the next one, and of most to come.
    pub least_blocks: [u32; 2],
    /// Where the maker's bores stand, bank by bank.
    pub banks: Vec<BankStand>,
    /// Walls by place, the thinnest to be expected first.
    pub walls: Vec<WallCell>,
    /// The thinnest wall of each block.
    pub least_wall: Option<Spread>,
    /// Liner heights by cylinder.
    pub heights: Vec<(u32, Spread)>,
    /// What the next block will leave with each sleeve that was a candidate.
    pub sleeves: Vec<SleeveNext>,
    /// Hours asked, and hours recorded beside those asked of the same blocks.
    pub hours: Option<Hours>,
    /// Sizes read less sizes asked, by what they are, a mean a block.
    pub sizes: Vec<SizeNext>,
    /// What all that says, in sentences.
    pub says: Vec<Sentence>,
}

/// A sleeve over the blocks in which it was a candidate, bored at the true position.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SleeveNext {
    /// Its name.
    pub sleeve: String,
    /// Least stock of each block.
    pub stock: Option<Spread>,
    /// Least wall left of each block.
    pub wall: Option<Spread>,
    /// The least stock and the least wall that the last of these jobs asked for, mm.
    pub limits: [Option<f64>; 2],
}

/// Hours of the blocks.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Hours {
    /// Hours that the plans asked for, a figure a block.
    pub asked: Spread,
    /// Of the blocks with a record: from the first to the last line of each day, over what was asked.
    pub recorded_over_asked: Option<Spread>,
}

/// One kind of size.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct SizeNext {
    /// The part of the pocket, or what was done.
    pub feature: String,
    /// What it is of.
    pub of: String,
    /// Read less asked.
    pub over: Spread,
}

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
