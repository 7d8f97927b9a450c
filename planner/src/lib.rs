//! The trade: files, survey, limits, positions, sleeve, passes, plan.

pub mod as_left;
mod check;
pub mod checks;
pub mod choose;
pub mod explain;
pub mod family;
pub mod files;
pub mod job;
pub mod limits;
pub mod log;
mod machine;
pub mod material;
pub mod passes;
pub mod place;
pub mod plan;
mod planning;
pub mod prove;
pub mod read;
pub mod record;
pub mod report;
pub mod shop;
pub mod sleeve;
pub mod start;
pub mod survey;
mod trace;
pub mod verify;

pub use check::{
    JobFiles, Named, files_of as job_files, load, load_kept, named as job_named, units as job_units,
};
pub use plan::judge::{FACTOR, judge_margin};
pub use plan::touch::TOUCH_DEPTH_MM;
pub use planning::{Planning, Seen, basis, plan as plan_job, plan_with as plan_job_with};
pub use survey::PlanError;
