//! The plan as it is written to `plan.json` (`borewright/plan/1`): mm, degrees, N, MPa, kW, minutes.
//!
//! Every number is rounded once, when the plan is put together: lengths to a nanometre (so that equal
//! inputs give equal bytes on every processor), never for deciding.

mod as_bored;
mod by_hand;
mod choice;
mod cylinder;
mod finding;
mod journal_axis;
mod list;
mod list_units;
mod load;
mod measure;
mod pass;
mod stage;
mod stones;
mod stop;
mod subject;
mod verdict;

pub mod check;
pub mod fit;
pub mod judge;
pub mod moves;
pub mod prior;
pub(crate) mod rounded;
pub mod rounding;
pub mod sentence;
pub mod touch;
pub mod why;
pub mod worked;

use serde::Serialize;

pub use as_bored::{AsBored, BankPattern, Pattern, Turn, Xyz};
pub use by_hand::ByHand;
pub use check::Check;
pub use choice::{SleeveChoice, WorstMargin};
pub use cylinder::{Cylinder, LimitResult, Measured, Offset, Xy};
pub use finding::{Finding, Release};
pub use fit::SleeveFit;
pub use journal_axis::{JournalAxis, MainOffset};
pub use list::{Input, List, ListProof, NearLimit, ProofTool, table_file};
pub use list_units::{InchesWord, ListUnits};
pub use load::{Binds, CutLoad};
pub use measure::Measure;
pub use pass::{EDGES, Mill, Pass, PassKind, SLEEVES_FLUSH, Shell, Stock, TouchCut};
pub use prior::Prior;
pub use stage::{Stage, StageTime, Took};
pub use stones::Stones;
pub use stop::Stop;
pub use subject::{Subject, cylinder_words};
pub use verdict::Verdict;
pub use why::Why;

/// What a plan says of itself.
pub const FORMAT: &str = "borewright/plan/1";

/// A plan.
#[derive(Debug, Clone, Serialize)]
pub struct Plan {
    /// `borewright/plan/1`.
    pub format: &'static str,
    /// The job's number.
    pub job: String,
    /// Always `mm`.
    pub units: &'static str,
    /// SHA-256 over inputs and results.
    pub fingerprint: String,
    /// The worst verdict.
    pub verdict: Verdict,
    /// Who released a hold, and why.
    pub release: Option<Release>,
    /// What a reader must know.
    pub findings: Vec<Finding>,
    /// The journal axis in each machine set-up.
    pub journal_axis: Vec<JournalAxis>,
    /// How the bores stand against their true positions.
    pub as_bored: AsBored,
    /// How the bores of each bank stand against their true positions.
    pub banks: Vec<BankPattern>,
    /// Each cylinder's position and limits.
    pub cylinders: Vec<Cylinder>,
    /// The schedule.
    pub passes: Vec<Pass>,
    /// What is measured, numbered in the order of work.
    pub checks: Vec<Check>,
    /// How long it takes, by stage.
    pub times: Vec<StageTime>,
    /// Each candidate sleeve.
    pub sleeves: Vec<SleeveChoice>,
    /// What the block's family says of it, where it was asked; not in the fingerprint.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub prior: Option<Prior>,
    /// The coordinate lists written.
    pub lists: Vec<List>,
    /// The files read.
    pub inputs: Vec<Input>,
    /// Sum of the record's last line that it was planned with: what was recorded once is missed when it is taken away.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub record_sum: Option<String>,
    /// Every other file written with it; filled in by the output side.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    pub files: Vec<Input>,
    /// SHA-256 over the bytes of `plan.json` with noughts in this place; empty until it is written.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub seal: String,
}
