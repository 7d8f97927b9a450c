//! Blocks of one casting family held together: what each was found like, what they have in common, what the next one
//! will be like and how surely that can be said.
//!
//! In: the figures of each block, taken when its job was filed. Out: a trend, and a new block held against it.

mod another;
mod figures;
mod filed;
mod foretold;
pub mod intervals;
mod next;
mod recorded;
mod results;
mod spread;
mod stand;
#[cfg(test)]
mod tests;
mod trend;
mod walls;
mod words;

pub use another::read_as_another;
pub use figures::{BankAt, BoreFound, Figures, SizeRead, SleeveWould, WallRead, figures};
pub use filed::{Filed, by_block};
pub use results::{Block, Hours, SizeNext, SleeveNext, Trend};
pub use spread::Spread;
pub use stand::{BankStand, Cause, Shares};
pub use trend::trend;
pub(crate) use walls::SECTOR_DEG;
pub use walls::WallCell;
