//! Coordinate lists: the same rows as address words for a control and as a table for eyes and spreadsheets.

mod comment;
mod rows;
mod table;
mod words;

pub(crate) use rows::Rows;
pub(crate) use table::table;
pub(crate) use words::words;
