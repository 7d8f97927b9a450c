//! The check of a job: from files as written to values as meant, all faults of all files at once. Checks made
//! at the machine, which have numbers, are `checks/` and `plan/check.rs`.

mod banks;
mod block;
mod brief;
mod checker;
mod engine;
mod figures;
mod finish;
mod fits;
mod fixture;
mod gathered;
mod job;
mod load;
mod machine;
mod measured;
mod readings;
mod set_up;
mod shop;
mod sleeve;
mod sleeves;
mod stands;
mod temperature;

pub use brief::{JobFiles, Named, files_of, named, units};
pub use load::{load, load_kept};
