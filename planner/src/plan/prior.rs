//! Prior knowledge of a block from those of its family that were filed before: `prior` in the plan.
//!
//! Nothing here enters a limit or the choice of a sleeve. What is odd becomes a finding at hold; it never improves
//! a verdict.

use serde::{Deserialize, Serialize};

use super::rounding::plan as round;
use super::sentence::Sentence;

/// One figure a block, mm unless said otherwise.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Spread {
    /// How many blocks.
    pub blocks: u32,
    /// Their mean.
    pub mean: f64,
    /// Their standard deviation; `None` from one block.
    pub sd: Option<f64>,
    /// Least and most of them.
    pub found: [f64; 2],
    /// Where the next block lies, 95 %, either side; `None` where they are too few to say.
    pub next: Option<[f64; 2]>,
    /// What the next block is no less than, 95 %; `None` where they are too few to say.
    pub next_least: Option<f64>,
    /// What 95 % of all blocks to come are no less than, with 95 % confidence; `None` where they are too few to say.
    pub most_least: Option<f64>,
}

impl Spread {
    /// The spread with its figures rounded as a plan is written.
    #[must_use]
    pub(crate) fn rounded(&self) -> Self {
        Self {
            blocks: self.blocks,
            mean: round(self.mean),
            sd: self.sd.map(round),
            found: self.found.map(round),
            next: self.next.map(|next| next.map(round)),
            next_least: self.next_least.map(round),
            most_least: self.most_least.map(round),
        }
    }
}

/// One block that was filed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Block {
    /// The record that it was filed in.
    pub record: u32,
    /// When, as the record has it.
    pub at: String,
    /// The job's number.
    pub job: String,
}

/// What the family says of a block, before it is measured and after.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Prior {
    /// The casting family.
    pub family: String,
    /// The blocks that it rests on, oldest first; the job's own is none of them.
    pub blocks: Vec<Block>,
    /// The least number of blocks that anything is told from: of the next one, and of most to come.
    pub least_blocks: [u32; 2],
    /// The candidate sleeves, bored at the true position.
    pub sleeves: Vec<SleevePrior>,
    /// Walls by place, the thinnest to be expected first: the order to read them in.
    pub walls: Vec<WallPrior>,
    /// Where each bore stands against its true position.
    pub bores: Vec<BorePrior>,
    /// Figures of this block that were held against the family's; `None` before it was measured.
    pub held: Option<u32>,
    /// Those of them that the family would hardly have, the farthest off first.
    pub odd: Vec<Odd>,
    /// What the family says of this block, in sentences.
    pub says: Vec<Sentence>,
}

/// What a candidate would leave of the next block.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SleevePrior {
    /// Its name.
    pub sleeve: String,
    /// Radial stock to clean up.
    pub stock: Left,
    /// Parent wall.
    pub wall: Left,
}

/// One thing that a sleeve leaves, over the blocks that were filed with it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Left {
    /// The least of each block; `None` where no block was filed with this sleeve.
    pub spread: Option<Spread>,
    /// What is asked for, mm.
    pub asked: Option<f64>,
    /// What that comes to.
    pub risk: Risk,
}

/// Whether what is left will be enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Risk {
    /// The next block leaves enough, 95 % sure.
    Enough,
    /// It may not.
    AtRisk,
    /// It will more likely leave too little than enough.
    Short,
    /// Too few blocks to say.
    TooFew,
    /// No block with this sleeve, or nothing asked for.
    NotKnown,
}

/// A place where walls are read.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WallPrior {
    /// The cylinder.
    pub cylinder: u32,
    /// The middle of its sector, degrees.
    pub clock: f64,
    /// Its depths, from and to, mm below the deck.
    pub depths: [f64; 2],
    /// The thinnest reading of each block there, from the parent's own bore outwards.
    pub wall: Spread,
    /// The thinnest of this block, mm; `None` where it was not read.
    pub here: Option<f64>,
}

/// Where a bore stands over the blocks.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct BorePrior {
    /// The cylinder.
    pub cylinder: u32,
    /// Its bank's name.
    pub bank: String,
    /// Off the true position along the bank, mm.
    pub along: Spread,
    /// Off the true position across, towards +Y, mm.
    pub across: Spread,
}

/// A figure of a block that its family would hardly have.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Odd {
    /// The cylinder.
    pub cylinder: u32,
    /// What of it: along, across, or a wall by its place.
    pub what: String,
    /// The figure, mm.
    pub found: f64,
    /// Least and most that the family would have, mm.
    pub expected: [f64; 2],
    /// In a sentence.
    pub text: Sentence,
}
