//! Reading: files to values with their places, faults with file, line, column and key.

pub mod fault;
pub mod given;
pub mod measure;
pub mod quantity;
pub mod source;
pub mod table;
pub mod yaml;
