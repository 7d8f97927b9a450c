//! From files as written to a job as meant: all faults of all files at once.

mod block;
mod checker;
mod engine;
mod figures;
mod fixture;
mod job;
mod machine;
mod measured;
mod readings;
mod sleeve;
mod stands;

pub use job::{load, load_kept, units};
