//! The trade: files, survey, limits, positions, sleeve, passes, plan.

mod check;
pub mod decide;
pub mod files;
pub mod fixture;
pub mod job;
pub mod limits;
pub mod material;
pub mod moves;
pub mod passes;
pub mod plan;
mod planning;
pub mod pocket;
pub mod prove;
mod reach;
pub mod read;
pub mod rounding;
pub mod rounds;
pub mod sleeve;
pub mod survey;
mod trace;
mod travel;
mod verdict;
pub mod words;

pub use check::load;
pub use planning::{PlanError, Planning, plan as plan_job};
pub use verdict::{FACTOR, judge_margin};
