//! Reading: files to values with their places, faults with file, line, column and key.

mod amend;
mod blame;
pub mod bounds;
pub mod desktops;
pub mod elsewhere;
pub mod fault;
pub mod file_name;
pub mod given;
pub mod inch;
pub mod measure;
mod misread;
pub mod name;
pub mod position;
pub mod quantity;
pub mod source;
mod step;
pub mod sum;
pub mod table;
mod tree;
mod typed;
pub mod whereabouts;
pub mod yaml;
mod yaml_bounds;
