//! From files as written to a job as meant: all faults of all files at once.

mod block;
mod checker;
mod figures;
mod fixture;
mod job;
mod machine;
mod readings;
mod sleeve;

pub use job::load;
