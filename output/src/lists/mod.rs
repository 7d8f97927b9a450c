//! Coordinate lists: the same rows as address words for a control and as a table for eyes and spreadsheets.
//!
//! In: the moves of one bank and stage. Out: the text of its list, and of the table beside it.
//! A move becomes a row with its figures rounded once (`rows.rs`); words and table are written from the same rows. User
//! text goes through `comment.rs` and can become no word of a control.

mod comment;
mod rows;
mod table;
mod words;

pub(crate) use rows::Rows;
pub(crate) use table::table;
pub(crate) use words::words;
