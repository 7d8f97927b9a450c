//! The record of what was measured, happened and was decided while the work went on: `readings/cut.csv`, which is
//! only ever added to.

pub mod answer;
pub mod as_cut;
mod begun_for;
mod begun_on;
mod behind;
mod counted;
pub mod cut;
mod damage;
mod doubt;
mod early;
mod elsewhere;
pub mod event;
pub mod finding;
mod grave;
pub mod judge;
mod moved;
mod named;
pub mod noted;
mod of_which;
pub mod over;
pub mod page;
pub mod paper;
mod pins;
mod reading;
mod release;
mod stand;
pub mod standing;
mod strike;
mod then;
pub(crate) mod unlike;
pub mod value;
mod widened;

pub use crate::log::{
    BEGUN, COLUMNS, Entry, FILE, Fields, Kept, Log, NOT_THE_LAST, Whose, Word, kept, kept_in, kept_lines,
    of_others, taken_out, tell_beside, time,
};
pub use begun_for::pocket_words;
pub use begun_on::basis_words;
pub(crate) use behind::is_whole;
pub use damage::tells_of_damage;
pub use elsewhere::elsewhere;
pub use finding::{Reason, WorkFinding};
pub use judge::{Lies, lies};
pub use named::{is_named, lets_through};
pub use of_which::{is_of_some, named_bores};
pub use page::{Filled, page};
pub use paper::Paper;
pub use pins::AS_PLANNED;
pub use reading::Reading;
pub use release::{let_go, named_line, speaks_of_lines};
pub(crate) use release::{released, released_line};
pub use stand::release_words;
pub use standing::{CANDIDATE, Event, Standing, Strike, Told};
pub use strike::wants_a_name;
pub use then::{Written, tell_as_then};
pub use value::{As, Bare, Heard, Hearing, Unheard, hear, unit_said};
