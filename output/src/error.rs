//! What can keep a plan from being written.

use crate::said::number::NotPrintable;

/// Why a plan could not be written. Nothing here is a verdict: each case is a fault in what was handed over.
#[derive(Debug, thiserror::Error)]
pub enum OutputError {
    /// A number that is not finite or too large to be a length, a speed or a time.
    #[error(transparent)]
    Number(#[from] NotPrintable),
    /// A row that controls would read in different ways.
    #[error("list {list}, row {row}: {why}")]
    Row {
        /// The list's file name.
        list: String,
        /// The row, counted from 1.
        row: usize,
        /// What is wrong with it.
        why: &'static str,
    },
    /// The plan would not go into JSON.
    #[error("plan.json: {0}")]
    Json(#[from] serde_json::Error),
    /// A table would not go into CSV.
    #[error("coordinate table: {0}")]
    Table(#[from] csv::Error),
    /// A font that ships with the program could not be read or cut down.
    #[error("sheet font: {0}")]
    Font(String),
    /// A drawing left the page or held a number that is not finite.
    #[error("sheet drawing: a coordinate is not on any page")]
    Drawing,
    /// The sheet could not be written out.
    #[error("sheet: {0}")]
    Sheet(String),
}
