//! A block as it was filed.

use super::figures::Figures;
use crate::plan::prior::Block;

/// A block's figures, and whose job it was.
#[derive(Debug, Clone, PartialEq)]
pub struct Filed {
    /// The record, and the job's number.
    pub block: Block,
    /// The customer; empty where the job names none. It tells jobs apart and is printed nowhere: what is said of a
    /// family may reach another customer.
    pub customer: String,
    /// What its family is learned from.
    pub figures: Figures,
}

impl Filed {
    /// Whether it was filed of a job by its number, customer and block's name. Numbers are a shop's own, and two
    /// customers' jobs may have one.
    #[must_use]
    pub fn is_of(&self, number: &str, customer: &str, block: &str) -> bool {
        self.block.job == number && self.customer.trim() == customer.trim() && self.figures.block == block
    }

    /// Whether another filing is of the same block: of the same job, or of the same number with everything read as
    /// here to the last digit, where the customer's or the block's name was put right meanwhile.
    pub(super) fn is_the_same_block(&self, other: &Self) -> bool {
        let (a, b) = (&self.figures, &other.figures);
        let reads_alike = || a.bores == b.bores && a.walls == b.walls && a.heights == b.heights;
        other.is_of(&self.block.job, &self.customer, &a.block)
            || (self.block.job == other.block.job && !a.bores.is_empty() && reads_alike())
    }
}
