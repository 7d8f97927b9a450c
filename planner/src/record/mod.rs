//! What was measured, happened and was said while the work went on: `readings/cut.csv`, which is only ever added to.

pub mod answer;
pub mod judge;
pub mod line;
pub mod log;
pub mod paper;
pub mod standing;
pub mod time;
pub mod value;

pub use judge::{Lies, lies};
pub use line::{COLUMNS, Fields, Word};
pub use log::{Entry, Kept, Log, Told};
pub use paper::Paper;
pub use standing::{Event, Reading, Standing, Strike};
pub use value::{As, Heard, hear};

/// Where a job keeps its record, under its folder.
pub const FILE: &str = "readings/cut.csv";
