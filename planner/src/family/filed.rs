//! A block as it was filed.

use std::collections::BTreeMap;

use super::figures::Figures;
use crate::plan::prior::Block;
use crate::read::name::{alike, folded};

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
    /// Whether it was filed of a job by its number, customer and block's name, however these are written. Numbers are a
    /// shop's own, and two customers' jobs may have one.
    #[must_use]
    pub fn is_of(&self, number: &str, customer: &str, block: &str) -> bool {
        let own = [(&*self.block.job, number), (&*self.customer, customer), (&*self.figures.block, block)];
        own.into_iter().all(|(a, b)| alike(a, b))
    }

    /// Whether another filing is of the same block: of the same job, or of the same number with everything read as
    /// here to the last digit, where the customer's or the block's name was put right meanwhile.
    fn is_the_same_block(&self, other: &Self) -> bool {
        let (a, b) = (&self.figures, &other.figures);
        let reads_alike = || a.bores == b.bores && a.walls == b.walls && a.heights == b.heights;
        other.is_of(&self.block.job, &self.customer, &a.block)
            || (alike(&self.block.job, &other.block.job) && !a.bores.is_empty() && reads_alike())
    }
}

/// Filings of one block each, oldest first: of three, the first may be known to be of the last by the second alone.
#[must_use]
pub fn by_block(filed: &[Filed]) -> Vec<Vec<&Filed>> {
    let mut in_order: Vec<&Filed> = filed.iter().collect();
    in_order.sort_by_key(|one| one.block.record);
    // Numbers apart: of one there are few.
    let mut by_number: BTreeMap<String, Vec<Vec<&Filed>>> = BTreeMap::new();
    for one in in_order {
        let blocks = by_number.entry(folded(&one.block.job)).or_default();
        let is_of = |block: &mut Vec<&Filed>| block.iter().any(|other| other.is_the_same_block(one));
        let mut own: Vec<&Filed> = blocks.extract_if(.., is_of).flatten().collect();
        own.push(one);
        own.sort_by_key(|one| one.block.record);
        blocks.push(own);
    }
    by_number.into_values().flatten().collect()
}
