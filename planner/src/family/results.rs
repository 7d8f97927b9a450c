//! A family's trend as it is told: `borewright/trend/1`.

use serde::Serialize;

use super::spread::Spread;
use super::stand::BankStand;
use super::walls::WallCell;
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
