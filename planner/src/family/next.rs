//! A new block of a known family: what to expect before it is measured, and whether it is unlike the others after.

use serde::Serialize;

use super::figures::Figures;
use super::intervals::{least_for_prediction, prediction};
use super::spread::Spread;
use super::trend::{SleeveNext, Trend};
use super::walls::WallCell;

/// A block that is like its family is called odd in no more than one of so many jobs, all its figures together.
const ONE_OF: f64 = 100.0;

/// Most walls that are named to be read first.
const FIRST: usize = 8;

/// What the family says of a block that nobody measured yet.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Prior {
    /// How many blocks say it.
    pub blocks: u32,
    /// Sleeves by what they would leave.
    pub sleeves: Vec<SleeveNext>,
    /// Walls to read first, the thinnest to be expected first.
    pub walls_first: Vec<WallCell>,
    /// The same in sentences.
    pub says: Vec<String>,
}

impl Prior {
    /// What a trend says of the next block.
    #[must_use]
    pub fn of(trend: &Trend) -> Self {
        Self {
            blocks: u32::try_from(trend.blocks.len()).unwrap_or(u32::MAX),
            sleeves: trend.sleeves.clone(),
            walls_first: trend.walls.iter().take(FIRST).cloned().collect(),
            says: trend.says.clone(),
        }
    }
}

/// A figure of a block that its family would hardly have.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Odd {
    /// What of.
    pub subject: String,
    /// The figure, and between what the family would have it, mm.
    pub found: f64,
    /// From and to.
    pub expected: [f64; 2],
    /// In a sentence.
    pub text: String,
}

/// What of a block is unlike its family. Nothing where the family is too few to say.
///
/// Each figure is held against a prediction interval so wide that, of all of them together, one in a hundred blocks of
/// the family itself would be called odd (Bonferroni).
#[must_use]
pub fn odd(trend: &Trend, block: &Figures) -> Vec<Odd> {
    let mut held: Vec<(String, f64, &Spread)> = Vec::new();
    for bank in &trend.banks {
        for (cylinder, along, across) in &bank.bores {
            if let Some(bore) = block.bores.iter().find(|b| b.cylinder == *cylinder && b.bank == bank.bank) {
                held.push((format!("cylinder {cylinder} along"), bore.off[0], along));
                held.push((format!("cylinder {cylinder} across"), bore.off[1], across));
            }
        }
    }
    for cell in &trend.walls {
        let there = block.walls.iter().filter(|w| {
            let turn = (w.clock - cell.clock).rem_euclid(360.0);
            w.cylinder == cell.cylinder
                && turn.min(360.0 - turn) < 22.5
                && (cell.depths[0]..cell.depths[1]).contains(&w.depth)
        });
        if let Some(least) = there.map(|w| w.wall).min_by(f64::total_cmp) {
            let [from, to] = cell.depths;
            let subject = format!(
                "the wall of cylinder {} at clock {:.0}, {from:.0} to {to:.0} deep",
                cell.cylinder, cell.clock
            );
            held.push((subject, least, &cell.wall));
        }
    }
    let tests = u32::try_from(held.len()).map_or(1.0, f64::from).max(1.0);
    let surely = 1.0 - 1.0 / (ONE_OF * tests);
    let mut odd: Vec<(f64, Odd)> =
        held.into_iter().filter_map(|(subject, found, spread)| one(subject, found, spread, surely)).collect();
    odd.sort_by(|a, b| b.0.total_cmp(&a.0));
    odd.into_iter().map(|(_, odd)| odd).collect()
}

fn one(subject: String, found: f64, spread: &Spread, surely: f64) -> Option<(f64, Odd)> {
    let half = prediction(spread.blocks, surely)? * spread.sd?;
    let away = (found - spread.mean).abs();
    if spread.blocks < least_for_prediction() || away <= half {
        return None;
    }
    let expected = [spread.mean - half, spread.mean + half];
    let text = format!(
        "{subject} is {found:.2}; {} blocks of its family would have it between {:.2} and {:.2}: read it again",
        spread.blocks, expected[0], expected[1]
    );
    let far = if half > 0.0 { away / half } else { f64::INFINITY };
    Some((far, Odd { subject, found, expected, text }))
}
